#include "ui/drawings/plot.h"

#include <algorithm>
#include <cmath>

#include "ui/drawings/plot_parts.h"

namespace tawny::ui {
namespace {

constexpr float kPad = 12, kLabelGap = 6, kAxisGap = kMarkRadius + 4;
constexpr float kNotch = 8, kNotchGap = 2, kNotchWidth = 2.5f;
constexpr float kLeastMarkRadius = 2.5f, kLeastTickGap = 5, kUprightGap = 4;

// Of the plot without its text, and how many lines of text stand over, under and beside it.
constexpr float kBareHeight = 130, kTextLines = 6;

class PlotPainter {
 public:
  PlotPainter(Ui& ui, Rect where, const Plot& plot)
      : state_(UiParts::of(ui)),
        theme_(ui.theme()),
        face_(picture_face(state_)),
        where_(where),
        plot_(plot),
        area_(area_in(where, plot)),
        labels_(state_, face_, area_) {}

  Rect draw() {
    if (!plot_.place) paint_ground(state_, where_, theme_.raised);
    if (area_.w <= 0 || area_.h <= 0) return area_;
    clip(0);
    for (const PlotBand& band : plot_.bands) draw_band(band);
    state_.draw->PopClipRect();
    draw_up_axis();
    draw_across_axis();
    radius_ = mark_radius();
    for (const PlotUpright& upright : plot_.uprights) draw_upright(upright);
    clip(2);
    for (const PlotFan& fan : plot_.fans) draw_fan(fan);
    draw_bars();
    for (const PlotLine& line : plot_.lines) draw_line(line);
    if (plot_.picked) draw_picked(*plot_.picked);
    state_.draw->PopClipRect();
    for (const PlotNotch& notch : plot_.notches) draw_notch(notch);
    for (const PlotMarks& marks : plot_.many) draw_many(marks);
    for (const PlotMark& mark : plot_.marks) draw_mark(mark);
    for (const PlotMark& mark : plot_.marks) label_mark(mark);
    for (const PlotNotch& notch : plot_.notches) label_notch(notch);
    for (const PlotBand& band : plot_.bands) label_band(band);
    for (const PlotLine& line : plot_.lines) label_line(line);
    for (std::size_t i = 0; i < plot_.uprights.size(); ++i) label_upright(i);
    say_nothing();
    return area_;
  }

 private:
  Rect area_in(Rect where, const Plot& plot) const {
    if (plot.place) return plot.place->area;
    float labels = 0;
    for (const PlotTick& tick : plot.up.ticks) labels = std::max(labels, text_width(face_, tick.label));
    Rect area;
    area.x = where.x + kPad + labels + kAxisGap;
    area.w = where.x + where.w - kPad - area.x;
    area.y = where.y + kPad +
             (plot.up.unit.empty() && plot.uprights.empty() ? face_.size / 2 : face_.size + kLabelGap);
    area.h = where.y + where.h - kPad - face_.size - kLabelGap - area.y;
    return area;
  }

  float x_of(double across) const { return area_.x + share_of(plot_.across, across) * area_.w; }
  float y_of(double up) const {
    const float share = share_of(plot_.up, up);
    return area_.y + (plot_.up.downwards ? share : 1 - share) * area_.h;
  }
  // Of what lies between two heights, the upper and the lower end on the screen.
  std::pair<float, float> ends_of(double low, double high) const {
    return std::minmax({y_of(low), y_of(high)});
  }
  static float share_of(const PlotAxis& axis, double at) {
    return static_cast<float>((at - axis.low) / std::max(axis.high - axis.low, 1e-9));
  }
  // How far the unit reaches along the row over the plot.
  float unit_end() const {
    return plot_.up.unit.empty() ? where_.x : where_.x + kPad + text_width(face_, plot_.up.unit) + kUprightGap;
  }
  bool is_across(double at) const { return at >= plot_.across.low && at <= plot_.across.high; }
  int columns() const { return std::max(1, static_cast<int>(area_.w)); }

  void clip(float more) {
    state_.draw->PushClipRect(ImVec2(area_.x, area_.y - more),
                              ImVec2(area_.x + area_.w, area_.y + area_.h + more), true);
  }

  // Left, right of a band inside the plot; nothing where it lies outside.
  std::optional<std::pair<float, float>> sides_of(const PlotBand& band) const {
    const double from = std::max(band.from.value_or(plot_.across.low), plot_.across.low);
    const double until = std::min(band.until.value_or(plot_.across.high), plot_.across.high);
    if (from >= until) return std::nullopt;
    return std::pair(x_of(from), x_of(until));
  }

