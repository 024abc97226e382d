#include "ui/drawings/level_plot.h"

#include <algorithm>
#include <cmath>

#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kPad = 12, kLabelGap = 6, kMarkRadius = 6, kAxisGap = kMarkRadius + 4;

bool overlap(const Rect& a, const Rect& b) {
  return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

class LevelPlotPainter {
 public:
  LevelPlotPainter(Ui& ui, Rect where, const LevelPlot& plot)
      : state_(UiParts::of(ui)),
        theme_(ui.theme()),
        face_(face_of(state_, TextSize::body)),
        where_(where),
        plot_(plot) {
    float labels = 0;
    for (const PlotTick& tick : plot.up.ticks) labels = std::max(labels, text_width(face_, tick.label));
    area_.x = where.x + kPad + labels + kAxisGap;
    area_.w = where.x + where.w - kPad - area_.x;
    area_.y = where.y + kPad + (plot.up.unit.empty() ? face_.size / 2 : face_.size + kLabelGap);
    area_.h = where.y + where.h - kPad - face_.size - kLabelGap - area_.y;
  }

  void draw() {
    paint_ground(state_, where_, theme_.raised);
    if (area_.w <= 0 || area_.h <= 0) return;
    ImDrawList* draw = state_.draw;
    draw->PushClipRect(ImVec2(area_.x, area_.y), ImVec2(area_.x + area_.w, area_.y + area_.h), true);
    for (const PlotBand& band : plot_.bands) draw_band(band);
    draw->PopClipRect();
    draw_axes();
    draw->PushClipRect(ImVec2(area_.x, area_.y - 2), ImVec2(area_.x + area_.w, area_.y + area_.h + 2), true);
    for (const PlotLine& line : plot_.lines) draw_line(line);
    draw->PopClipRect();
    for (const PlotMark& mark : plot_.marks) draw_mark(mark);
    for (const PlotMark& mark : plot_.marks) label_mark(mark);
    for (const PlotBand& band : plot_.bands) label_band(band);
    for (const PlotLine& line : plot_.lines) label_line(line);
  }

 private:
  float x_of(double across) const { return area_.x + share_of(plot_.across, across) * area_.w; }
  float y_of(double up) const { return area_.y + (1 - share_of(plot_.up, up)) * area_.h; }
  static float share_of(const PlotAxis& axis, double at) {
    return static_cast<float>((at - axis.low) / std::max(axis.high - axis.low, 1e-9));
  }

  void draw_band(const PlotBand& band) {
    const float top = y_of(band.high);
    paint_ground(state_, {area_.x, top, area_.w, std::max(2.0f, y_of(band.low) - top)},
                 with_alpha(band.colour, 0.55f), 0);
  }

  void draw_axes() {
    ImDrawList* draw = state_.draw;
    const float bottom = area_.y + area_.h;
    if (!plot_.up.unit.empty()) {
      paint_text(state_, face_, where_.x + kPad, where_.y + kPad - 2, theme_.quiet_ink, plot_.up.unit);
    }
    float free_below = where_.y + where_.h;
    for (const PlotTick& tick : plot_.up.ticks) {
      const float y = y_of(tick.at);
      draw->AddLine(ImVec2(area_.x, y), ImVec2(area_.x + area_.w, y), theme_.line);
      if (y + face_.size / 2 > free_below) continue;
      paint_text(state_, face_, area_.x - kAxisGap - text_width(face_, tick.label), y - face_.size / 2,
                 theme_.quiet_ink, tick.label);
      free_below = y - face_.size / 2;
    }
    float free_from = where_.x + kPad;
    for (const PlotTick& tick : plot_.across.ticks) {
      const float x = x_of(tick.at);
      draw->AddLine(ImVec2(x, area_.y), ImVec2(x, bottom + 3), theme_.line);
      const float width = text_width(face_, tick.label);
      const float left = std::min(x - width / 2, where_.x + where_.w - kPad / 2 - width);
      if (left < free_from) continue;
      paint_text(state_, face_, left, bottom + kLabelGap, theme_.quiet_ink, tick.label);
      free_from = left + width + 2 * kLabelGap;
    }
    draw->AddLine(ImVec2(area_.x, bottom), ImVec2(area_.x + area_.w, bottom), theme_.quiet_ink, 1.5f);
  }

  void draw_line(const PlotLine& line) {
    std::vector<ImVec2> points;
    points.reserve(line.points.size());
    for (const auto& [across, up] : line.points) points.emplace_back(x_of(across), y_of(up));
    const float thickness = line.stroke == PlotStroke::strong ? 3.0f : 1.5f;
    if (line.stroke == PlotStroke::dashed) {
      for (std::size_t i = 1; i < points.size(); ++i) dash(points[i - 1], points[i], line.colour, thickness);
    } else if (points.size() > 1) {
      state_.draw->AddPolyline(points.data(), static_cast<int>(points.size()), line.colour, 0, thickness);
    }
  }

  void dash(ImVec2 from, ImVec2 to, Colour colour, float thickness) {
    constexpr float kDash = 5, kGap = 5;
    const float dx = to.x - from.x, dy = to.y - from.y;
    const float length = std::sqrt(dx * dx + dy * dy);
    for (float at = 0; at < length; at += kDash + kGap) {
      const float a = at / length, b = std::min(1.0f, (at + kDash) / length);
      state_.draw->AddLine(ImVec2(from.x + a * dx, from.y + a * dy), ImVec2(from.x + b * dx, from.y + b * dy),
                           colour, thickness);
    }
  }

  void draw_mark(const PlotMark& mark) {
    const ImVec2 at(x_of(mark.across), y_of(mark.up));
    state_.draw->AddCircleFilled(at, kMarkRadius + 2, theme_.raised);
    if (mark.hollow) {
      state_.draw->AddCircle(at, kMarkRadius - 1, mark.colour, 0, 2.5f);
    } else {
      state_.draw->AddCircleFilled(at, kMarkRadius, mark.colour);
    }
    taken_.push_back({at.x - kMarkRadius, at.y - kMarkRadius, 2 * kMarkRadius, 2 * kMarkRadius});
  }

  // Over or under the mark, to whichever side there is room.
  void label_mark(const PlotMark& mark) {
    const float x = x_of(mark.across), y = y_of(mark.up);
    const float width = text_width(face_, mark.label);
    const float away = kMarkRadius + kLabelGap;
    const float over = y - away - face_.size, under = y + away;
    put_label(mark.label, mark.colour,
              {{x - width / 2, over},
               {x + away, y - face_.size / 2},
               {x - away - width, y - face_.size / 2},
               {x - width / 2, under},
               {x + away, over},
               {x - away - width, over}});
  }

  void label_band(const PlotBand& band) {
    const float y = (y_of(band.low) + y_of(band.high)) / 2 - face_.size / 2;
    const float over = y_of(band.high) - face_.size - 2, under = y_of(band.low) + 2;
    const float right = area_.x + area_.w - text_width(face_, band.label) - kLabelGap;
    const float left = area_.x + kLabelGap;
    put_label(band.label, theme_.quiet_ink,
              {{left, y}, {left, over}, {left, under}, {right, under}, {right, over}});
  }

  // Where the line has the most room around it: its ends first, then along it.
  void label_line(const PlotLine& line) {
    if (line.label.empty() || line.points.empty()) return;
    const float width = text_width(face_, line.label);
    std::vector<ImVec2> places;
    const double last = static_cast<double>(line.points.size() - 1);
    for (const double along : {0.98, 0.75, 0.5, 0.25, 0.02}) {
      const auto before = static_cast<std::size_t>(along * last);
      const double rest = along * last - static_cast<double>(before);
      const auto& from = line.points[before];
      const auto& to = line.points[std::min(before + 1, line.points.size() - 1)];
      const double across = from.first + rest * (to.first - from.first);
      const double up = from.second + rest * (to.second - from.second);
      const float x = std::clamp(x_of(across) - width / 2, area_.x, area_.x + area_.w - width);
      places.emplace_back(x, y_of(up) - face_.size - kLabelGap);
      places.emplace_back(x, y_of(up) + kLabelGap);
    }
    put_label(line.label, theme_.quiet_ink, places);
  }

  // At the first of `places` where it stands inside the plot and over nothing that is written already; over a
  // line only where there is no other place.
  void put_label(const std::string& label, Colour colour, const std::vector<ImVec2>& places) {
    const float width = text_width(face_, label);
    if (label.empty() || width + 4 > area_.w) return;
    const Rect* found = nullptr;
    std::vector<Rect> free;
    for (const ImVec2& place : places) {
      const float x = std::clamp(place.x, area_.x + 2, area_.x + area_.w - width - 2);
      const Rect rect{x - 2, place.y, width + 4, face_.size};
      if (rect.y < area_.y || rect.y + rect.h > area_.y + area_.h) continue;
      const auto over = [&](const Rect& one) { return overlap(one, rect); };
      if (std::none_of(taken_.begin(), taken_.end(), over)) free.push_back(rect);
    }
    for (const Rect& rect : free) {
      if (found == nullptr && !crossed(rect)) found = &rect;
    }
    if (found == nullptr && !free.empty()) found = &free.front();
    if (found == nullptr) return;
    paint_ground(state_, *found, with_alpha(theme_.raised, 0.8f), 3);
    paint_text(state_, face_, found->x + 2, found->y, colour, label);
    taken_.push_back(*found);
  }

  // By any line, looked at every few pixels.
  bool crossed(const Rect& rect) const {
    constexpr float kStep = 4;
    for (const PlotLine& line : plot_.lines) {
      for (std::size_t i = 1; i < line.points.size(); ++i) {
        const ImVec2 from(x_of(line.points[i - 1].first), y_of(line.points[i - 1].second));
        const ImVec2 to(x_of(line.points[i].first), y_of(line.points[i].second));
        const float length = std::max(std::abs(to.x - from.x), std::abs(to.y - from.y));
        for (float at = 0; at <= length; at += kStep) {
          const float along = length > 0 ? at / length : 0;
          if (contains(rect, ImVec2(from.x + along * (to.x - from.x), from.y + along * (to.y - from.y)))) {
            return true;
          }
        }
      }
    }
    return false;
  }

  UiState& state_;
  const Theme& theme_;
  Face face_;
  Rect where_, area_;
  const LevelPlot& plot_;
  std::vector<Rect> taken_;  // by marks and labels
};

// 1, 2 or 5 times a power of ten.
double round_step(double span, int most) {
  const double least = span / std::max(1, most - 1);
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double times : {1.0, 2.0, 5.0}) {
    if (times * power >= least * (1 - 1e-9)) return times * power;
  }
  return 10 * power;
}

}  // namespace

