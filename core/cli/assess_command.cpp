// tawny assess: each pond's stage, criteria, troubles and dose advice with their evidence, and the rounds due.
#include "assets.h"
#include "cli/command.h"
#include "cli/json_out.h"
#include "cli/logbook_file.h"
#include "farm/farm.h"
#include "farm/rounds.h"

namespace tawny::cli {
namespace {

std::string_view name_of_severity(Trouble::Severity severity) {
  switch (severity) {
    case Trouble::Severity::watch:
      return "watch";
    case Trouble::Severity::warn:
      return "warn";
    case Trouble::Severity::alarm:
      break;
  }
  return "alarm";
}

// Writes the parts of an assessment; every message as its id and in words.
class AssessmentOut {
 public:
  AssessmentOut(JsonOut& json, const Words& words) : json_(json), words_(words) {}

  void pond(const FarmPond& pond) {
    const PondState& state = pond.state;
    json_.begin_object().key("id").text(pond.history.pond.id).key("name").text(pond.history.pond.name);
    json_.key("supported").flag(!state.unsupported);
    json_.key("in_cycle").flag(state.in_cycle).key("cycle").text(pond.history.cycle);
    if (state.in_cycle) {
      json_.key("stage")
          .text(name_of(state.stage))
          .key("stage_number")
          .number(static_cast<double>(state.stage));
      json_.key("stage_since").text(to_iso(state.stage_since)).key("finished").flag(state.finished);
      json_.key("level_cm");
      number_or_null(state.level_cm);
      json_.key("level_share");
      number_or_null(state.level_share);
      json_.key("colour");
      state.colour ? json_.text(name_of(*state.colour)) : json_.null();
      json_.key("gate_refused").flag(state.refused);
      json_.key("criteria").begin_array();
      for (const Criterion& each : state.criteria) criterion(each);
      json_.end_array();
      gates(state);
      troubles(state);
      dose(state.dose);
      questions(state);
    }
    json_.end_object();
  }

  void due(const DueItem& item) {
    json_.begin_object().key("pond").text(item.pond).key("act").text(name_of(item.act));
    if (!item.detail.empty()) json_.key("detail").text(item.detail);
    json_.key("role").text(name_of(item.role)).key("state").text(name_of(item.state));
    if (item.window) json_.key("window").text(name_of(*item.window));
    json_.key("from").text(to_iso(item.from)).key("until").text(to_iso(item.until));
    message("why", item.why);
    if (item.done_by) json_.key("done_by").text(to_reference(*item.done_by));
    json_.end_object();
  }

  void message(std::string_view key, const Message& message) {
    json_.key(key).begin_object().key("id").text(message.id).key("says").text(words_(message)).end_object();
  }

 private:
  void number_or_null(const std::optional<double>& number) { number ? json_.number(*number) : json_.null(); }

  void moment(std::string_view key, const std::optional<Instant>& instant) {
    if (instant) json_.key(key).text(to_iso(*instant));
  }

  void evidence(const std::vector<EntryId>& entries) {
    json_.key("evidence").begin_array();
    for (const EntryId& id : entries) json_.text(to_reference(id));
    json_.end_array();
  }

  void messages(std::string_view key, const std::vector<Message>& messages) {
    json_.key(key).begin_array();
    for (const Message& each : messages) {
      json_.begin_object().key("id").text(each.id).key("says").text(words_(each)).end_object();
    }
    json_.end_array();
  }

  void criterion(const Criterion& each) {
    json_.begin_object().key("id").text(each.id).key("name").text(words_("criterion." + each.id));
    json_.key("verdict").text(name_of(each.verdict));
    message("why", each.why);
    evidence(each.evidence);
    json_.key("protocol").begin_array();
    for (const std::string& path : each.paths) json_.text(path);
    json_.end_array();
    if (each.settles) json_.key("settled_by").text(name_of(*each.settles));
    if (each.window) json_.key("window").text(name_of(*each.window));
    moment("next_chance", each.next_chance);
    moment("recheck_at", each.recheck_at);
    json_.end_object();
  }