  void draw_band(const PlotBand& band) {
    const auto sides = sides_of(band);
    if (!sides) return;
    const auto [top, bottom] = ends_of(band.low, band.high);
    paint_ground(state_, {sides->first, top, sides->second - sides->first, std::max(2.0f, bottom - top)},
                 with_alpha(band.colour, 0.55f), 0);
  }

  void draw_up_axis() {
    if (!plot_.up.unit.empty()) {
      paint_text(state_, face_, where_.x + kPad, where_.y + kPad - 2, theme_.quiet_ink, plot_.up.unit);
    }
    float last = -1e9f;
    for (const PlotTick& tick : plot_.up.ticks) {
      const float y = y_of(tick.at);
      state_.draw->AddLine(ImVec2(area_.x, y), ImVec2(area_.x + area_.w, y), theme_.line);
      if (std::abs(y - last) < face_.size) continue;
      paint_text(state_, face_, area_.x - kAxisGap - text_width(face_, tick.label), y - face_.size / 2,
                 theme_.quiet_ink, tick.label);
      last = y;
    }
  }

  // From the right, so that what is newest is named; where labels would touch, every other one goes.
  void draw_across_axis() {
    const float bottom = area_.y + area_.h;
    const std::vector<PlotTick>& ticks = plot_.across.ticks;
    float free_until = where_.x + where_.w - kPad / 2;
    float last_tick = where_.x + where_.w + kLeastTickGap;
    const bool named = !plot_.place || plot_.place->names_across;
    for (auto tick = ticks.rbegin(); tick != ticks.rend(); ++tick) {
      const float x = x_of(tick->at);
      const float width = text_width(face_, tick->label);
      const float most_left = where_.x + where_.w - kPad / 2 - width;
      const float left = std::clamp(x - width / 2, where_.x + kPad, std::max(where_.x + kPad, most_left));
      if (left + width <= free_until) {
        state_.draw->AddLine(ImVec2(x, area_.y), ImVec2(x, bottom + 4), theme_.line);
        if (named) paint_text(state_, face_, left, bottom + kLabelGap, theme_.quiet_ink, tick->label);
        free_until = left - 2 * kLabelGap;
        last_tick = x;
      } else if (last_tick - x >= kLeastTickGap) {
        state_.draw->AddLine(ImVec2(x, bottom), ImVec2(x, bottom + 4), theme_.quiet_ink);
        last_tick = x;
      }
    }
    state_.draw->AddLine(ImVec2(area_.x, bottom), ImVec2(area_.x + area_.w, bottom), theme_.quiet_ink, 1.5f);
  }

  // Smaller where there are so many that they would touch.
  float mark_radius() const {
    std::size_t most = 1;
    for (const PlotMarks& marks : plot_.many) {
      const auto inside = [&](const auto& point) { return is_across(point.first); };
      most = std::max(
          most, static_cast<std::size_t>(std::count_if(marks.points.begin(), marks.points.end(), inside)));
    }
    const float largest = plot_.place ? plot_.place->mark_radius : kMarkRadius;
    return std::clamp(0.42f * area_.w / static_cast<float>(most), kLeastMarkRadius, largest);
  }

  void draw_upright(const PlotUpright& upright) {
    if (!is_across(upright.across)) return;
    const float x = x_of(upright.across);
    const float top = x > unit_end() ? where_.y + kPad : area_.y;
    paint_dashes(state_, ImVec2(x, top), ImVec2(x, area_.y + area_.h), theme_.quiet_ink, 1.5f);
  }

  Rect notch_at(const PlotNotch& notch) const {
    const float top = area_.y + area_.h - kNotch - static_cast<float>(notch.lane) * (kNotch + kNotchGap);
    return {x_of(notch.across) - kNotchWidth / 2, top, kNotchWidth, kNotch};
  }

  void draw_notch(const PlotNotch& notch) {
    if (!is_across(notch.across)) return;
    const Rect rect = notch_at(notch);
    state_.draw->AddRectFilled(ImVec2(rect.x, rect.y), ImVec2(rect.x + rect.w, rect.y + rect.h), notch.colour);
    labels_.take(rect);
  }

  void label_notch(const PlotNotch& notch) {
    if (!is_across(notch.across) || notch.label.empty()) return;
    const Rect rect = notch_at(notch);
    const float y = rect.y + rect.h / 2 - face_.size / 2;
    const float width = text_width(face_, notch.label);
    labels_.put(notch.label, theme_.quiet_ink,
                {{rect.x + rect.w + 2, y}, {rect.x - 2 - width, y}, {rect.x - width / 2, y - face_.size}});
  }

