#include "ui/screens/store_news.h"

#include <algorithm>
#include <string>

namespace tawny::ui {
namespace {

std::string id_at(std::string_view where, std::string_view what) {
  return std::string(where) + "/" + std::string(what);
}

}  // namespace

void draw_store_state(App& app, Ui& ui, std::string_view where) {
  const char* said = nullptr;
  switch (app.boot().store_state) {
    case SaveOutcome::saved:
      return;
    case SaveOutcome::refused:
      said = "store.refused";
      break;
    case SaveOutcome::newer:
      said = "store.newer";
      break;
    case SaveOutcome::full:
    case SaveOutcome::failed:
      said = "store.failed";
      break;
  }
  ui.notice(id_at(where, "store"), Tone::alarm, ui.words()(said));
  ui.gap(8);
}

bool draw_damage(App& app, Ui& ui, std::string_view where) {
  const StoreDamage& damage = app.damage();
  if (damage.records == 0) return false;
  const bool whole = damage.missing == 0;
  ui.notice(id_at(where, "damage"), whole ? Tone::warn : Tone::alarm,
            ui.words()(Message(whole ? "store.damaged.whole" : "store.damaged")
                           .with("held", bare(damage.held))
                           .with("missing", bare(damage.missing))));
  ui.gap(8);
  return true;
}

void draw_little_room(App& app, Ui& ui, std::string_view where) {
  if (!app.little_room()) return;
  const double left = std::max(app.quota_bytes() - app.used_bytes(), 0.0);
  ui.notice(id_at(where, "little_room"), Tone::warn,
            ui.words()(Message("store.little_room").with("left", Quantity{left / 1e6, 1, "mb"})));
  ui.gap(8);
}

void draw_pen(App& app, Ui& ui) {
  draw_pen_asked(app, ui, "office");
  if (app.boot().writer) return;
  const Words& words = ui.words();
  ui.notice("office/pen", Tone::warn, words("store.other_tab"));
  ui.gap(8);
  const PenNews news = app.pen_news();
  if (news == PenNews::not_now) ui.notice("office/pen/answer", Tone::warn, words("pen.not_now"));
  if (news == PenNews::no_answer) ui.notice("office/pen/answer", Tone::warn, words("pen.no_answer"));
  const bool asking = news == PenNews::asking;
  if (ui.button("office/pen/ask", words(asking ? "pen.asking" : "pen.ask"), ButtonKind::secondary, !asking)) {
    app.ask_for_pen();
  }
  ui.gap(16);
}

void draw_pen_asked(App& app, Ui& ui, std::string_view where) {
  if (app.pen_news() != PenNews::asked || !app.holds_unsaved()) return;
  ui.notice(id_at(where, "pen/asked"), Tone::warn, ui.words()("pen.asked"));
  ui.gap(8);
}

}  // namespace tawny::ui