  void gates(const PondState& state) {
    json_.key("gates_opened").begin_array();
    for (const GateOpened& gate : state.gates) {
      json_.begin_object().key("stage").text(name_of(gate.stage)).key("at").text(to_iso(gate.at));
      json_.key("by_hand").flag(gate.by_hand);
      if (gate.by_hand) json_.key("reason").text(gate.reason);
      if (gate.decision) json_.key("decision").text(to_reference(*gate.decision));
      if (!gate.unmet_then.empty()) {
        json_.key("not_met_then").begin_array();
        for (const Criterion& each : gate.unmet_then) json_.text(each.id);
        json_.end_array();
      }
      json_.end_object();
    }
    json_.end_array();
  }

  void troubles(const PondState& state) {
    json_.key("troubles").begin_array();
    for (const Trouble& trouble : state.troubles) {
      json_.begin_object().key("id").text(trouble.id);
      json_.key("severity").text(name_of_severity(trouble.severity));
      message("what", trouble.what);
      messages("check_next", trouble.check_next);
      json_.key("forbids_dose").flag(trouble.forbids_dose);
      evidence(trouble.evidence);
      json_.end_object();
    }
    json_.end_array();
  }

  void dose(const DoseAdvice& advice) {
    json_.key("dose").begin_object();
    json_.key("advised").flag(advice.advised).key("allowed").flag(advice.allowed);
    if (advice.advised) json_.key("rate_kg_ha").number(advice.rate_kg_ha);
    messages("why", advice.why);
    messages("warnings", advice.warnings);
    moment("window_from", advice.window_from);
    moment("window_until", advice.window_until);
    json_.end_object();
  }

  void questions(const PondState& state) {
    json_.key("questions").begin_array();
    for (const Question& question : state.questions) {
      json_.begin_object().key("id").text(question.id);
      message("what", question.what);
      evidence(question.evidence);
      json_.end_object();
    }
    json_.end_array();
  }

  JsonOut& json_;
  const Words& words_;
};

}  // namespace

Outcome run_assess(const Arguments& arguments, Outside& outside, Words words) {
  std::string path;
  std::optional<Instant> at;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    if (arguments[i] == "--at") {
      if (at || i + 1 == arguments.size()) return refused("assess", "--at takes one time");
      const Result<Instant> instant = parse_instant(arguments[++i]);
      if (!instant) return refused("assess --at", words(instant.error().message));
      at = *instant;
    } else if (path.empty()) {
      path = arguments[i];
    } else {
      return refused("assess", "\"" + arguments[i] + "\" is one too many");
    }
  }
  if (path.empty()) return refused("assess", "name a logbook");
  const Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"));
  if (!protocol) return refused("assess", words(protocol.error().message));
  const Result<LogbookFile> file = read_logbook(path, outside);
  if (!file) return refused("assess", words(file.error().message));

  const Instant now = at.value_or(outside.now());
  const Farm farm = fold_farm(file->logbook, *protocol, now);
  words.set_clock(farm.place.offset, now);
  JsonOut json;
  AssessmentOut out(json, words);
  json.begin_object().key("farm").text(farm.name).key("at").text(to_iso(now));
  json.key("ponds").begin_array();
  for (const FarmPond& pond : farm.ponds) out.pond(pond);
  json.end_array();
  json.key("rounds").begin_array();
  if (const Result<Rounds> due = rounds(farm, *protocol, now)) {
    for (const DueItem& item : due->items) out.due(item);
    json.end_array();
  } else {
    json.end_array();
    out.message("no_rounds", due.error().message);
  }
  json.end_object();

  Outcome outcome{0, json.done(), ""};
  const std::size_t left_out = file->report.lines - file->report.added - file->report.already_there;
  if (left_out > 0 || !farm.problems.empty()) {
    outcome.exit_code = 1;
    outcome.err = "tawny assess: not everything in " + path + " could be used; tawny check says what\n";
  }
  return outcome;
}

}  // namespace tawny::cli
