#include "ui/screens/save_flow.h"

#include <string>
#include <utility>

#include "ui/screens/take_out.h"

namespace tawny::ui {
namespace {

std::string why_not_saved(const Words& words, const SaveNews& news) {
  if (news.problem) return words(news.problem->message);
  switch (news.outcome) {
    case SaveOutcome::full:
      return words("save.full");
    case SaveOutcome::refused:
      return words("save.refused");
    case SaveOutcome::newer:
      return words("store.newer");
    case SaveOutcome::saved:
    case SaveOutcome::failed:
      break;
  }
  return words("save.failed") + (news.detail.empty() ? std::string() : " (" + news.detail + ")");
}

// True when the person chose to leave the entry unsaved.
bool draw_failure(App& app, Ui& ui) {
  const Words& words = ui.words();
  ui.notice("save/failed", Tone::alarm, why_not_saved(words, app.news()));
  ui.gap();
  // What could not even be written down will not be written the second time either.
  if (!app.news().problem && ui.button("save/retry", words("save.retry"), ButtonKind::primary)) app.retry();
  ui.gap();
  if (ui.button("save/take_out", words("save.take_out"))) {
    take_out_bundle(app);
  }
  ui.gap();
  if (!ui.button("save/give_up", words("save.give_up"), ButtonKind::danger)) return false;
  app.give_up();
  return true;
}

}  // namespace

void SaveFlow::put(App& app, Draft draft) {
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  put(app, std::move(drafts));
}

void SaveFlow::put(App& app, std::vector<Draft> drafts) {
  const SaveNews::State before = app.news().state;
  if (before == SaveNews::State::saving || before == SaveNews::State::failed || !app.can_write()) return;
  done_ = std::make_shared<bool>(false);
  state_ = State::saving;
  app.put(std::move(drafts), [done = done_] { *done = true; });
}

SaveFlow::State SaveFlow::poll(App& app) {
  if (state_ != State::saving && state_ != State::failed) return state_;
  const SaveNews& news = app.news();
  if (done_ && *done_) {
    state_ = State::saved;
    ids_ = news.ids;
    saved_at_ = news.at;
  } else if (news.state == SaveNews::State::failed) {
    state_ = State::failed;
  } else if (news.state == SaveNews::State::saving) {
    state_ = State::saving;
  } else {
    state_ = State::idle;
  }
  return state_;
}

void SaveFlow::draw_waiting(App& app, Ui& ui) {
  if (state_ == State::saving) {
    ui.status("save/saving", Status::waiting, ui.words()("save.saving"));
    return;
  }
  if (draw_failure(app, ui)) reset();
}

void draw_gate_news(App& app, Ui& ui) {
  int number = 0;
  for (const Message& gate : app.news().gates) {
    ui.gap();
    ui.notice("save/gate/" + std::to_string(++number), Tone::open, ui.words()(gate));
  }
}

bool draw_act_left_behind(App& app, Ui& ui) {
  switch (app.news().state) {
    case SaveNews::State::none:
    case SaveNews::State::saved:
      return false;
    case SaveNews::State::saving:
      ui.status("save/saving", Status::waiting, ui.words()("save.saving"));
      return true;
    case SaveNews::State::failed:
      break;
  }
  ui.text("save/left_behind", ui.words()("save.left_behind"));
  draw_failure(app, ui);
  return true;
}

}  // namespace tawny::ui
