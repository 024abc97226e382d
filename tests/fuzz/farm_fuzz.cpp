// A logbook that says anything at all, as far as it is shown and handed on: the farm, what is due, the record as a
// page and as a table. Nothing that people typed is ever markup in the page or a formula in the table.
#include <algorithm>
#include <set>

#include "assets.h"
#include "core/report/page.h"
#include "farm/farm.h"
#include "farm/rounds.h"
#include "farm/series.h"
#include "fuzz/csv.h"
#include "fuzz/lines.h"
#include "logbook/export.h"
#include "office/board.h"
#include "office/bookings.h"
#include "office/clock_questions.h"
#include "office/conflicts.h"
#include "office/cycles.h"
#include "office/protocol_edit.h"
#include "office/side_by_side.h"
#include "office/stock.h"
#include "office/tomorrow.h"
#include "protocol/check_entry.h"
#include "report/report.h"
#include "words/entry_words.h"

namespace tawny::fuzz {
namespace {

const Protocol& protocol() {
  static const Protocol kProtocol = *Protocol::parse(assets::find("protocol.json"));
  return kProtocol;
}
const std::vector<Product>& products() {
  static const std::vector<Product> kProducts = *parse_products(assets::find("products.json"));
  return kProducts;
}
const Words& words() {
  static const Words kWords = *Words::parse(assets::language("en"));
  return kWords;
}

void expect_harmless(const test::Element& element) {
  static const std::set<std::string, std::less<>> kTags = {
      "",         "html",    "head", "meta",  "title",    "style",      "body",   "main",  "section",
      "header",   "footer",  "h1",   "h2",    "h3",       "h4",         "p",      "table", "thead",
      "tbody",    "tr",      "th",   "td",    "caption",  "colgroup",   "col",    "ul",    "ol",
      "li",       "dl",      "dt",   "dd",    "bdi",      "span",       "strong", "em",    "small",
      "br",       "s",       "div",  "svg",   "g",        "path",       "line",   "rect",  "circle",
      "polyline", "polygon", "text", "tspan", "figure",   "figcaption", "time",   "a",     "b",
      "del",      "ins",     "desc", "defs",  "clipPath", "use",        "nav"};
  expect(kTags.count(element.tag) > 0, "an element that a record has: " + element.tag);
  for (const auto& [name, value] : element.attributes) {
    expect(
        name.substr(0, 2) != "on" && name != "src" && name != "style" && name != "srcset" && name != "action",
        "an attribute that does nothing: " + name);
    if (name == "href" || name == "xlink:href")
      expect(!value.empty() && value.front() == '#', "a link within the page");
  }
  for (const auto& child : element.children) expect_harmless(*child);
}

void try_page(const Logbook& logbook, const Farm& farm, const std::string& pond, Instant now) {
  const ReportAsk ask{pond, "", "en", {}};
  const Result<std::string> page =
      report_html(logbook, farm, ask, protocol(), products(), words(), assets::find("report.css"), now);
  if (!page) return;
  test::PageReader reader(*page);
  const auto root = reader.read();
  expect(root != nullptr, "the record is well-formed: " + reader.fault);
  expect_harmless(*root);
  const Result<std::string> table = report_csv(logbook, farm, ask, protocol(), now);
  expect(table.has_value(), "a record has a table");
  expect_inert(*table);
}

void try_office(const Logbook& logbook, const Farm& farm, Instant now) {
  const Result<Rounds> due = rounds(farm, protocol(), now);
  const Board board = board_of(farm, due ? &*due : nullptr, protocol(), now);
  arrange(board, BoardAsk{});
  read_protocol_changes(logbook, protocol());
  cycle_names(logbook, farm, now);
  cost_of_ponds(read_stock(logbook, farm, now), farm);
}

// At `now=` in the first line, else at the last observation.
Instant now_of(std::string_view text, const Logbook& logbook) {
  if (text.substr(0, 4) == "now=") {
    if (const Result<Instant> now = parse_instant(text.substr(4, 20))) return *now;
  }
  Instant now{1795700000};
  const std::vector<const Entry*> entries = logbook.all();
  if (!entries.empty()) now = entries.back()->observed.plus_min(30);
  return now;
}

void try_farm(std::string_view text) {
  Logbook logbook;
  logbook.load(text);
  const Instant now = now_of(text, logbook);
  const Farm farm = fold_farm(logbook, protocol(), now);
  Words spoken = words();
  spoken.set_clock(farm.place.offset, now);
  for (const Message& problem : farm.problems) spoken(problem);
  for (const Entry* entry : logbook.all()) brief_of(spoken, *entry);
  try_office(logbook, farm, now);
  // The first ponds speak for all: a record takes time.
  for (std::size_t i = 0; i < farm.ponds.size() && i < 2; ++i) {
    const FarmPond& pond = farm.ponds[i];
    series_of(pond, protocol(), farm.place, now);
    try_page(logbook, farm, pond.history.pond.id, now);
  }
  expect_inert(to_csv(logbook));
}

std::string changed_farm(std::string_view text, std::size_t limit, unsigned seed) {
  const std::size_t first_end = text.substr(0, 4) == "now=" ? text.find('\n') : std::string_view::npos;
  const bool has_now = first_end != std::string_view::npos;
  std::string now(has_now ? text.substr(0, first_end + 1) : "");
  Dice dice(seed);
  if (dice.one_in(12)) {
    const Result<Instant> before = parse_instant(now.substr(std::min<std::size_t>(4, now.size()), 20));
    const std::int64_t step = static_cast<std::int64_t>(dice.below(1000)) * (dice.one_in(3) ? 86400 : 977);
    const Instant then = before ? *before : Instant{1795700000};
    now = "now=" + to_iso(dice.one_in(2) ? then.plus_s(step) : then.plus_s(-step)) + "\n";
  }
  const std::size_t room = limit > now.size() ? limit - now.size() : 0;
  return now + changed_logbook(has_now ? text.substr(first_end + 1) : text, room, seed);
}

}  // namespace
}  // namespace tawny::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  tawny::fuzz::try_farm(tawny::fuzz::text_of(data, size));
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t limit,
                                               unsigned seed) {
  return tawny::fuzz::put(tawny::fuzz::changed_farm(tawny::fuzz::text_of(data, size), limit, seed), data,
                          limit);
}

extern "C" std::size_t LLVMFuzzerCustomCrossOver(const std::uint8_t* one, std::size_t one_size,
                                                 const std::uint8_t* other, std::size_t other_size,
                                                 std::uint8_t* out, std::size_t limit, unsigned seed) {
  using namespace tawny::fuzz;
  return put(crossed(text_of(one, one_size), text_of(other, other_size), limit, seed), out, limit);
}
