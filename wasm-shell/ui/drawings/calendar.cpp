#include "ui/drawings/calendar.h"

#include <algorithm>
#include <cmath>

#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kRow = 56;
constexpr float kMark = 48;  // what a thumb needs
constexpr float kBandGap = 1;
constexpr float kLabelRoom = 6;
constexpr float kNames = 168;

float row_height(const Ui& ui) { return std::max(kRow, std::round(44 * picture_scale(ui)) + 12); }
float head_height(const Ui& ui) { return std::round(28 * picture_scale(ui)) + 4; }

class Drawn {
 public:
  Drawn(Ui& ui, std::string_view id, Rect where, const Calendar& calendar)
      : ui_(ui), state_(UiParts::of(ui)), theme_(ui.theme()), id_(id), where_(where), calendar_(calendar) {
    row_ = row_height(ui);
    head_ = head_height(ui);
    names_ = std::min(where.w / 3, std::round(kNames * std::sqrt(ui.text_scale())));
    day_ = (where.w - names_) / static_cast<float>(std::max(1, calendar.days));
    face_ = picture_face(state_);
    bold_ = picture_face(state_, true);
  }

  CalendarTouch draw() {
    paint_ground(state_, where_, theme_.raised);
    const float top = where_.y + head_;
    const auto count = static_cast<int>(calendar_.rows.size());
    const int first = std::clamp(static_cast<int>((state_.view.y - top) / row_), 0, count);
    const int last =
        std::clamp(static_cast<int>((state_.view.y + state_.view.h - top) / row_) + 1, first, count);
    const float bottom = top + static_cast<float>(count) * row_;
    for (const Calendar::Tick& tick : calendar_.ticks) {
      const float x = x_of(tick.day);
      state_.draw->AddLine(ImVec2(x, top), ImVec2(x, bottom), with_alpha(theme_.line, 0.7f));
    }
    for (int i = first; i < last; ++i) draw_row(calendar_.rows[static_cast<std::size_t>(i)], top_of(i));
    const float today = x_of(calendar_.today);
    state_.draw->AddLine(ImVec2(today, top), ImVec2(today, bottom), theme_.act, 2);
    for (int i = first; i < last; ++i) draw_marks(calendar_.rows[static_cast<std::size_t>(i)], top_of(i));
    draw_head();
    // Last, so that a mark is asked first.
    if (touch(state_, id_, where_, true, true).pressed) told_.elsewhere = true;
    return std::move(told_);
  }

 private:
  float top_of(int row) const { return where_.y + head_ + static_cast<float>(row) * row_; }
  float left() const { return where_.x + names_; }
  float right() const { return where_.x + where_.w; }
  float x_of(double day) const { return left() + static_cast<float>(day - calendar_.first) * day_; }

  void draw_name(const Face& face, Colour ink, const std::string& text, float y) {
    const Rect where{where_.x + 12, y, names_ - 16, face.size};
    if (text_width(face, text) <= where.w) {
      paint_text(state_, face, where.x, y, ink, text);
    } else {
      paint_fitted(state_, face, where, ink, text, 10);
    }
  }

  void draw_row(const CalendarRow& row, float top) {
    if (row.remark.empty()) {
      draw_name(bold_, theme_.ink, row.name, top + (row_ - bold_.size) / 2);
    } else {
      draw_name(bold_, theme_.ink, row.name, top + row_ / 2 - bold_.size);
      draw_name(face_, theme_.quiet_ink, row.remark, top + row_ / 2);
    }
    state_.draw->AddLine(ImVec2(where_.x, top + row_), ImVec2(right(), top + row_), theme_.line);
    if (row.spare_from && row.spare_until) {
      const float y = top + row_ / 2;
      const float from = std::max(left(), x_of(*row.spare_from));
      const float until = std::min(right(), x_of(*row.spare_until));
      for (float x = from; x < until; x += 6) {
        state_.draw->AddLine(ImVec2(x, y), ImVec2(std::min(x + 3, until), y), theme_.quiet_ink, 2);
      }
    }
    for (const CalendarBand& band : row.bands) draw_band(band, top);
  }

  void draw_band(const CalendarBand& band, float top) {
    const float from = x_of(band.from);
    const float until = x_of(band.until) - kBandGap;
    const Rect whole{std::max(from, left()), top + 12, std::min(until, right()) - std::max(from, left()),
                     row_ - 24};
    fade(band, whole, from, until);
    if (whole.w <= 0) return;
    paint_ground(state_, whole, band.colour, 2);
    for (const std::string* label : {&band.label, &band.short_label}) {
      const float width = text_width(face_, *label);
      if (label->empty() || width + kLabelRoom > whole.w) continue;
      const Colour ink = contrast_ratio(theme_.ink, band.colour) >= contrast_ratio(theme_.ground, band.colour)
                             ? theme_.ink
                             : theme_.ground;
      paint_text(state_, face_, whole.x + (whole.w - width) / 2, whole.y + (whole.h - face_.size) / 2, ink,
                 *label);
      break;
    }
  }

