// Every decision with name, time and reason; and what of the protocol was not the default.
#include <algorithm>

#include "logbook/kinds.h"
#include "protocol/protocol_times.h"
#include "report/record.h"
#include "words/entry_words.h"
#include "words/protocol_words.h"

namespace tawny {
namespace {

constexpr std::string_view kDecisions[] = {kind::kCycleStart,     kind::kCycleEnd,      kind::kGatePassed,
                                           kind::kGateRefused,    kind::kReleaseSigned, kind::kQuestionSettled,
                                           kind::kProtocolChange, kind::kPlBooking};

bool is_decision(const Entry& entry) {
  const bool* word = entry.flag("manager_override");
  if (word != nullptr && *word) return true;
  return std::find(std::begin(kDecisions), std::end(kDecisions), entry.kind) != std::end(kDecisions);
}

// A decision's subject: the stage, the doses asked about, the value changed.
void write_subject(Markup& out, const Record& record, const Entry& entry) {
  const Words& words = out.words();
  const double* stage = entry.number("stage");
  if (stage != nullptr && *stage >= 1 && *stage <= static_cast<double>(Stage::early_cycle)) {
    out.text(stage_word(words, static_cast<Stage>(static_cast<int>(*stage))));
    return;
  }
  if (const std::string* question = entry.text("question")) {
    if (const Entry* about = record.logbook.find(*question)) {
      out.text(words("kind." + about->kind) + " ").typed(brief_of(words, *about));
      out.text(" \u00b7 " + words.time(about->observed) + " \u00b7 ");
      write_who(out, *about);
      out.text(" ");
      write_number(out, *about);
      out.text("; ");
    }
  }
  bool first = true;
  for (const auto& [key, value] : entry.values) {
    if (key == "reason" || key == "question" || key == "decision" || key == "walk" || key == "path") continue;
    if (!first) out.text("; ");
    first = false;
    out.text(key_word(words, key) + ": ").typed(value_word(words, key, value));
  }
  if (const std::string* path = entry.text("path")) {
    out.text(" (").open("span", "number").typed(*path).close().text(")");
  }
}

void write_row(Markup& out, const Record& record, const Entry& entry) {
  const bool fallen = !record.stands(entry);
  out.open("tr", fallen ? "fallen" : "").element("td", out.words().time(entry.observed));
  out.open("td");
  write_who(out, entry);
  out.text(" ");
  write_number(out, entry);
  out.close().open("td");
  if (fallen) out.open("s");
  out.open("div", "value").say("kind." + entry.kind).close().open("div");
  write_subject(out, record, entry);
  out.close();
  if (fallen) out.close();
  out.close().open("td");
  const std::string* reason = entry.text("reason");
  if (reason != nullptr) out.typed(*reason);
  out.close().close();
}

std::string change_of(const Words& words, const ProtocolValue* value) {
  return value == nullptr ? std::string("\u2013") : protocol_value(words, *value);
}

}  // namespace

void write_decisions(Markup& out, const Record& record) {
  begin_section(out, "report.decisions");
  begin_table(out, "decisions", {"report.when", "logbook.who", "report.decision", "key.reason"});
  for (const Entry* entry : record.entries) {
    if (is_decision(*entry)) write_row(out, record, *entry);
  }
  end_table(out);
  out.close();
}

void write_protocol(Markup& out, const Record& record) {
  begin_section(out, "report.protocol");
  const PondHistory& history = record.history();
  const ProtocolTimes times(record.standard, history.protocol_changes);
  bool any = false;
  for (const ProtocolChange& change : history.protocol_changes) {
    // What counts only later is no part of this cycle.
    const Instant counts = std::max(change.from, change.at);
    if (counts > record.until) continue;
    if (!any) {
      out.open("p", "quiet").say("report.protocol.about").close();
      begin_table(out, "protocol",
                  {"report.protocol.value", "report.protocol.default", "report.protocol.here", "key.from",
                   "logbook.who", "key.reason"});
    }
    any = true;
    const ProtocolValue* standard = record.standard.find(change.path);
    out.open("tr").open("td").text(limit_word(out.words(), change.path)).text(" ");
    out.open("span", "number").typed(change.path).close().close();
    out.open("td").typed(change_of(out.words(), standard)).close();
    out.open("td").typed(change_of(out.words(), times.at(counts).find(change.path))).close();
    out.element("td", out.words().time(counts)).open("td");
    write_who(out, *change.entry);
    out.close().open("td");
    if (const std::string* reason = change.entry->text("reason")) out.typed(*reason);
    out.close().close();
  }
  any ? end_table(out) : no_rows(out, "report.protocol.same");
  out.close();
}

}  // namespace tawny
