// The record of a cycle: what stands in it, read back from the page.
#include "report/report.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <random>
#include <set>

#include "core/dose/products_of_the_app.h"
#include "core/office/book.h"
#include "core/report/page.h"
#include "farm/demo.h"
#include "office/cycles.h"
#include "report/markup.h"
#include "words/entry_words.h"

namespace tawny {
namespace {

using test::at;
using test::Book;
using test::Element;
using test::PageReader;
using test::protocol;
using test::whole_cycle;
using testing::HasSubstr;
using testing::Not;

const Words& words(std::string_view language = "en") {
  static std::map<std::string, Words, std::less<>> parsed;
  const auto found = parsed.find(language);
  if (found != parsed.end()) return found->second;
  return parsed.emplace(std::string(language), *Words::parse(assets::language(language))).first->second;
}

const std::vector<Product>& products() {
  static const std::vector<Product> kProducts = *parse_products(assets::find("products.json"));
  return kProducts;
}

Result<std::string> html(const Logbook& logbook, Instant now, const std::string& pond = "p1",
                         const std::string& cycle = {}, const std::string& language = "en") {
  const Farm farm = fold_farm(logbook, protocol(), now);
  return report_html(logbook, farm, {pond, cycle, language}, protocol(), products(), words(language),
                     assets::find("report.css"), now);
}

std::unique_ptr<Element> read(const Result<std::string>& page) {
  EXPECT_TRUE(page) << (page ? "" : page.error().message.id);
  if (!page) return std::make_unique<Element>();
  PageReader reader(*page);
  auto root = reader.read();
  EXPECT_TRUE(root) << reader.fault;
  return root ? std::move(root) : std::make_unique<Element>();
}

std::unique_ptr<Element> page_of(const Book& book, Instant now, const std::string& cycle = {}) {
  return read(html(book.logbook(), now, "p1", cycle));
}

// The rows of a table's body, each as its cells' texts.
std::vector<std::vector<std::string>> rows(const Element& page, std::string_view table) {
  std::vector<std::vector<std::string>> all;
  const Element* found = page.table(table);
  if (found == nullptr) return all;
  for (const Element* row : found->all("tbody").front()->all("tr")) {
    std::vector<std::string> cells;
    for (const auto& cell : row->children) cells.push_back(cell->text());
    all.push_back(cells);
  }
  return all;
}

// The value of a fact by its label; of several, the first.
std::string fact(const Element& page, std::string_view label) {
  for (const Element* one : page.all("div")) {
    if (one->children.size() == 2 && one->children[0]->tag == "dt" && one->children[0]->text() == label) {
      return one->children[1]->text();
    }
  }
  return "no such fact";
}

std::string number_of(const EntryId& id) { return id.device + "\u00a0/\u00a0" + std::to_string(id.number); }

Book told() {
  Book book;
  book.pond(-20, "p1").tell(whole_cycle(), 0);
  return book;
}

struct DemoFarm {
  DemoFarm() : now(*parse_instant("2026-03-21T18:00:00Z")) {
    DeviceChain chain{"demo", "demo", 0, 0, std::string(64, '0')};
    const std::vector<Draft> drafts = *demo_drafts(assets::find("demo-farm.json"), protocol(), now);
    for (const Draft& draft : drafts) {
      logbook.add(*seal(draft, draft.observed, chain));
    }
    farm = fold_farm(logbook, protocol(), now);
  }
  Instant now;
  Logbook logbook;
  Farm farm;
};
const DemoFarm& demo() {
  static const DemoFarm kDemo;
  return kDemo;
}

// --- structure

TEST(Report, IsWellFormedForEveryPondOfTheDemoInEveryLanguage) {
  for (const std::string language : {"en", "es", "pt-BR", "id", "vi"}) {
    for (const FarmPond& pond : demo().farm.ponds) {
      const auto page = read(html(demo().logbook, demo().now, pond.history.pond.id, "", language));
      EXPECT_EQ(page->attributes["lang"], language);
      EXPECT_EQ(page->all("main").size(), 1U);
      EXPECT_EQ(page->all("main")[0]->attributes.at("id"), "report");
      for (const std::string_view tag : {"script", "iframe", "object", "link", "img", "base", "form"}) {
        EXPECT_TRUE(page->all(tag).empty()) << tag;
      }
      EXPECT_EQ(page->all("main")[0]->text().find('{'), std::string::npos) << "a value that no one named";
      EXPECT_EQ(page->all("main")[0]->text().find("report."), std::string::npos) << "an id without words";
    }
  }
}

void expect_no_style_of_its_own(const Element& one) {
  EXPECT_EQ(one.attributes.count("style"), 0U) << one.tag;
  for (const auto& child : one.children) expect_no_style_of_its_own(*child);
}

TEST(Report, IsStyledByClassesAlone) {
  const auto page = read(html(demo().logbook, demo().now, "p6"));
  expect_no_style_of_its_own(*page->all("main")[0]);
}

TEST(Report, EveryChartHasATitleAndADescriptionForWhoCannotSeeIt) {
  const auto page = read(html(demo().logbook, demo().now, "p6"));
  std::set<std::string> ids;
  std::size_t charts = 0;
  for (const Element* svg : page->all("svg")) {
    if (svg->attributes.count("aria-hidden") > 0) continue;
    ++charts;
    EXPECT_EQ(svg->attributes.at("role"), "img");
    ASSERT_EQ(svg->all("title").size(), 1U);
    ASSERT_EQ(svg->all("desc").size(), 1U);
    EXPECT_FALSE(svg->all("desc")[0]->text().empty()) << svg->all("title")[0]->text();
    const std::string title = svg->all("title")[0]->attributes.at("id"),
                      desc = svg->all("desc")[0]->attributes.at("id");
    EXPECT_EQ(svg->attributes.at("aria-labelledby"), title + " " + desc);
    EXPECT_TRUE(ids.insert(title).second && ids.insert(desc).second);
  }
  EXPECT_EQ(charts, 7U) << "level, oxygen, pH, temperature, salinity, Secchi with doses, sky";
}

TEST(Report, TheSameLogbookGivesTheSameBytes) {
  Logbook turned;
  const std::vector<const Entry*> all = demo().logbook.all();
  for (auto entry = all.rbegin(); entry != all.rend(); ++entry) turned.add_line((*entry)->line);
  EXPECT_EQ(*html(demo().logbook, demo().now, "p6"), *html(turned, demo().now, "p6"));
}

// --- what stands in it

TEST(Report, EveryEntryOfTheCycleStandsInItOnce) {
  for (const FarmPond& pond : demo().farm.ponds) {
    const auto page = read(html(demo().logbook, demo().now, pond.history.pond.id));
    std::map<std::string, int> seen;
    for (const auto& row : rows(*page, "entries")) ++seen[row.at(3)];
    for (const Entry* entry : pond.history.entries) {
      EXPECT_EQ(seen[number_of(entry->id)], 1) << pond.history.pond.id << " " << entry->kind;
    }
    EXPECT_EQ(seen.size(), pond.history.entries.size()) << pond.history.pond.id;
  }
}

TEST(Report, NumbersAndGatesAreThoseOfAssess) {
  for (const FarmPond& pond : demo().farm.ponds) {
    const auto page = read(html(demo().logbook, demo().now, pond.history.pond.id));
    const PondState& state = pond.state;
    const auto stages = rows(*page, "stages");
    ASSERT_EQ(stages.size(), state.gates.size() + 1) << pond.history.pond.id;
    Words full = words();
    full.set_clock(demo().farm.place.offset, Instant{-6000000000});
    Instant from = pond.history.cycle_start;
    for (std::size_t i = 0; i < state.gates.size(); ++i) {
      EXPECT_EQ(stages[i][1], full.time(from));
      EXPECT_EQ(stages[i][2], full.time(state.gates[i].at));
      EXPECT_EQ(stages[i][3], full.number(hours_between(from, state.gates[i].at) / 24, 1));
      from = state.gates[i].at;
    }
    EXPECT_EQ(stages.back()[1], full.time(state.stage_since));
    double product_kg = 0;
    for (const DoseRecord& dose : pond.history.doses) product_kg += dose.product_kg;
    EXPECT_EQ(fact(*page, "Fertilizer into the water"), full.quantity({product_kg, 1, "kg"}));
    std::vector<const Element*> gates;
    for (const Element* div : page->all("div")) {
      if (div->has_class("gate")) gates.push_back(div);
    }
    ASSERT_EQ(gates.size(), state.gates.size() + 1);
    const auto waiting = gates.back()->all("tbody")[0]->all("tr");
    ASSERT_EQ(waiting.size(), state.criteria.size());
    for (std::size_t i = 0; i < waiting.size(); ++i) {
      EXPECT_THAT(waiting[i]->text(), HasSubstr(full("criterion." + state.criteria[i].id)));
      EXPECT_THAT(waiting[i]->text(), HasSubstr(full(state.criteria[i].why)));
    }
    for (const Trouble& trouble : state.troubles) EXPECT_THAT(page->text(), HasSubstr(full(trouble.what)));
  }
}

// By hand: 25 kg of sodium nitrate (16.48 % nitrate-N: N of NaNO3 = 14.007 / 84.995) bring 4.12 kg N; a pond of
// 100 x 100 m with straight banks holds 11 000 m3 at 110 cm: 0.375 mg/L.
TEST(Report, SumsUpTheNitrate) {
  const auto page = page_of(told(), at(9, "12:00"));
  EXPECT_EQ(fact(*page, "Doses"), "1");
  EXPECT_EQ(fact(*page, "Fertilizer into the water"), "25.0 kg");
  EXPECT_EQ(fact(*page, "Fertilizer on the dry bottom"), "100.0 kg");
  EXPECT_EQ(fact(*page, "Into the water, on the nominal area"), "25.0 kg/ha");
  EXPECT_EQ(fact(*page, "Nitrate nitrogen in it"), "4.12 kg");
  EXPECT_EQ(fact(*page, "That in the water at its last level"), "0.37 mg/L N");
  EXPECT_THAT(fact(*page, "Release for stocking"), HasSubstr("Signed by Maren, 10 Mar 2026 10:00"));
}

TEST(Report, AGateStandsAsItStoodWhenItOpened) {
  Book book;
  book.pond(-20, "p1").start(0, "A");
  book.tell(1, "10:00", kind::kGatePassed, {{"stage", 1.0}, {"reason", std::string("the tide will not wait")}});
  book.tell(2, "09:00", kind::kBottomLook, {{"thick_sludge", std::string("none")}, {"dried_days", 10.0}});
  const auto page = page_of(book, at(3, "12:00"));
  const Element* gate = nullptr;
  for (const Element* div : page->all("div")) {
    if (gate == nullptr && div->has_class("gate")) gate = div;
  }
  ASSERT_TRUE(gate);
  EXPECT_THAT(gate->text(), HasSubstr("Passed by hand. Maren, 2 Mar 2026 10:00: the tide will not wait"));
  for (const Element* row : gate->all("tbody")[0]->all("tr")) {
    EXPECT_THAT(row->text(), Not(HasSubstr("\u25CFMet"))) << row->text();
    EXPECT_THAT(row->children[1]->text(), Not("Met")) << "what was seen a day later counts not";
  }
  EXPECT_EQ(rows(*page, "stages")[0][4], "Passed by hand");
}

TEST(Report, TheEvidenceOfAGateIsNamedWithTimeAndPerson) {
  const auto page = page_of(told(), at(9, "12:00"));
  const Element* first = page->table("criteria");
  ASSERT_TRUE(first);
  EXPECT_THAT(first->text(), HasSubstr("1 Mar 2026 09:10 \u00b7 Maren device\u00a0/\u00a0"));
}

TEST(Report, EveryDoseStandsWithProductLotBinsAndPerson) {
  auto story = whole_cycle();
  story.set(4, kind::kDose, "lot", std::string("NN-0417"));
  story.set(4, kind::kDose, "manager_override", true)
      .set(4, kind::kDose, "reason", std::string("cloud came late"));
  Book book;
  book.pond(-20, "p1").tell(story, 0);
  const auto page = page_of(book, at(9, "12:00"));
  const auto doses = rows(*page, "doses");
  ASSERT_EQ(doses.size(), 2U) << "on the soil, and into the water";
  EXPECT_THAT(doses[0][0], HasSubstr("Nitrate on the soil"));
  EXPECT_THAT(doses[0][1], HasSubstr("No lot written down"));
  EXPECT_THAT(doses[1][0], HasSubstr("Started: 5 Mar 2026 06:10"));
  EXPECT_THAT(doses[1][0], HasSubstr("Ended: 5 Mar 2026 07:00"));
  EXPECT_THAT(doses[1][1], HasSubstr("Sodium nitrate"));
  EXPECT_THAT(doses[1][1], HasSubstr("NN-0417"));
  EXPECT_THAT(doses[1][2], HasSubstr("25.0 kg"));
  EXPECT_THAT(doses[1][2], HasSubstr("Bins: 1"));
  EXPECT_THAT(doses[1][2], HasSubstr("Area: 1.00 ha"));
  // 4.12 kg N in the 6 900 m3 at 69 cm, the level last read before it.
  EXPECT_THAT(doses[1][2], HasSubstr("Nitrate-N added: 0.60 mg/L"));
  EXPECT_THAT(doses[1][3], HasSubstr("Sky: bright"));
  EXPECT_THAT(doses[1][4], HasSubstr("Maren"));
  EXPECT_THAT(doses[1][4], HasSubstr("By the manager: cloud came late"));
  EXPECT_THAT(rows(*page, "decisions")[1][3], "cloud came late");
}

TEST(Report, ADoseThatAQuestionTookOutIsNotCounted) {
  Book book = told();
  std::string first, second;
  for (const Entry* entry : book.logbook().all()) {
    if (entry->kind == kind::kDose) first = to_reference(entry->id);
  }
  auto again = whole_cycle();
  again.mend(4, kind::kDose, [](test::Told&) { return true; });
  for (const test::Told& one : whole_cycle().told) {
    if (one.kind == kind::kDose) book.tell(4, "07:30", one.kind, one.values);
  }
  second = book.last();
  book.tell(5, "09:00", kind::kQuestionSettled,
            {{"question", second}, {"keep", std::string("first")}, {"reason", std::string("told twice")}});
  const auto page = page_of(book, at(9, "12:00"));
  EXPECT_EQ(fact(*page, "Fertilizer into the water"), "25.0 kg");
  EXPECT_THAT(rows(*page, "doses").at(2).at(4), HasSubstr("Not counted"));
  bool decided = false;
  for (const auto& row : rows(*page, "decisions")) {
    decided = decided || (row[2].find("The first only") != std::string::npos && row[3] == "told twice");
  }
  EXPECT_TRUE(decided);
}

TEST(Report, WhatWasChangedInTheProtocolStandsBesideTheDefault) {
  Book book = told();
  book.tell(2, "09:00", kind::kProtocolChange,
            {{"path", std::string("stage.bloom.secchi_low_cm")},
             {"value", 40.0},
             {"from", to_iso(at(3, "00:00"))},
             {"reason", std::string("our green is denser")}});
  const auto changed = rows(*page_of(book, at(9, "12:00")), "protocol");
  ASSERT_EQ(changed.size(), 1U);
  EXPECT_THAT(changed[0], testing::ElementsAre(HasSubstr("stage.bloom.secchi_low_cm"), "45 cm", "40 cm",
                                               "4 Mar 2026 00:00", "Maren", "our green is denser"));
  EXPECT_TRUE(rows(*page_of(told(), at(9, "12:00")), "protocol").empty());
}

TEST(Report, TheOldStaysStruckThroughBesideTheNew) {
  Book book = told();
  book.level(1, 55, "p1", "09:00");
  const std::string wrong = book.last();
  book.tell(1, "09:00", kind::kLevelReading, {{"level_cm", 35.0}}, "p1", wrong);
  const auto page = page_of(book, at(9, "12:00"));
  const auto corrected = rows(*page, "corrections");
  ASSERT_EQ(corrected.size(), 1U);
  EXPECT_THAT(corrected[0][0], HasSubstr("55 cm"));
  EXPECT_THAT(corrected[0][1], HasSubstr("35 cm"));
  std::string struck;
  for (const Element* one : page->all("s")) struck += one->text() + "|";
  EXPECT_THAT(struck, HasSubstr("55 cm|"));
  EXPECT_THAT(struck, Not(HasSubstr("35 cm")));
}

TEST(Report, OfTwoCyclesWithOneLabelTheStartNamesOne) {
  Book book;
  book.pond(-3, "p1").start(0, "dry").level(1, 30).end(5).start(6, "dry").level(7, 77);
  const Instant now = at(9, "12:00");
  const auto table = [&](std::optional<Instant> start) {
    return report_csv(book.logbook(), book.fold(now), {"p1", "dry", "en", start}, protocol(), now);
  };
  ASSERT_TRUE(table(at(0, "08:00")));
  EXPECT_THAT(*table(at(0, "08:00")), testing::AllOf(HasSubstr(",30,"), Not(HasSubstr(",77,"))));
  EXPECT_THAT(*table(at(6, "08:00")), testing::AllOf(HasSubstr(",77,"), Not(HasSubstr(",30,"))));
  EXPECT_EQ(*table(std::nullopt), *table(at(6, "08:00"))) << "without one, the latest";
  EXPECT_FALSE(table(at(1, "08:00"))) << "none started then";
}

TEST(Report, AReadingThatTheManagerLeftOutSaysSo) {
  Book book = told();
  book.tell(8, "06:10", kind::kWaterReading, {{"ph", 10.6}});
  const std::string odd = book.last();
  const auto marked = [&] {
    const auto page = page_of(book, at(9, "12:00"));
    std::size_t count = 0;
    for (const auto& row : rows(*page, "entries"))
      count += row[1].find("left out by the manager") != std::string::npos ? 1U : 0U;
    return count;
  };
  EXPECT_EQ(marked(), 0U);
  book.tell(8, "09:00", kind::kQuestionSettled,
            {{"question", odd}, {"keep", std::string("none")}, {"reason", std::string("dry electrode")}});
  EXPECT_EQ(marked(), 1U);
}

TEST(Report, AnEntryTakenBackIsStruckThroughWithTheReason) {
  const Book book = told();
  Logbook logbook = book.logbook();
  const Entry* dose = nullptr;
  for (const Entry* entry : logbook.all()) {
    if (entry->kind == kind::kDose) dose = entry;
  }
  DeviceChain chain{"farm", "office", 0, 9000, std::string(64, '0')};
  Draft draft;
  draft.kind = std::string(kind::kVoid);
  draft.pond = "p1";
  draft.who = "Ana";
  draft.observed = at(8, "09:00");
  draft.voids = to_reference(dose->id);
  draft.values["reason"] = std::string("it was the other pond");
  const std::string number = number_of(dose->id);
  logbook.add(*seal(draft, at(8, "09:00"), chain));
  const auto page = read(html(logbook, at(9, "12:00")));
  const auto taken = rows(*page, "corrections");
  ASSERT_EQ(taken.size(), 1U);
  EXPECT_THAT(taken[0][0], HasSubstr(number));
  EXPECT_THAT(taken[0][1], "taken back");
  EXPECT_THAT(taken[0][2], HasSubstr("Ana"));
  EXPECT_EQ(taken[0][3], "it was the other pond");
  EXPECT_EQ(fact(*page, "Doses"), "0");
  for (const Element* row : page->table("doses")->all("tr")) {
    if (row->text().find("25.0 kg") == std::string::npos) continue;
    EXPECT_TRUE(row->has_class("fallen"));
    EXPECT_THAT(row->all("s")[0]->text(), HasSubstr("5 Mar 2026"));
    EXPECT_THAT(row->text(), HasSubstr("taken back"));
  }
}

// --- devices

TEST(Report, TheLastHashOfEachDeviceStandsInItAndTheChainIsWhole) {
  const Book book = told();
  const auto page = page_of(book, at(9, "12:00"));
  const auto chains = rows(*page, "chains");
  ASSERT_EQ(chains.size(), 1U);
  EXPECT_EQ(chains[0][0], "device");
  EXPECT_THAT(chains[0][3], HasSubstr(book.logbook().chain_of("device").last_hash));
  EXPECT_THAT(chains[0][4], HasSubstr("Whole"));
}

TEST(Report, AChainWithAGapIsNotCalledWhole) {
  const Book book = told();
  Logbook logbook;
  int number = 0;
  for (const Entry* entry : book.logbook().all()) {
    if (++number != 6) logbook.add_line(entry->line);
  }
  const auto page = read(html(logbook, at(9, "12:00")));
  EXPECT_THAT(rows(*page, "chains")[0][4], Not(HasSubstr("Whole")));
  EXPECT_THAT(rows(*page, "chains")[0][4], HasSubstr("not here"));
}

// --- which cycle

TEST(Report, APastCycleIsTakenByItsLabel) {
  Book book;
  book.pond(-20, "p1").tell(whole_cycle(), 0).end(40).start(60, "B").level(61, 33);
  const auto past = page_of(book, at(70, "12:00"), "A");
  EXPECT_EQ(fact(*past, "Cycle"), "A");
  EXPECT_EQ(fact(*past, "Ended"), "10 Apr 2026 18:00");
  EXPECT_EQ(rows(*past, "stages").size(), 10U);
  for (const auto& row : rows(*past, "entries")) EXPECT_THAT(row[1], Not(HasSubstr("33 cm")));
  EXPECT_EQ(fact(*page_of(book, at(70, "12:00")), "Cycle"), "B");
  const auto none = html(book.logbook(), at(70, "12:00"), "p1", "C");
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().message.id, "problem.report_cycle");
}

TEST(Report, APondThatIsNotThereOrHasNoCycleIsRefused) {
  Book book;
  book.pond(-20, "p1");
  EXPECT_EQ(html(book.logbook(), at(1, "12:00"), "p9").error().message.id, "problem.walk_pond");
  EXPECT_EQ(html(book.logbook(), at(1, "12:00")).error().message.id, "problem.report_no_cycle");
}

TEST(Report, TheTableBesideItHoldsTheSameEntries) {
  const Instant now = demo().now;
  const auto csv = report_csv(demo().logbook, demo().farm, {"p6", "", "en"}, protocol(), now);
  ASSERT_TRUE(csv);
  const auto lines = std::count(csv->begin(), csv->end(), '\n');
  const auto page = read(html(demo().logbook, now, "p6"));
  EXPECT_EQ(static_cast<std::size_t>(lines), 1 + rows(*page, "entries").size());
  EXPECT_THAT(*csv, Not(HasSubstr(",p5,")));
}

// --- harmless

// A small farm where every text that people type is one of `next`: 15 of them.
constexpr int kNamesOfAFarm = 15;
template <typename Next>
Logbook named(Next next) {
  const std::string who = next();
  DeviceChain chain{"farm", "device", 0, 0, std::string(64, '0')};
  Logbook logbook;
  const auto tell = [&](Instant when, std::string kind, Values values, std::string pond = "p1") {
    Draft draft;
    draft.kind = std::move(kind);
    draft.pond = std::move(pond);
    draft.who = who;
    draft.observed = when;
    draft.values = std::move(values);
    auto entry = seal(draft, when, chain);
    ASSERT_TRUE(entry);
    logbook.add(*std::move(entry));
  };
  tell(at(-2, "08:00"), "farm_setup",
       {{"name", next()}, {"latitude_deg", -2.2}, {"longitude_deg", -79.9}, {"utc_offset_min", -300.0}}, "");
  tell(at(-2, "08:10"), "pond_setup",
       {{"name", next()},
        {"walk_order", 1.0},
        {"build", std::string("earthen")},
        {"nominal_area_ha", 1.0},
        {"inlets", std::vector<std::string>{next()}},
        {"bottom_length_m", 100.0},
        {"bottom_width_m", 100.0},
        {"depth_m", 1.2},
        {"bank_slope", 0.0}});
  tell(at(-2, "08:20"), "device_setup", {{"person", who}, {"role", next()}}, "");
  tell(at(0, "08:00"), "cycle_start", {{"cycle", next()}});
  tell(at(0, "08:10"), "gate_passed", {{"stage", 1.0}, {"reason", next()}});
  tell(at(0, "08:20"), "dose",
       {{"product", next()},
        {"product_kg", 25.0},
        {"bins", 1.0},
        {"started", to_iso(at(0, "08:15"))},
        {"ended", to_iso(at(0, "08:20"))},
        {"coverage", std::string("whole")},
        {"dissolved", true},
        {"rate_kg_ha", 25.0},
        {"area_ha", 1.0},
        {"lot", next()},
        {"manager_override", true},
        {"reason", next()}});
  tell(at(0, "08:30"), "note", {{"text", next()}});
  tell(at(0, "08:40"), "protocol_change",
       {{"path", next()}, {"value", next()}, {"from", to_iso(at(0, "08:40"))}, {"reason", next()}}, "");
  tell(at(0, "08:50"), "water_colour", {{"colour", next()}});
  return logbook;
}

std::string hostile(std::mt19937& chance) {
  static const std::string kPieces[] = {"<",
                                        ">",
                                        "&",
                                        "\"",
                                        "'",
                                        "</bdi>",
                                        "</td></table>",
                                        "<script>",
                                        "]]>",
                                        "-->",
                                        "<!--",
                                        "&lt;",
                                        "&#39;",
                                        "{pond}",
                                        "\\",
                                        "*/",
                                        ";}",
                                        "</style>",
                                        "\u202e",
                                        "\u2066",
                                        "\u200f",
                                        "\u2028",
                                        "\ufeff",
                                        "\x01",
                                        "\x02",
                                        "\x7f",
                                        "\x1b",
                                        "\t",
                                        "\r\n",
                                        "\n",
                                        "\u0643",
                                        "\u05d0",
                                        "\u00ad",
                                        "\uffff",
                                        "\u0301",
                                        "\u200d",
                                        "A",
                                        "ao 3",
                                        " ",
                                        "%s",
                                        "style=",
                                        "onload=",
                                        "\U0001f990",
                                        "\u0110\u1ea7m",
                                        "x"};
  std::string name = "n";
  const std::size_t count = 1 + chance() % 6;
  for (std::size_t i = 0; i < count; ++i) name += kPieces[chance() % std::size(kPieces)];
  return name;
}

TEST(Report, TenThousandHostileNamesChangeNothingOfThePage) {
  std::mt19937 chance(20250);
  const Instant now = at(1, "12:00");
  const std::string tags = read(html(named([] { return std::string("plain"); }), now))->tags();
  for (int told = 0; told < 10000; told += kNamesOfAFarm) {
    std::string name;
    int asked = 0;
    const Logbook logbook = named([&] {
      ++asked;
      const std::string one = hostile(chance);
      name += one + " | ";
      return one;
    });
    ASSERT_EQ(asked, kNamesOfAFarm);
    const auto page = html(logbook, now);
    ASSERT_TRUE(page) << name;
    PageReader reader(*page);
    const auto root = reader.read();
    ASSERT_TRUE(root) << reader.fault << "\nof " << name;
    ASSERT_EQ(root->tags(), tags) << name;
    for (const std::string_view hidden : {"\u202e", "\u2066", "\u200f", "\u2028", "\ufeff", "\u00ad"}) {
      ASSERT_EQ(page->find(hidden), std::string::npos) << name;
    }
    // The style sheet's own text ends where it should: no name gets out of its quotes.
    const std::string style = root->all("style")[0]->text();
    const std::size_t head = style.find("@top-left { content: \"");
    ASSERT_NE(head, std::string::npos);
    const std::size_t end = style.find('"', head + 22);
    ASSERT_EQ(style.substr(end), "\"; } }\n") << name;
    ASSERT_EQ(style.find_first_of("<>&\n", head + 22) > end, true) << name;
  }
}

TEST(Report, WhatCannotBeSeenIsShownAsItsNumber) {
  EXPECT_EQ(escaped("a\u202eb\x1b"), "a[U+202E]b[U+001B]");
  EXPECT_EQ(escaped("two\r\nlines\rmore"), "two\nlines\nmore");
  EXPECT_EQ(escaped("\u0643\u0644 <b> & \"x\" 'y'"), "\u0643\u0644 &lt;b&gt; &amp; &quot;x&quot; &#39;y&#39;");
  EXPECT_EQ(escaped("cut \xc3"), "cut \ufffd");
}

TEST(Report, ANameInASentenceIsSetApart) {
  Markup out(words());
  out.say(Message("problem.report_cycle").with("pond", Text{"<b>\u0643"}).with("cycle", Text{"A"}));
  EXPECT_EQ(out.done(), "<bdi>&lt;b&gt;\u0643</bdi> has no cycle \u201c<bdi>A</bdi>\u201d.");
}

}  // namespace
}  // namespace tawny