PlotAxis round_axis(double low, double high, int most, const Words& words, std::string_view unit) {
  PlotAxis axis;
  axis.unit = unit.empty() ? std::string() : words.unit(unit);
  const double step = round_step(std::max(high - low, 1e-6), most);
  const int decimals = step >= 1 ? 0 : static_cast<int>(std::ceil(-std::log10(step)));
  axis.low = step * std::floor(low / step + 1e-9);
  axis.high = std::max(step * std::ceil(high / step - 1e-9), axis.low + step);
  for (double at = axis.low; at <= axis.high + step / 2; at += step) {
    axis.ticks.push_back({at, words.number(at, decimals)});
  }
  return axis;
}

PlotAxis clock_axis(Instant from, Instant until, int most, const Words& words, UtcOffset offset) {
  constexpr std::int64_t kHour = 3600;
  PlotAxis axis;
  axis.low = static_cast<double>(from.unix_s);
  axis.high = static_cast<double>(std::max(until.unix_s, from.unix_s + 60));
  const std::int64_t span_s = std::max<std::int64_t>(until.unix_s - from.unix_s, 60);
  std::int64_t step_s = 24 * kHour;
  bool found = false;
  for (const std::int64_t step :
       {kHour / 4, kHour / 2, kHour, 2 * kHour, 3 * kHour, 6 * kHour, 12 * kHour, 24 * kHour}) {
    if (found || span_s / step + 1 > most) continue;
    step_s = step;
    found = true;
  }
  while (span_s / step_s + 1 > most) step_s += 24 * kHour;
  const std::int64_t midnight = instant_at(civil_day(from, offset), 0, offset).unix_s;
  std::int64_t at = midnight + (from.unix_s - midnight + step_s - 1) / step_s * step_s;
  for (; at <= until.unix_s; at += step_s) {
    const Instant instant{at};
    const bool is_midnight = second_of_day(instant, offset) == 0;
    axis.ticks.push_back(
        {static_cast<double>(at), is_midnight ? words.day(civil_day(instant, offset)) : words.clock(instant)});
  }
  return axis;
}

void draw_level_plot(Ui& ui, Rect where, const LevelPlot& plot) { LevelPlotPainter(ui, where, plot).draw(); }

}  // namespace tawny::ui
