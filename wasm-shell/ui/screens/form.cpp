#include "ui/screens/form.h"

#include <cmath>

#include "ui/screens/store_news.h"

namespace tawny::ui {

namespace {

// "5.5", but "-5": a form shows what was typed.
int shown_decimals(const NumberField& field) {
  int decimals = 0;
  double scaled = *field.value;
  while (decimals < field.decimals && std::abs(scaled - std::round(scaled)) > 1e-6) {
    scaled *= 10;
    ++decimals;
  }
  return decimals;
}

}  // namespace

void number_field(App& app, Ui& ui, NumberField& field) {
  const Words& words = ui.words();
  const std::string word = "form." + field.id.substr(field.id.find('/') + 1);
  const std::string label = words(word);
  const std::string shown = field.value ? words.number(*field.value, shown_decimals(field)) : std::string();
  const std::string hint_id = word + ".hint";
  if (!ui.value_field(field.id, label, shown, field.unit.empty() ? std::string() : words.unit(field.unit),
                      words.has(hint_id) ? words(hint_id) : std::string())) {
    return;
  }
  NumberAsk ask;
  ask.title = label;
  ask.unit = field.unit;
  ask.decimals = field.decimals;
  ask.sign = field.sign;
  ask.present = field.value;
  app.open(make_number_screen(std::move(ask), [&field](App&, double value) { field.value = value; }));
}

void put_number(Draft& draft, std::string_view key, const NumberField& field) {
  if (field.value) draft.values.emplace(std::string(key), *field.value);
}

Entry as_entry(const Draft& draft) {
  Entry entry;
  entry.pond = draft.pond;
  entry.kind = draft.kind;
  entry.observed = draft.observed;
  entry.values = draft.values;
  return entry;
}

void begin_form(App& app, Ui& ui, std::string_view id) {
  const SaveNews& news = app.news();
  const bool failed = news.state == SaveNews::State::failed;
  ui.begin_content(id, Sizes::kTarget + 2 * Sizes::kGrid);
  draw_pen_asked(app, ui, id);
  if (!failed) return;
  const Words& words = ui.words();
  ui.notice("save/failed", Tone::alarm,
            news.problem                           ? words(news.problem->message)
            : news.outcome == SaveOutcome::full    ? words("save.full")
            : news.outcome == SaveOutcome::refused ? words("save.refused")
            : news.outcome == SaveOutcome::newer   ? words("store.newer")
                                                   : words("save.failed"));
  ui.gap(16);
  if (news.seen) return;
  ui.scroll_to_top();
  app.see_news();
}

bool save_footer(App& app, Ui& ui, std::string_view label, bool enabled) {
  const Words& words = ui.words();
  const SaveNews& news = app.news();
  bool pressed = false;
  ui.begin_footer();
  if (news.state == SaveNews::State::failed) {
    ui.begin_cells(2);
    if (ui.button("save/give_up", words("save.give_up"), ButtonKind::quiet)) app.give_up();
    ui.next_cell();
    if (ui.button("save/retry", words("save.retry"), ButtonKind::primary, !news.problem)) app.retry();
    ui.end_cells();
  } else {
    const bool saving = news.state == SaveNews::State::saving;
    pressed = ui.button("save", saving ? words("save.saving") : std::string(label), ButtonKind::primary,
                        enabled && !saving && app.can_write());
  }
  ui.end_footer();
  return pressed;
}

}  // namespace tawny::ui
