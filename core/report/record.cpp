#include "report/record.h"

#include <algorithm>
#include <set>

#include "dose/dose.h"
#include "logbook/kinds.h"
#include "protocol/look.h"
#include "words/entry_words.h"

namespace tawny {
namespace {

tl::unexpected<Problem> lacks(std::string_view parameter, Message message) {
  return refuse(ProblemKind::missing, parameter, std::move(message));
}

Result<Cycle> find_cycle(const Logbook& logbook, const Farm& farm, const ReportAsk& ask,
                         const Protocol& standard, Instant now) {
  const FarmPond* pond = farm.pond(ask.pond);
  if (pond == nullptr) return lacks("pond", Message("problem.walk_pond").with("pond", Text{ask.pond}));
  std::vector<Cycle> cycles = cycles_of(logbook, farm, ask.pond, standard, now);
  if (cycles.empty()) {
    return lacks("cycle", Message("problem.report_no_cycle").with("pond", Text{pond->history.pond.name}));
  }
  for (auto cycle = cycles.rbegin(); cycle != cycles.rend(); ++cycle) {
    const bool named = ask.cycle.empty() || cycle->label == ask.cycle;
    if (named && (!ask.start || cycle->start == *ask.start)) return std::move(*cycle);
  }
  return lacks("cycle", Message("problem.report_cycle")
                            .with("pond", Text{pond->history.pond.name})
                            .with("cycle", Text{ask.cycle}));
}

// Those of the cycle's days, and what points at them or is pointed at by them, however often.
std::vector<const Entry*> entries_of(const Logbook& logbook, std::string_view pond, const Cycle& cycle,
                                     Instant until) {
  std::set<const Entry*> chosen;
  std::vector<const Entry*> pointing;
  for (const Entry* entry : logbook.acts()) {
    if (!entry->corrects.empty() || !entry->voids.empty()) pointing.push_back(entry);
    if (entry->kind == kind::kOfficeReceipt) continue;
    if (!entry->pond.empty() && entry->pond != pond) continue;
    if (entry->observed < cycle.start || entry->observed > until) continue;
    // A cycle that nobody ended ends where the next one starts.
    const bool next = cycle.end && entry->observed == until && entry->kind == kind::kCycleStart;
    if (!next) chosen.insert(entry);
  }
  for (bool grown = true; grown;) {
    grown = false;
    for (const Entry* entry : pointing) {
      const Entry* target = logbook.find(entry->voids.empty() ? entry->corrects : entry->voids);
      if (target == nullptr || chosen.count(entry) == chosen.count(target)) continue;
      chosen.insert(entry);
      chosen.insert(target);
      grown = true;
    }
  }
  std::vector<const Entry*> entries;
  for (const Entry* entry : logbook.acts()) {
    if (chosen.count(entry) > 0) entries.push_back(entry);
  }
  return entries;
}

void add(NitrateSum& sum, const std::vector<Product>& products, const std::string& id, double product_kg) {
  ++sum.count;
  sum.product_kg += product_kg;
  const Product* product = find_product(products, id);
  if (product == nullptr) {
    sum.unknown_product = true;
  } else {
    sum.nitrate_n_kg += product_kg * product->nitrate_n_fraction;
  }
}

}  // namespace

Result<Record> read_record(const Logbook& logbook, const Farm& farm, const ReportAsk& ask,
                           const Protocol& standard, Instant now) {
  Result<Cycle> cycle = find_cycle(logbook, farm, ask, standard, now);
  if (!cycle) return tl::unexpected<Problem>(cycle.error());
  const Instant until = cycle->until(now);
  std::vector<const Entry*> entries = entries_of(logbook, ask.pond, *cycle, until);
  return Record{logbook, farm, standard, *std::move(cycle), until, std::move(entries)};
}

const Entry* what_came_of(const Record& record, const Entry& entry) {
  const std::string reference = to_reference(entry.id);
  const Entry* last = nullptr;
  const Logbook::Standing standing = record.logbook.standing(entry.id);
  for (const Entry* other : record.entries) {
    const bool took_back = standing == Logbook::Standing::voided && other->voids == reference;
    const bool corrected = standing == Logbook::Standing::corrected && other->corrects == reference;
    if ((took_back || corrected) && (last == nullptr || record.stands(*other) || !record.stands(*last))) {
      last = other;
    }
  }
  return last;
}

NitrateSum sum_of_doses(const Record& record, const std::vector<Product>& products) {
  NitrateSum sum;
  for (const DoseRecord* dose : doses_at(record.history(), record.until)) {
    add(sum, products, dose->product, dose->product_kg);
  }
  return sum;
}

NitrateSum sum_of_broadcasts(const Record& record, const std::vector<Product>& products) {
  NitrateSum sum;
  for (const SoilBroadcast& broadcast : record.history().broadcasts) {
    if (broadcast.at <= record.until) add(sum, products, broadcast.product, broadcast.product_kg);
  }
  return sum;
}

std::optional<double> nitrate_n_mg_l(const Record& record, double nitrate_n_kg) {
  if (!record.state().level_cm || !record.pond().curve) return std::nullopt;
  const Result<double> volume_m3 = record.pond().curve->volume_m3(*record.state().level_cm);
  if (!volume_m3 || *volume_m3 < 1) return std::nullopt;
  return 1000 * nitrate_n_kg / *volume_m3;
}

void begin_section(Markup& out, std::string_view title_id) {
  out.open("section").open("h2").say(title_id).close();
}

void begin_table(Markup& out, std::string_view classes, std::initializer_list<std::string_view> head_ids) {
  out.open("table", classes).open("thead").open("tr");
  for (const std::string_view id : head_ids) {
    out.open("th").attribute("scope", "col");
    if (!id.empty()) out.say(id);
    out.close();
  }
  out.close().close().open("tbody");
}

void end_table(Markup& out) { out.close().close(); }

void no_rows(Markup& out, std::string_view id) { out.open("p", "quiet").say(id).close(); }

void fact(Markup& out, std::string_view label_id, std::string_view value) {
  out.open("div").open("dt").say(label_id).close().open("dd").typed(value).close().close();
}

void write_who(Markup& out, const Entry& entry) {
  if (entry.who.empty()) {
    out.say("person.unknown");
  } else {
    out.typed(entry.who);
  }
}

void write_number(Markup& out, const Entry& entry) {
  out.open("span", "number")
      .typed(entry.id.device)
      .text("\u00a0/\u00a0" + std::to_string(entry.id.number))
      .close();
}

void write_values(Markup& out, const Record& record, const Entry& entry) {
  const bool struck = !record.stands(entry);
  if (struck) out.open("s");
  bool first = true;
  for (const auto& [key, value] : entry.values) {
    // What only ties entries together says nothing to a reader.
    if (key == "walk" || key == "question" || key == "decision") continue;
    if (!first) out.text("; ");
    first = false;
    const Measure* measure = measure_of(key);
    const bool plain = entry.values.size() == 1 && measure != nullptr && !measure->unit.empty();
    if (!plain) out.text(key_word(out.words(), key) + ": ");
    out.typed(value_word(out.words(), key, value));
  }
  if (first) out.text("\u2013");
  if (struck) out.close();
}

}  // namespace tawny