  void draw_picked(double across) {
    const float x = x_of(across);
    state_.draw->AddLine(ImVec2(x, area_.y), ImVec2(x, area_.y + area_.h), theme_.ink, 2);
  }

  void draw_fan(const PlotFan& fan) {
    std::vector<ImVec2> upper, lower;
    for (const PlotBar& slice : fan.slices) {
      const auto [top, bottom] = ends_of(slice.low, slice.high);
      upper.emplace_back(x_of(slice.across), top);
      lower.emplace_back(x_of(slice.across), bottom);
    }
    for (std::size_t i = 1; i < upper.size(); ++i) {
      state_.draw->AddQuadFilled(upper[i - 1], upper[i], lower[i], lower[i - 1],
                                 with_alpha(fan.colour, kFanShade));
      for (const auto* edge : {&upper, &lower}) {
        state_.draw->AddLine((*edge)[i - 1], (*edge)[i], fan.colour);
        labels_.shun((*edge)[i - 1], (*edge)[i]);
      }
    }
  }

  // Bars of one column lie on each other: the whole of them is drawn.
  void draw_bars() {
    const float half = std::max(0.75f, radius_ / 4);
    float low = 0, high = 0, at = -1e9f;
    const auto flush = [&] {
      if (at < -1e8f) return;
      state_.draw->AddRectFilled(ImVec2(at - half, high), ImVec2(at + half, low), plot_.bar_colour);
    };
    for (const PlotBar& bar : plot_.bars) {
      if (!is_across(bar.across)) continue;
      const float x = x_of(bar.across);
      const auto [top, bottom] = ends_of(bar.low, bar.high);
      if (x - at < 1) {
        low = std::max(low, bottom);
        high = std::min(high, top);
        continue;
      }
      flush();
      at = x;
      low = bottom;
      high = top;
    }
    flush();
  }

  void draw_line(const PlotLine& line) {
    std::vector<ImVec2> points;
    for (const auto& [across, up] : thin_line(line.points, plot_.across.low, plot_.across.high, columns())) {
      points.emplace_back(x_of(across), y_of(up));
    }
    for (std::size_t i = 1; i < points.size(); ++i) labels_.shun(points[i - 1], points[i]);
    const float thickness = thickness_of(line.stroke);
    if (const Dashes dashes = dashes_of(line.stroke); dashes.dash > 0) {
      for (std::size_t i = 1; i < points.size(); ++i) {
        dash_inside(points[i - 1], points[i], line.colour, thickness, dashes);
      }
    } else if (points.size() > 1) {
      state_.draw->AddPolyline(points.data(), static_cast<int>(points.size()), line.colour, 0, thickness);
    }
  }

  // A line that begins far outside is dashed from the side of the plot on.
  void dash_inside(ImVec2 from, ImVec2 to, Colour colour, float thickness, Dashes dashes) {
    const float right = area_.x + area_.w;
    if (to.x < area_.x || from.x > right) return;
    const auto at_x = [&](float x) {
      return ImVec2(x, from.y + (to.y - from.y) * (x - from.x) / std::max(to.x - from.x, 1e-6f));
    };
    const ImVec2 a = from.x < area_.x ? at_x(area_.x) : from;
    const ImVec2 b = to.x > right ? at_x(right) : to;
    paint_dashes(state_, a, b, colour, thickness, dashes);
  }

  void draw_many(const PlotMarks& marks) {
    for (const std::size_t i : thin_points(marks.points, plot_.across.low, plot_.across.high, columns())) {
      const auto& [across, up] = marks.points[i];
      put_shape(marks.shape, across, up, radius_, marks.colour);
    }
  }

  void draw_mark(const PlotMark& mark) {
    if (is_across(mark.across)) put_shape(mark.shape, mark.across, mark.up, kMarkRadius, mark.colour);
  }

  void put_shape(PlotShape shape, double across, double up, float radius, Colour colour) {
    const ImVec2 at(x_of(across), y_of(up));
    paint_shape(state_, shape, at, radius, colour, theme_.raised);
    labels_.take({at.x - radius, at.y - radius, 2 * radius, 2 * radius});
  }

