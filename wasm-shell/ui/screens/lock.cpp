// The lock: what is drawn in place of everything else until the PIN is right, and where a PIN is chosen, changed and
// taken off.
#include "ui/app_lock.h"
#include "ui/screens/parts.h"
#include "ui/screens/pin_pad.h"
#include "ui/screens/screens.h"
#include "ui/screens/typing.h"
#include "ui/screens/wipe.h"

namespace tawny::ui {
namespace {

void draw_lock_news(App& app, Ui& ui) {
  const Words& words = ui.words();
  AppLock& lock = app.lock();
  if (const std::int64_t wait_s = lock.wait_s(); wait_s > 0 && lock.news() != AppLock::News::checking) {
    ui.notice("lock/wait", Tone::alarm, words(Message("lock.wait").with("time", app.now().plus_s(wait_s))));
    return;
  }
  switch (lock.news()) {
    case AppLock::News::wrong:
      ui.notice("lock/wrong", Tone::alarm, words("lock.wrong"));
      return;
    case AppLock::News::unavailable:
      ui.notice("lock/unavailable", Tone::alarm, words("lock.unavailable"));
      return;
    case AppLock::News::checking:
      ui.text("lock/checking", words("lock.checking"), TextSize::body, Tone::quiet);
      return;
    default:
      return;
  }
}

bool may_try(App& app) { return app.lock().wait_s() == 0 && app.lock().news() != AppLock::News::checking; }

// Keys and the main button under them; true when that was pressed.
bool draw_pin_footer(App& app, Ui& ui, PinPad& pad, const std::string& label) {
  const float keys = keys_height(ui);
  ui.begin_footer();
  if (pad.draw_keys(ui, "lock/keys", keys)) app.lock().clear_news();
  ui.gap();
  const bool pressed = ui.button("lock/open", label, ButtonKind::primary, pad.is_long_enough() && may_try(app));
  ui.end_footer();
  return pressed;
}

class LockScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (forgotten_) {
      if (ui.top_bar(words("lock.forgot.title"), true)) {
        forgotten_ = false;
        return;
      }
      wipe_.draw(app, ui, false);
      return;
    }
    ui.top_bar("Tawny", false);
    ui.begin_content("lock", keys_height(ui) + Sizes::kTarget + 2 * Sizes::kGrid);
    ui.heading("lock/title", words("lock.locked"));
    pad_.draw_dots(ui, "lock/typed");
    draw_lock_news(app, ui);
    ui.gap();
    if (ui.button("lock/forgot", words("lock.forgot"), ButtonKind::quiet)) forgotten_ = true;
    ui.end_content();
    if (draw_pin_footer(app, ui, pad_, words("lock.open"))) {
      app.lock().offer(pad_.pin());
      pad_.clear();
    }
  }

 private:
  PinPad pad_;
  WipePart wipe_;
  bool forgotten_ = false;
};

class LockSetupScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("lock.title"));
    AppLock& lock = app.lock();
    if (step_ != Step::none &&
        (lock.news() == AppLock::News::chosen || lock.news() == AppLock::News::taken_off)) {
      step_ = Step::none;
    }
    if (step_ == Step::none) {
      draw_state(app, ui);
    } else {
      draw_typing(app, ui);
    }
  }

 private:
  enum class Step { none, present, first, again };

  void draw_state(App& app, Ui& ui) {
    const Words& words = ui.words();
    AppLock& lock = app.lock();
    ui.begin_content("lock_setup");
    if (lock.news() == AppLock::News::chosen) ui.notice("lock/done", Tone::open, words("lock.chosen"));
    if (lock.news() == AppLock::News::taken_off) ui.notice("lock/done", Tone::open, words("lock.taken_off"));
    ui.heading("lock/protects", words("lock.protects"));
    ui.point("lock/protects/does", words("lock.protects.does"));
    ui.point("lock/protects/does_not", words("lock.protects.does_not"));
    ui.point("lock/protects/forgot", words("lock.protects.forgot"));
    ui.gap(16);
    if (app.demo()) {
      ui.notice("lock/demo", Tone::quiet, words("lock.demo"));
    } else if (!lock.can_be_set()) {
      ui.notice("lock/insecure", Tone::warn, words("lock.insecure"));
    } else if (!lock.is_set()) {
      if (ui.button("lock/choose", words("lock.choose"), ButtonKind::primary)) begin(app, Step::first);
    } else {
      const std::vector<Option> times = {{"5", words("lock.after.5"), {}, {}},
                                         {"30", words("lock.after.30"), {}, {}},
                                         {"0", words("lock.after.0"), {}, {}}};
      if (auto chosen = ui.choice("lock/after", words("lock.after"), times, lock.after()))
        lock.set_after(*chosen);
      ui.gap(16);
      if (ui.button("lock/change", words("lock.change"))) begin_change(app, false);
      ui.gap();
      if (ui.button("lock/off", words("lock.off"), ButtonKind::quiet)) begin_change(app, true);
    }
    ui.gap(16);
    ui.end_content();
  }

  void begin(App& app, Step step) {
    app.lock().clear_news();
    step_ = step;
    pad_.clear();
  }

  void begin_change(App& app, bool off) {
    off_ = off;
    present_.clear();
    begin(app, Step::present);
  }

  void draw_typing(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_content("lock_typing", keys_height(ui) + Sizes::kTarget + 2 * Sizes::kGrid);
    ui.heading("lock/ask", words(step_ == Step::present ? "lock.ask.present"
                                 : step_ == Step::first ? "lock.ask.new"
                                                        : "lock.ask.again"));
    pad_.draw_dots(ui, "lock/typed");
    if (step_ == Step::first) {
      ui.text("lock/length", words("lock.length"), TextSize::body, Tone::quiet);
      if (differs_) ui.notice("lock/differs", Tone::warn, words("lock.differs"));
    }
    if (!present_.empty() || step_ == Step::present) {
      draw_lock_news(app, ui);
    } else if (app.lock().news() == AppLock::News::checking) {
      ui.text("lock/checking", words("lock.checking"), TextSize::body, Tone::quiet);
    } else if (app.lock().news() == AppLock::News::unavailable) {
      ui.notice("lock/unavailable", Tone::alarm, words("lock.unavailable"));
    }
    ui.end_content();
    if (draw_pin_footer(app, ui, pad_,
                        words(step_ == Step::again || off_here() ? "number.accept" : "lock.next"))) {
      accept(app);
    }
  }

  bool off_here() const { return step_ == Step::present && off_; }

  void accept(App& app) {
    const std::string pin = pad_.pin();
    pad_.clear();
    switch (step_) {
      case Step::present:
        if (off_) {
          app.lock().change(pin, {});
        } else {
          present_ = pin;
          step_ = Step::first;
        }
        return;
      case Step::first:
        first_ = pin;
        differs_ = false;
        step_ = Step::again;
        return;
      case Step::again:
        if (pin != first_) {
          differs_ = true;
          step_ = Step::first;
        } else if (present_.empty()) {
          app.lock().choose(pin);
        } else {
          app.lock().change(present_, pin);
          // A wrong present PIN is asked for anew.
          step_ = Step::present;
          present_.clear();
        }
        return;
      case Step::none:
        return;
    }
  }

  PinPad pad_;
  Step step_ = Step::none;
  bool off_ = false, differs_ = false;
  std::string present_, first_;
};

}  // namespace

std::unique_ptr<Screen> make_lock_screen() { return std::make_unique<LockScreen>(); }
std::unique_ptr<Screen> make_lock_setup_screen() { return std::make_unique<LockSetupScreen>(); }

}  // namespace tawny::ui