  void fade(const CalendarBand& band, const Rect& whole, float from, float until) {
    const auto gradient = [&](float x0, float x1, float alpha0, float alpha1) {
      const float low = std::max(x0, left());
      const float high = std::min(x1, right());
      if (high <= low) return;
      // What the edge cuts off takes its part of the fading with it.
      const auto alpha = [&](float x) { return alpha0 + (alpha1 - alpha0) * (x - x0) / (x1 - x0); };
      const Colour a = with_alpha(band.colour, alpha(low));
      const Colour b = with_alpha(band.colour, alpha(high));
      state_.draw->AddRectFilledMultiColor(ImVec2(low, whole.y + 4), ImVec2(high, whole.y + whole.h - 4), a, b,
                                           b, a);
    };
    const auto px = [this](double days) { return static_cast<float>(days) * day_; };
    if (band.fade_before > 0) gradient(from - px(band.fade_before), from, 0, 0.75f);
    if (band.fade_after > 0) gradient(until, until + px(band.fade_after), 0.75f, 0);
  }

  void draw_marks(const CalendarRow& row, float top) {
    for (const CalendarMark& mark : row.marks) {
      const float middle = top + row_ / 2;
      const float x = x_of(mark.day);
      if (mark.was) {
        const float was = x_of(*mark.was);
        state_.draw->AddLine(ImVec2(was, middle), ImVec2(x, middle), theme_.quiet_ink, 1);
        diamond(was, middle, 8, 0, theme_.quiet_ink);
      }
      const Colour colour = mark.alarm ? theme_.alarm : theme_.act;
      diamond(x, middle, mark.picked ? 14 : 11, colour, theme_.raised);
      if (mark.picked) diamond(x, middle, 18, 0, colour);
      if (!mark.label.empty()) {
        const float width = text_width(bold_, mark.label);
        const float after = std::max(x, mark.was ? x_of(*mark.was) : x) + 22;
        if (after + width < right()) {
          paint_text(state_, bold_, after, middle - bold_.size / 2, colour, mark.label);
        }
      }
      const float at = std::clamp(x - kMark / 2, left(), right() - kMark);
      const Rect target{at, middle - kMark / 2, kMark, kMark};
      const PlotTouch touched = ui_.plot_touch(mark.id, target);
      if (touched.pressed) told_.pressed = mark.id;
      if (touched.pan_px != 0) {
        told_.dragged = mark.id;
        told_.days += touched.pan_px / day_;
      }
      put_node(state_, mark.id, NodeRole::button, mark.name, target, {}, mark.picked ? "pressed" : "");
    }
  }

  void diamond(float x, float y, float radius, Colour fill, Colour edge) {
    const ImVec2 corners[] = {{x, y - radius}, {x + radius, y}, {x, y + radius}, {x - radius, y}};
    if (fill != 0) state_.draw->AddConvexPolyFilled(corners, 4, fill);
    state_.draw->AddPolyline(corners, 4, edge, ImDrawFlags_Closed, 2);
  }

  void draw_head() {
    const float y = std::clamp(state_.view.y, where_.y, std::max(where_.y, where_.y + where_.h - head_ - row_));
    paint_ground(state_, {where_.x, y, where_.w, head_}, theme_.sunk, y > where_.y ? 0 : Sizes::kCorner);
    float free = left();
    for (const Calendar::Tick& tick : calendar_.ticks) {
      const float x = x_of(tick.day) + 3;
      const float width = text_width(face_, tick.label);
      if (x < free || x + width > right() - 4) continue;
      paint_text(state_, face_, x, y + (head_ - face_.size) / 2, theme_.quiet_ink, tick.label);
      free = x + width + 8;
    }
  }

  Ui& ui_;
  UiState& state_;
  const Theme& theme_;
  std::string_view id_;
  Rect where_;
  const Calendar& calendar_;
  CalendarTouch told_;
  float row_ = 0, head_ = 0, names_ = 0, day_ = 1;
  Face face_, bold_;
};

}  // namespace

float calendar_height(const Ui& ui, const Calendar& calendar) {
  return head_height(ui) + static_cast<float>(calendar.rows.size()) * row_height(ui);
}

CalendarTouch draw_calendar(Ui& ui, std::string_view id, Rect where, const Calendar& calendar) {
  return Drawn(ui, id, where, calendar).draw();
}

}  // namespace tawny::ui
