// The office's code: squares that a phone's camera reads (ISO/IEC 18004). Dark on light by day and by night,
// with the quiet zone of four squares that the standard asks for.
#include <algorithm>

#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {

void draw_code(Ui& ui, Rect where, std::string_view rows) {
  constexpr float kQuietZone = 4;
  const std::size_t size = rows.find('\n') == std::string_view::npos ? rows.size() : rows.find('\n');
  if (size == 0) return;
  UiState& state = UiParts::of(ui);
  const float side = std::min(where.w, where.h);
  const float square = side / (static_cast<float>(size) + 2 * kQuietZone);
  const Rect ground{where.x + (where.w - side) / 2, where.y, side, side};
  paint_ground(state, ground, IM_COL32_WHITE, 0);
  for (std::size_t y = 0; y < size; ++y) {
    for (std::size_t x = 0; x < size; ++x) {
      const std::size_t at = y * (size + 1) + x;
      if (at >= rows.size() || rows[at] != '1') continue;
      const float left = ground.x + (static_cast<float>(x) + kQuietZone) * square;
      const float top = ground.y + (static_cast<float>(y) + kQuietZone) * square;
      paint_ground(state, Rect{left, top, square + 0.5f, square + 0.5f}, IM_COL32_BLACK, 0);
    }
  }
}

}  // namespace tawny::ui
