#include "ui/screens/criteria.h"

#include <optional>

#include "protocol/protocol_times.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

// What the limit is, where it comes from, and by which source.
void draw_sources(App& app, Ui& ui, const FarmPond& pond, const Criterion& criterion, const std::string& id) {
  const Words& words = ui.words();
  const ProtocolTimes times(app.protocol(), pond.history.protocol_changes);
  const Protocol& protocol = times.at(app.now());
  for (const std::string& path : criterion.paths) {
    const ProtocolValue* value = protocol.find(path);
    if (value == nullptr) continue;
    ui.fact(id + "/" + path, limit_word(words, path), protocol_value(words, *value));
    ui.text(id + "/" + path + "/source", protocol_source(words, *value), TextSize::body, Tone::quiet);
  }
}

void draw_evidence(App& app, Ui& ui, const Criterion& criterion, const std::string& id) {
  const Words& words = ui.words();
  if (criterion.evidence.empty()) {
    ui.text(id + "/no_evidence", words("pond.no_evidence"), TextSize::body, Tone::quiet);
    return;
  }
  ui.text(id + "/rests_on", words("pond.rests_on"), TextSize::body, Tone::ink, true);
  for (const EntryId& evidence : criterion.evidence) {
    const std::string reference = to_reference(evidence);
    const Entry* entry = app.logbook().find(reference);
    if (entry == nullptr) continue;
    const std::string line = words(Message("pond.evidence")
                                       .with("value", Text{brief_of(words, *entry)})
                                       .with("at", entry->observed)
                                       .with("who", Text{entry->who}));
    if (ui.button(id + "/" + reference, line, ButtonKind::quiet))
      app.open(make_logbook_entry_screen(reference));
  }
}

void draw_next_chance(App& app, Ui& ui, const FarmPond& pond, const Criterion& criterion,
                      const std::string& id) {
  const Words& words = ui.words();
  if (criterion.verdict == Verdict::met) return;
  if (criterion.next_chance && *criterion.next_chance > app.now()) {
    ui.text(id + "/next_chance", words(Message("pond.next_chance").with("at", *criterion.next_chance)));
  }
  if (!criterion.settles) return;
  ui.gap();
  if (!ui.button(id + "/settle", act_word(words, *criterion.settles), ButtonKind::secondary, true,
                 act_icon(*criterion.settles))) {
    return;
  }
  const std::string& where = pond.history.pond.id;
  switch (*criterion.settles) {
    case Act::dose:
      app.open(make_dose_walk_screen(where));
      return;
    case Act::sign_release:
    case Act::decide_gate:
      app.open(make_gate_screen(where));
      return;
    default:
      app.open(make_entry_screen(*criterion.settles, where));
      return;
  }
}

}  // namespace

std::string evidence_age(const App& app, const Words& words, const Criterion& criterion) {
  std::optional<Instant> newest;
  for (const EntryId& evidence : criterion.evidence) {
    const Entry* entry = app.logbook().find(to_reference(evidence));
    if (entry != nullptr && (!newest || entry->observed > *newest)) newest = entry->observed;
  }
  if (!newest) return {};
  return words.age(*newest);
}

void CriteriaList::draw(App& app, Ui& ui, const FarmPond& pond) {
  ui.begin_card("criteria");
  for (const Criterion& criterion : pond.state.criteria) draw_row(app, ui, pond, criterion);
  ui.end_card();
}

void CriteriaList::draw_row(App& app, Ui& ui, const FarmPond& pond, const Criterion& criterion) {
  const Words& words = ui.words();
  const std::string id = "criterion/" + criterion.id;
  const std::string title = words("criterion." + criterion.id);
  const std::string verdict = verdict_word(words, criterion.verdict);
  const std::string name = title + ", " + verdict;
  const std::string why = words(criterion.why);
  std::string word = verdict;
  if (const std::string age = evidence_age(app, words, criterion); !age.empty()) word += " \u00b7 " + age;
  const bool unfolded = unfolded_ == criterion.id;
  Ui::Row row;
  row.title = title;
  row.name = name;
  row.status = status_of(criterion.verdict);
  row.word = word;
  row.remark = why;
  row.unfolds = true;
  row.unfolded = unfolded;
  if (ui.row(id, row)) unfolded_ = unfolded ? std::string() : criterion.id;
  if (!unfolded) return;
  const std::string about = "criterion." + criterion.id + ".about";
  if (words.has(about)) ui.text(id + "/about", words(about), TextSize::body, Tone::quiet);
  ui.gap();
  draw_sources(app, ui, pond, criterion, id);
  ui.gap();
  draw_evidence(app, ui, criterion, id);
  draw_next_chance(app, ui, pond, criterion, id);
  ui.gap();
}

}  // namespace tawny::ui
