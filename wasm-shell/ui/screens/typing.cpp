#include "ui/screens/typing.h"

#include <algorithm>
#include <cmath>

#include "base/decimal.h"

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
