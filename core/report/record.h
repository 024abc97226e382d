// What the parts of a record are written from: one cycle, its entries, and what is derived from them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "dose/product.h"
#include "farm/series.h"
#include "office/cycles.h"
#include "report/markup.h"
#include "report/report.h"

namespace tawny {

struct Record {
  const Logbook& logbook;
  const Farm& farm;
  const Protocol& standard;
  Cycle cycle;
  Instant until;  // the cycle's end, or now
  // Of the pond and of the whole farm, from the cycle's start to `until`, in order of observation: those that
  // stand and those that do not, and the later ones that correct them or take them back. Receipts of the
  // office are left out: they tell where entries lie, not what happened.
  std::vector<const Entry*> entries;

  const PondHistory& history() const { return cycle.pond.history; }
  const PondState& state() const { return cycle.pond.state; }
  const Pond& pond() const { return history().pond; }
  const UtcOffset& offset() const { return farm.place.offset; }
  bool stands(const Entry& entry) const { return logbook.standing(entry.id) == Logbook::Standing::stands; }
};

Result<Record> read_record(const Logbook& logbook, const Farm& farm, const ReportAsk& ask,
                           const Protocol& standard, Instant now);

// The entry that took the place of `entry`, or took it back; null when it stands.
const Entry* what_came_of(const Record& record, const Entry& entry);

// Nitrogen that doses brought, and what stands in the way of reckoning it.
struct NitrateSum {
  double product_kg = 0;
  double nitrate_n_kg = 0;
  bool unknown_product = false;  // a product that the list lacks: its nitrogen is not counted
  std::size_t count = 0;
};
NitrateSum sum_of_doses(const Record& record, const std::vector<Product>& products);
NitrateSum sum_of_broadcasts(const Record& record, const std::vector<Product>& products);
// All of it dissolved in the water at the last level read, mg/L; nothing without a level or a shape.
std::optional<double> nitrate_n_mg_l(const Record& record, double nitrate_n_kg);

// --- the parts, each one <section>
void write_summary(Markup& out, const Record& record, const std::vector<Product>& products);
void write_charts(Markup& out, const Record& record);
void write_gates(Markup& out, const Record& record);
void write_doses(Markup& out, const Record& record, const std::vector<Product>& products);
void write_decisions(Markup& out, const Record& record);
void write_protocol(Markup& out, const Record& record);
void write_corrections(Markup& out, const Record& record);
void write_entries(Markup& out, const Record& record);
void write_chains(Markup& out, const Record& record);
void write_cautions(Markup& out);

// --- shared by them
// <section> with its heading; close() it.
void begin_section(Markup& out, std::string_view title_id);
// <table> with its head, up to <tbody>; end_table() closes both.
void begin_table(Markup& out, std::string_view classes, std::initializer_list<std::string_view> head_ids);
void end_table(Markup& out);
void no_rows(Markup& out, std::string_view id);  // a paragraph in place of an empty table
// One line of a list of facts <dl>.
void fact(Markup& out, std::string_view label_id, std::string_view value);
// Who wrote it, or "no name".
void write_who(Markup& out, const Entry& entry);
// "phone-1 / 12": where the entry stands in its device's chain.
void write_number(Markup& out, const Entry& entry);
// The values of an entry, each with its word, struck through (<s>) when it does not stand.
void write_values(Markup& out, const Record& record, const Entry& entry);

}  // namespace tawny
