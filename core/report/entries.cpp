// Corrections and what was taken back, the old beside the new; then every entry of the cycle.
#include <algorithm>
#include "logbook/kinds.h"

#include "report/record.h"

namespace tawny {
namespace {

void write_written(Markup& out, const Record& record, const Entry& entry) {
  out.open("div", "value").say("kind." + entry.kind).close().open("div", "values");
  write_values(out, record, entry);
  out.close().open("div", "quiet").text(out.words().time(entry.observed) + " \u00b7 ");
  write_who(out, entry);
  out.text(" ");
  write_number(out, entry);
  out.close();
}

void write_fallen(Markup& out, const Record& record, const Entry& entry) {
  const Entry* now = what_came_of(record, entry);
  out.open("tr").open("td");
  write_written(out, record, entry);
  out.close().open("td");
  const bool voided = record.logbook.standing(entry.id) == Logbook::Standing::voided;
  if (voided) {
    out.open("div", "value").say("standing.voided").close();
  } else if (now != nullptr) {
    write_written(out, record, *now);
  }
  out.close().open("td");
  if (now != nullptr) {
    write_who(out, *now);
    out.text(" ");
    write_number(out, *now);
    out.open("div").text(out.words().time(now->recorded)).close();
  }
  out.close().open("td");
  const std::string* reason = now == nullptr ? nullptr : now->text("reason");
  if (reason != nullptr) out.typed(*reason);
  out.close().close();
}

std::string_view standing_id(Logbook::Standing standing) {
  if (standing == Logbook::Standing::corrected) return "standing.corrected";
  if (standing == Logbook::Standing::not_counted) return "standing.not_counted";
  return "standing.voided";
}

bool is_left_out(const Record& record, const Entry& entry) {
  const std::vector<LeftOut>& left_out = record.history().left_out;
  return std::any_of(left_out.begin(), left_out.end(),
                     [&](const LeftOut& one) { return one.entry->id == entry.id; });
}

}  // namespace

void write_corrections(Markup& out, const Record& record) {
  begin_section(out, "report.corrections");
  bool any = false;
  for (const Entry* entry : record.entries) {
    if (record.stands(*entry)) continue;
    if (!any) {
      out.open("p", "quiet").say("report.corrections.about").close();
      begin_table(out, "corrections",
                  {"report.corrections.old", "report.corrections.new", "report.corrections.by", "key.reason"});
    }
    any = true;
    write_fallen(out, record, *entry);
  }
  any ? end_table(out) : no_rows(out, "report.corrections.none");
  out.close();
}

void write_entries(Markup& out, const Record& record) {
  begin_section(out, "report.entries");
  out.open("p", "quiet").say("report.entries.about").close();
  begin_table(out, "entries", {"report.when", "report.entry", "logbook.who", "logbook.device"});
  for (const Entry* entry : record.entries) {
    const Logbook::Standing standing = record.logbook.standing(entry->id);
    const bool fallen = standing != Logbook::Standing::stands;
    out.open("tr", fallen ? "fallen" : "").element("td", out.words().time(entry->observed));
    out.open("td").open("span", "value").say("kind." + entry->kind).close();
    if (entry->pond.empty()) out.text(" (").say("report.whole_farm").text(")");
    out.text(": ").open("span", "values");
    write_values(out, record, *entry);
    out.close();
    if (fallen) out.text(" ").open("span", "state").say(standing_id(standing)).close();
    if (!fallen && is_left_out(record, *entry))
      out.text(" ").open("span", "state").say("standing.left_out").close();
    out.close().open("td");
    write_who(out, *entry);
    out.close().open("td");
    write_number(out, *entry);
    out.close().close();
  }
  end_table(out);
  out.close();
}

}  // namespace tawny
