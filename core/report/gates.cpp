// Every gate: its criteria as they stood when it opened, on which evidence, and who passed it by hand and why.
#include "protocol/gate_record.h"
#include "protocol/protocol_times.h"
#include "report/record.h"
#include "words/entry_words.h"
#include "words/protocol_words.h"

namespace tawny {
namespace {

class Gates {
 public:
  Gates(Markup& out, const Record& record)
      : out_(out), record_(record), times_(record.standard, record.history().protocol_changes) {}

  void write() {
    const PondState& state = record_.state();
    const auto criteria =
        criteria_at_gates(record_.history(), record_.standard, record_.farm.place, state.gates);
    for (std::size_t i = 0; i < state.gates.size(); ++i) {
      const GateOpened& gate = state.gates[i];
      begin(Message("report.gate.opened")
                .with("stage", Text{stage_word(out_.words(), gate.stage)})
                .with("at", gate.at));
      if (gate.by_hand) by_hand(gate);
      table(criteria[i], gate.at);
      out_.close();
    }
    if (state.finished || state.unsupported) return;
    begin(Message("report.gate.waits")
              .with("stage", Text{stage_word(out_.words(), state.stage)})
              .with("at", record_.until));
    if (state.refused) out_.open("p").say("pond.refused").close();
    table(state.criteria, record_.until);
    out_.close();
  }

 private:
  void begin(const Message& title) { out_.open("div", "gate").open("h3").say(title).close(); }

  void by_hand(const GateOpened& gate) {
    const Entry* entry = gate.decision ? record_.logbook.find(to_reference(*gate.decision)) : nullptr;
    out_.open("p", "by_hand").open("strong").say("report.gate.by_hand").close().text(". ");
    if (entry != nullptr) {
      write_who(out_, *entry);
      out_.text(", " + out_.words().time(entry->observed) + ": ");
    }
    out_.typed(gate.reason).close();
  }

  void table(const std::vector<Criterion>& criteria, Instant at) {
    begin_table(out_, "criteria", {"report.criterion", "report.verdict", "report.why", "report.evidence"});
    for (const Criterion& criterion : criteria) {
      out_.open("tr").open("th").attribute("scope", "row").say("criterion." + criterion.id).close();
      out_.open("td").open("span", "verdict " + std::string(name_of(criterion.verdict)));
      out_.text(verdict_word(out_.words(), criterion.verdict)).close().close();
      out_.open("td").open("div").say(criterion.why).close();
      limits(criterion, at);
      out_.close().open("td");
      evidence(criterion);
      out_.close().close();
    }
    end_table(out_);
  }

  void limits(const Criterion& criterion, Instant at) {
    const Protocol& protocol = times_.at(at);
    bool any = false;
    for (const std::string& path : criterion.paths) {
      const ProtocolValue* value = protocol.find(path);
      if (value == nullptr) continue;
      if (!any) out_.open("div", "limits");
      if (any) out_.text("; ");
      any = true;
      out_.text(limit_word(out_.words(), path) + ": ").typed(protocol_value(out_.words(), *value));
      out_.text(" (" + value->mark + ")");
    }
    if (any) out_.close();
  }

  void evidence(const Criterion& criterion) {
    if (criterion.evidence.empty()) {
      out_.open("span", "quiet").say("pond.no_evidence").close();
      return;
    }
    out_.open("ul", "plain");
    for (const EntryId& id : criterion.evidence) {
      const Entry* entry = record_.logbook.find(to_reference(id));
      if (entry == nullptr) continue;
      const std::string brief = brief_of(out_.words(), *entry);
      out_.open("li")
          .typed(brief.empty() ? out_.words()("kind." + entry->kind) : brief)
          .text(" \u00b7 " + out_.words().time(entry->observed));
      out_.text(" \u00b7 ");
      write_who(out_, *entry);
      out_.text(" ");
      write_number(out_, *entry);
      out_.close();
    }
    out_.close();
  }

  Markup& out_;
  const Record& record_;
  ProtocolTimes times_;
};

}  // namespace

void write_gates(Markup& out, const Record& record) {
  begin_section(out, "report.gates");
  out.open("p", "quiet").say("report.gates.about").text(" ");
  out.say("about.source.protocol").close();
  Gates(out, record).write();
  out.close();
}

}  // namespace tawny
