#include "ui/screens/typing.h"

#include <algorithm>
#include <cmath>

#include "base/decimal.h"
#include "ui/screens/parts.h"

namespace tawny::ui {

void Typing::fill(double value, int decimals) {
  text = format_decimal(value, decimals);
  fresh = true;
}

void Typing::clear() {
  text.clear();
  fresh = false;
}

std::optional<double> Typing::value() const {
  const Result<double> parsed = parse_decimal(text);
  if (!parsed) return std::nullopt;
  return *parsed;
}

void Typing::nudge(int steps, int decimals, std::optional<double> start) {
  const std::optional<double> from = value() ? value() : start;
  if (!from) return;
  const double step = std::pow(10.0, -decimals);
  // Without anything typed, the first press shows the start itself: it is the likeliest value.
  const double moved = value() ? *from + steps * step : *from;
  fill(std::max(0.0, moved), decimals);
}

std::string Typing::shown(const Words& words) const {
  if (text.empty()) return "–";
  std::string typed = text;
  std::replace(typed.begin(), typed.end(), '.', words.decimal_mark());
  return typed;
}

float keys_height(const Ui& ui) {
  const float share = 0.4f / (1 + 0.6f * (ui.text_scale() - 1));
  const float least = ui.text_scale() > 1 ? 216.0f : 240.0f;
  return std::clamp(screen_shape().height * share, least, 340.0f);
}

void TypedInView::keep(Ui& ui, std::string_view id, const Typing& typing) {
  const ScreenShape shape = screen_shape();
  if (typing_ == &typing && text_ == typing.text && width_ == shape.width && height_ == shape.height &&
      text_scale_ == ui.text_scale()) {
    return;
  }
  typing_ = &typing;
  text_ = typing.text;
  width_ = shape.width;
  height_ = shape.height;
  text_scale_ = ui.text_scale();
  ui.reveal(id);
}

bool typing_keypad(Ui& ui, std::string_view id, Typing& typing, float height, bool decimals, bool sign) {
  std::string text = typing.text;
  if (!ui.keypad(id, text, height, decimals, sign)) return false;
  const bool added =
      text.size() == typing.text.size() + 1 && text.compare(0, typing.text.size(), typing.text) == 0;
  if (typing.fresh && added) text.erase(0, typing.text.size());
  typing.text = std::move(text);
  typing.fresh = false;
  return true;
}

}  // namespace tawny::ui
