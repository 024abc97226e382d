// A number typed with our own keys, opened on top of the screen that asks for it.
#include <algorithm>
#include <utility>

#include "ui/screens/parts.h"
#include "ui/screens/screens.h"
#include "ui/screens/typing.h"

namespace tawny::ui {
namespace {

class NumberScreen : public Screen {
 public:
  NumberScreen(NumberAsk ask, std::function<void(App&, double)> done)
      : ask_(std::move(ask)), done_(std::move(done)) {
    if (ask_.present) typing_.fill(*ask_.present, ask_.decimals);
  }

  void draw(App& app, Ui& ui) override {
    app.frame_bars(ui, ask_.title);
    const ScreenShape shape = screen_shape();
    if (shape.low()) {
      ui.begin_content("number");
      ui.begin_cells(2);
      draw_value(ui);
      draw_accept(app, ui);
      ui.next_cell();
      draw_keys(ui, shape.height - 2 * Sizes::kTarget);
      ui.end_cells();
      ui.end_content();
      return;
    }
    in_view_.keep(ui, "number/value", typing_);
    const float keys = keys_height(ui);
    ui.begin_content("number", keys + Sizes::kTarget + 2 * Sizes::kGrid);
    draw_value(ui);
    if (ui.text_scale() > 1 && ask_.on_clear) {
      ui.gap();
      draw_clear(app, ui);
    }
    ui.end_content();
    ui.begin_footer();
    draw_keys(ui, keys);
    ui.gap();
    draw_accept(app, ui);
    ui.end_footer();
  }

  bool holds_unsaved() const override { return !typing_.text.empty() && !typing_.fresh; }

 private:
  void draw_value(Ui& ui) {
    const Words& words = ui.words();
    ui.number("number/value", ask_.title, typing_.shown(words), ask_.unit.empty() ? "" : words.unit(ask_.unit));
    if (!ask_.last.empty()) ui.text("number/last", ask_.last, TextSize::body, Tone::quiet);
    if (ask_.low && ask_.high) {
      ui.text("number/range",
              words(Message("number.range")
                        .with("low", Quantity{*ask_.low, decimals_of(*ask_.low), ""})
                        .with("high", Quantity{*ask_.high, decimals_of(*ask_.high), ask_.unit})),
              TextSize::body, Tone::quiet);
    }
    if (refusal_) ui.notice("number/refused", Tone::alarm, words(*refusal_));
  }

  void draw_keys(Ui& ui, float height) {
    if (typing_keypad(ui, "number/keys", typing_, height, ask_.decimals > 0, ask_.sign)) refusal_.reset();
  }

  void draw_accept(App& app, Ui& ui) {
    // With large letters the two do not stand beside one another: the lesser one goes to the value.
    if (!ask_.on_clear || ui.text_scale() > 1) {
      draw_ok(app, ui);
      return;
    }
    ui.begin_cells(2);
    draw_clear(app, ui);
    ui.next_cell();
    draw_ok(app, ui);
    ui.end_cells();
  }

  void draw_clear(App& app, Ui& ui) {
    if (!ui.button("number/clear", ask_.clear)) return;
    const std::function<void(App&)> on_clear = ask_.on_clear;
    app.back();
    on_clear(app);
  }

  void draw_ok(App& app, Ui& ui) {
    if (!ui.button("number/accept", ui.words()("number.accept"), ButtonKind::primary,
                   typing_.value().has_value())) {
      return;
    }
    const double value = *typing_.value();
    if (ask_.low && value < *ask_.low) {
      refusal_ = Message("number.too_low").with("low", Quantity{*ask_.low, decimals_of(*ask_.low), ask_.unit});
    } else if (ask_.high && value > *ask_.high) {
      refusal_ =
          Message("number.too_high").with("high", Quantity{*ask_.high, decimals_of(*ask_.high), ask_.unit});
    } else {
      // This screen is closed first, so that `done` may open another.
      const std::function<void(App&, double)> done = done_;
      app.back();
      done(app, value);
    }
  }

  int decimals_of(double limit) const {
    return limit == static_cast<double>(static_cast<long long>(limit)) ? 0 : ask_.decimals;
  }

  NumberAsk ask_;
  std::function<void(App&, double)> done_;
  Typing typing_;
  TypedInView in_view_;
  std::optional<Message> refusal_;
};

}  // namespace

std::unique_ptr<Screen> make_number_screen(NumberAsk ask, std::function<void(App&, double)> done) {
  return std::make_unique<NumberScreen>(std::move(ask), std::move(done));
}

}  // namespace tawny::ui