  // Over its line, between it and its neighbour on either side.
  void label_upright(std::size_t at) {
    const PlotUpright& upright = plot_.uprights[at];
    if (!is_across(upright.across)) return;
    const float x = x_of(upright.across);
    float left = std::max(area_.x, unit_end()), right = where_.x + where_.w - kUprightGap;
    for (std::size_t i = 0; i < plot_.uprights.size(); ++i) {
      const float other = x_of(plot_.uprights[i].across);
      if (i < at) left = std::max(left, other);
      if (i > at) right = std::min(right, other);
    }
    for (const std::string& label : {upright.label, upright.short_label}) {
      const float needed = text_width(face_, label) + 2 * kUprightGap;
      const bool after = x > left - kUprightGap && x + needed <= right;
      const bool before = at + 1 == plot_.uprights.size() && x - needed >= std::max(left, uprights_until_);
      if (!after && !before) continue;
      const float from = after ? x + kUprightGap : x - needed + kUprightGap;
      paint_text(state_, face_, from, where_.y + kPad - 2, theme_.quiet_ink, label);
      uprights_until_ = from + needed - kUprightGap;
      return;
    }
  }

  // Over or under the mark, to whichever side there is room.
  void label_mark(const PlotMark& mark) {
    if (!is_across(mark.across)) return;
    const float x = x_of(mark.across), y = y_of(mark.up);
    const float width = text_width(face_, mark.label);
    const float away = kMarkRadius + kLabelGap;
    const float over = y - away - face_.size, under = y + away;
    labels_.put(mark.label, mark.colour,
                {{x - width / 2, over},
                 {x + away, y - face_.size / 2},
                 {x - away - width, y - face_.size / 2},
                 {x - width / 2, under},
                 {x + away, over},
                 {x - away - width, over}});
  }

  void label_band(const PlotBand& band) {
    const auto sides = sides_of(band);
    if (!sides) return;
    const auto [top, bottom] = ends_of(band.low, band.high);
    const float y = (top + bottom) / 2 - face_.size / 2;
    const float over = top - face_.size - 2, under = bottom + 2;
    const float right = sides->second - text_width(face_, band.label) - kLabelGap;
    const float left = sides->first + kLabelGap;
    labels_.put(band.label, theme_.quiet_ink,
                {{left, y}, {left, over}, {left, under}, {right, under}, {right, over}});
  }

  // Where the line has the most room around it: its ends first, then along it.
  void label_line(const PlotLine& line) {
    const PlotPoints seen = thin_line(line.points, plot_.across.low, plot_.across.high, columns());
    if (line.label.empty() || seen.empty()) return;
    const float width = text_width(face_, line.label);
    std::vector<ImVec2> places;
    const double last = static_cast<double>(seen.size() - 1);
    for (const double along : {0.98, 0.8, 0.6, 0.4, 0.2, 0.02}) {
      const auto before = static_cast<std::size_t>(along * last);
      const double rest = along * last - static_cast<double>(before);
      const auto& from = seen[before];
      const auto& to = seen[std::min(before + 1, seen.size() - 1)];
      const double across = from.first + rest * (to.first - from.first);
      const double up = from.second + rest * (to.second - from.second);
      const float x =
          std::clamp(x_of(across) - width / 2, area_.x, std::max(area_.x, area_.x + area_.w - width));
      places.emplace_back(x, y_of(up) - face_.size - kLabelGap);
      places.emplace_back(x, y_of(up) + kLabelGap);
    }
    // Else on the line's own end, over the line.
    const float right = x_of(seen.back().first) - width - kLabelGap;
    places.emplace_back(right, y_of(seen.back().second) - face_.size / 2);
    labels_.put(line.label, theme_.quiet_ink, places);
  }

  void say_nothing() {
    if (plot_.nothing.empty()) return;
    const Lines lines = break_lines(face_, plot_.nothing, area_.w - 2 * kLabelGap);
    const float top = area_.y + (area_.h - lines.height) / 2;
    paint_ground(state_, {area_.x, top, area_.w, lines.height}, with_alpha(theme_.raised, 0.8f), 3);
    paint_lines(state_, face_, lines, area_.x + kLabelGap, top, area_.w - 2 * kLabelGap, theme_.quiet_ink,
                Align::centre);
  }

  UiState& state_;
  const Theme& theme_;
  Face face_;
  Rect where_;
  const Plot& plot_;
  Rect area_;  // between the axes
  PlotLabels labels_;
  float uprights_until_ = 0;  // where the label of the upright before ends
  float radius_ = kMarkRadius;
};

}  // namespace

float plot_height(const Ui& ui) {
  return kBareHeight + kTextLines * face_of(UiParts::of(ui), TextSize::body).size;
}

Rect draw_plot(Ui& ui, Rect where, const Plot& plot) { return PlotPainter(ui, where, plot).draw(); }

}  // namespace tawny::ui
