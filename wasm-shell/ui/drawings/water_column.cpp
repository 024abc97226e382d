// The water column: a pond cut through, with what is known of its water.
#include <algorithm>
#include <cmath>

#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kPi = 3.14159265f;

class Column {
 public:
  Column(Ui& ui, Rect where, const WaterColumn& column, bool large)
      : ui_(ui),
        state_(UiParts::of(ui)),
        draw_(*state_.draw),
        theme_(ui.theme()),
        column_(column),
        large_(large) {
    pond_ = where;
    if (large) {  // room for the gauge at the left
      const float figures = text_width(picture_face(state_, true), ui.words().number(column.full_cm, 0));
      const float room = std::max(52.0f, figures + 26);
      pond_.x += room;
      pond_.w -= room;
    }
    crest_y_ = pond_.y + (large ? 12.0f : 3.0f);
    bottom_y_ = pond_.y + pond_.h - (large ? 28.0f : 7.0f);
    // A little bank stands out above the highest level.
    full_y_ = crest_y_ + (bottom_y_ - crest_y_) * 0.12f;
    span_cm_ = std::max(1.0, column.full_cm - column.lowest_cm);
    // Real banks are far flatter than the picture is wide, so slopes are told apart, not drawn to scale.
    const float depth = bottom_y_ - crest_y_;
    const auto slope = static_cast<float>(std::clamp(column.bank_slope, 0.0, 6.0));
    run_ = std::min(depth * (0.2f + 0.12f * slope), pond_.w * 0.15f);
    outer_ = pond_.w * 0.06f;
    berm_ = outer_ + pond_.w * 0.05f;
  }

  void draw() {
    draw_soil();
    if (column_.level_cm) {
      draw_water(*column_.level_cm);
    } else {
      draw_unknown();
    }
    draw_coming();
    if (column_.level_cm && column_.secchi_cm) draw_disc(*column_.level_cm, *column_.secchi_cm);
    if (large_) draw_gauge();
  }

 private:
  float y_of(double level_cm) const {
    const double share = (level_cm - column_.lowest_cm) / span_cm_;
    const float y = bottom_y_ - static_cast<float>(share) * (bottom_y_ - full_y_);
    return std::clamp(y, crest_y_, bottom_y_);
  }

  // Inner face of the banks at a height.
  float left_at(float y) const {
    const float share = (bottom_y_ - y) / std::max(1.0f, bottom_y_ - crest_y_);
    return pond_.x + berm_ + run_ * (1 - share);
  }
  float right_at(float y) const { return pond_.x + pond_.w - (left_at(y) - pond_.x); }

  void fill(std::initializer_list<ImVec2> points, Colour top, Colour bottom, float top_y, float bottom_y) {
    const int first = draw_.VtxBuffer.Size;
    draw_.AddConvexPolyFilled(points.begin(), static_cast<int>(points.size()), top);
    shade_down(&draw_, first, top_y, bottom_y, top, bottom);
  }

  // Two banks with the land a little lower behind them, and the bottom between.
  void draw_soil() {
    const float end = pond_.y + pond_.h;
    const float left = pond_.x;
    const float right = pond_.x + pond_.w;
    const float land_y = crest_y_ + (bottom_y_ - crest_y_) * 0.14f;
    const Colour top = theme_.soil;
    const Colour deep = blend(theme_.soil, theme_.night ? 0xFF000000u : theme_.ink, 0.35f);
    const float foot_left = left_at(bottom_y_);
    const float foot_right = right_at(bottom_y_);
    fill({ImVec2(left, land_y), ImVec2(left + outer_, crest_y_), ImVec2(left + berm_, crest_y_),
          ImVec2(foot_left, bottom_y_ + 0.5f), ImVec2(foot_left, end), ImVec2(left, end)},
         top, deep, crest_y_, end);
    fill({ImVec2(right - berm_, crest_y_), ImVec2(right - outer_, crest_y_), ImVec2(right, land_y),
          ImVec2(right, end), ImVec2(foot_right, end), ImVec2(foot_right, bottom_y_ + 0.5f)},
         top, deep, crest_y_, end);
    fill({ImVec2(foot_left - 1, bottom_y_), ImVec2(foot_right + 1, bottom_y_), ImVec2(foot_right + 1, end),
          ImVec2(foot_left - 1, end)},
         top, deep, crest_y_, end);
    if (large_) {  // grains
      const Colour grain = with_alpha(theme_.ink, theme_.night ? 0.35f : 0.25f);
      for (int i = 0; i < 30; ++i) {
        const auto n = static_cast<float>(i);
        const float x = left + 8 + std::fmod(n * 61.8f, pond_.w - 16);
        const float y = bottom_y_ + 8 + std::fmod(n * 7.3f, std::max(1.0f, end - bottom_y_ - 14));
        draw_.AddCircleFilled(ImVec2(x, y), i % 3 == 0 ? 1.6f : 1.0f, grain);
      }
    }
    const float stroke = large_ ? 2.0f : 1.5f;
    const ImVec2 edge[] = {ImVec2(left, land_y),
                           ImVec2(left + outer_, crest_y_),
                           ImVec2(left + berm_, crest_y_),
                           ImVec2(foot_left, bottom_y_),
                           ImVec2(foot_right, bottom_y_),
                           ImVec2(right - berm_, crest_y_),
                           ImVec2(right - outer_, crest_y_),
                           ImVec2(right, land_y)};
    draw_.AddPolyline(edge, 8, with_alpha(theme_.ink, theme_.night ? 0.5f : 0.75f), 0, stroke);
  }

  Colour water() const {
    return theme_.water[static_cast<std::size_t>(column_.colour.value_or(WaterColour::clear))];
  }

  void draw_water(double level_cm) {
    const float y = y_of(level_cm);
    if (bottom_y_ - y < 1) return;
    const Colour tint = water();
    const Colour light = blend(tint, theme_.night ? theme_.ink : 0xFFFFFFFFu, theme_.night ? 0.12f : 0.22f);
    const Colour deep = blend(tint, theme_.night ? 0xFF000000u : theme_.ink, 0.28f);
    fill({ImVec2(left_at(y), y), ImVec2(right_at(y), y), ImVec2(right_at(bottom_y_), bottom_y_),
          ImVec2(left_at(bottom_y_), bottom_y_)},
         light, deep, y, bottom_y_);
    draw_.AddLine(ImVec2(left_at(y), y), ImVec2(right_at(y), y), surface(), large_ ? 2.5f : 1.75f);
    if (!large_) return;
    // Two short ripples under the surface.
    const Colour ripple = with_alpha(surface(), 0.5f);
    for (const float share : {0.2f, 0.72f}) {
      const float x = left_at(y) + (right_at(y) - left_at(y)) * share;
      draw_.AddLine(ImVec2(x, y + 6), ImVec2(x + 26, y + 6), ripple, 1.5f);
      draw_.AddLine(ImVec2(x + 8, y + 10), ImVec2(x + 20, y + 10), ripple, 1.5f);
    }
  }

  Colour surface() const { return blend(water(), theme_.ink, theme_.night ? 0.55f : 0.6f); }

  // No reading yet: where the water would be, as dots.
  void draw_unknown() {
    const float y = y_of(column_.lowest_cm + span_cm_ / 2);
    const float step = large_ ? 9.0f : 5.0f;
    for (float x = left_at(y) + step; x < right_at(y) - step / 2; x += step) {
      draw_.AddCircleFilled(ImVec2(x, y), large_ ? 1.8f : 1.2f, theme_.quiet_ink);
    }
  }

  void dashes(float x0, float x1, float y, Colour colour, float stroke) {
    const float dash = large_ ? 9.0f : 4.0f;
    for (float x = x0; x < x1; x += dash * 1.6f) {
      draw_.AddLine(ImVec2(x, y), ImVec2(std::min(x + dash, x1), y), colour, stroke);
    }
  }

  void draw_coming() {
    if (!column_.coming_low_cm && !column_.coming_high_cm) return;
    const double low = column_.coming_low_cm ? *column_.coming_low_cm : *column_.coming_high_cm;
    const double high = column_.coming_high_cm.value_or(low);
    const float low_y = y_of(low);
    const float high_y = y_of(high);
    const float stroke = large_ ? 2.0f : 1.5f;
    if (large_ && low_y - high_y > 3) {
      const ImVec2 range[] = {ImVec2(left_at(high_y), high_y), ImVec2(right_at(high_y), high_y),
                              ImVec2(right_at(low_y), low_y), ImVec2(left_at(low_y), low_y)};
      draw_.AddConvexPolyFilled(range, 4, with_alpha(theme_.act, 0.14f));
    }
    dashes(left_at(low_y) + 2, right_at(low_y) - 2, low_y, theme_.act, stroke);
    if (large_ && low_y - high_y > 3)
      dashes(left_at(high_y) + 2, right_at(high_y) - 2, high_y, theme_.act, stroke);
    if (large_) draw_coming_figure(low, high, low_y, high_y);
  }

  void draw_coming_figure(double low, double high, float low_y, float high_y) {
    const Words& words = ui_.words();
    std::string figure = words.number(low, 0);
    if (high - low >= 0.5) figure += "\u2013" + words.number(high, 0);
    figure += " " + words.unit("cm");
    const Face face = picture_face(state_, true);
    const float width = text_width(face, figure) + 16;
    const float height = face.size + 4;
    const float y = std::max((low_y + high_y) / 2 - height / 2, pond_.y);
    const Rect plate{right_at((low_y + high_y) / 2) - width - 8, y, width, height};
    paint_ground(state_, plate, theme_.act, height / 2);
    paint_text(state_, face, plate.x + 8, plate.y + 2, theme_.on_act, figure);
  }

  // A Secchi disc hanging on its line, quartered, seen a little from above.
  void draw_disc(double level_cm, double secchi_cm) {
    const float top = y_of(level_cm);
    const float x = pond_.x + pond_.w * (large_ ? 0.42f : 0.5f);
    const float radius = large_ ? 19.0f : std::min(7.0f, pond_.w * 0.11f);
    const float flat = radius * 0.4f;
    const float lowest = bottom_y_ - flat;
    float y = column_.secchi_on_bottom ? lowest : y_of(level_cm - secchi_cm);
    y = std::min(y, lowest);
    if (large_) draw_band(level_cm, x + radius + 6);
    const Colour line = theme_.ink;
    draw_.AddLine(ImVec2(x, large_ ? std::max(pond_.y, top - 16) : top - 2), ImVec2(x, y), line,
                  large_ ? 2.0f : 1.5f);
    const Colour dark = theme_.night ? theme_.ground : theme_.ink;
    const Colour pale = theme_.night ? theme_.ink : theme_.raised;
    constexpr int kSteps = 10;
    for (int quarter = 0; quarter < 4; ++quarter) {
      ImVec2 points[kSteps + 2];
      points[0] = ImVec2(x, y);
      for (int i = 0; i <= kSteps; ++i) {
        const float angle = kPi / 2 * (static_cast<float>(quarter) + static_cast<float>(i) / kSteps);
        points[i + 1] = ImVec2(x + radius * std::cos(angle), y + flat * std::sin(angle));
      }
      draw_.AddConvexPolyFilled(points, kSteps + 2, quarter % 2 == 0 ? dark : pale);
    }
    draw_.AddEllipse(ImVec2(x, y), radius, flat, line, 0, 0, large_ ? 1.5f : 1.0f);
    if (large_) draw_disc_figure(secchi_cm, x - radius - 8, y);
  }

  void draw_disc_figure(double secchi_cm, float right, float y) {
    std::string figure = ui_.words().number(secchi_cm, 0) + " " + ui_.words().unit("cm");
    if (column_.secchi_on_bottom) figure = "> " + figure;
    const Face face = picture_face(state_, true);
    const float width = text_width(face, figure) + 16;
    const float height = face.size + 4;
    const float top = std::min(y - height / 2, pond_.y + pond_.h - height - 2);
    const Rect plate{right - width, top, width, height};
    paint_ground(state_, plate, theme_.raised, height / 2);
    paint_text(state_, face, plate.x + 8, plate.y + 2, theme_.ink, figure);
  }

  // The depths between which the disc should vanish: a pale layer beside it, with its figure.
  void draw_band(double level_cm, float x) {
    if (!column_.band_low_cm || !column_.band_high_cm) return;
    const float top = y_of(level_cm - *column_.band_low_cm);
    const float bottom = y_of(level_cm - *column_.band_high_cm);
    if (bottom - top < 2) return;  // the water is not that deep
    const ImVec2 layer[] = {ImVec2(x, top), ImVec2(right_at(top) - 1, top),
                            ImVec2(right_at(bottom) - 1, bottom), ImVec2(x, bottom)};
    draw_.AddConvexPolyFilled(layer, 4, with_alpha(theme_.night ? theme_.ink : theme_.raised, 0.4f));
    const ImVec2 bracket[] = {ImVec2(x + 6, top), ImVec2(x, top), ImVec2(x, bottom), ImVec2(x + 6, bottom)};
    draw_.AddPolyline(bracket, 4, theme_.ink, 0, 2);
    const std::string figure = ui_.words().number(*column_.band_low_cm, 0) + "\u2013" +
                               ui_.words().number(*column_.band_high_cm, 0) + " " + ui_.words().unit("cm");
    const Face face = picture_face(state_);
    const float width = text_width(face, figure) + 16;
    const float height = face.size + 2;
    const Rect plate{x + 12, (top + bottom) / 2 - height / 2, width, height};
    paint_ground(state_, plate, theme_.raised, height / 2);
    paint_text(state_, face, plate.x + 8, plate.y + 1, theme_.ink, figure);
  }

  // The staff at the left, with figures, and the present reading large enough to see.
  void draw_gauge() {
    const float x = pond_.x - 12;
    const Face face = picture_face(state_);
    const Face bold = picture_face(state_, true);
    draw_.AddLine(ImVec2(x, full_y_), ImVec2(x, bottom_y_), theme_.quiet_ink, 1.5f);
    const double step = span_cm_ > 260 ? 100 : span_cm_ > 120 ? 50 : 20;
    const float level_y = column_.level_cm ? y_of(*column_.level_cm) : -1000;
    for (double mark = std::ceil(column_.lowest_cm / 10) * 10; mark <= column_.full_cm + 0.5; mark += 10) {
      const float y = y_of(mark);
      const bool figured = std::fabs(std::remainder(mark, step)) < 0.5;
      draw_.AddLine(ImVec2(x - (figured ? 8.0f : 4.0f), y), ImVec2(x, y), theme_.quiet_ink, 1.5f);
      if (!figured || std::fabs(y - level_y) < face.size) continue;
      const std::string figure = ui_.words().number(mark, 0);
      paint_text(state_, face, x - 12 - text_width(face, figure), y - face.size / 2, theme_.quiet_ink, figure);
    }
    if (!column_.level_cm) return;
    const std::string figure = ui_.words().number(*column_.level_cm, 0);
    const float width = text_width(bold, figure) + 10;
    const Rect plate{x - 2 - width, level_y - bold.size / 2 - 1, width, bold.size + 2};
    paint_ground(state_, plate, theme_.ink, 5);
    const float tip = plate.x + plate.w;
    draw_.AddTriangleFilled(ImVec2(tip - 1, level_y - 6), ImVec2(x + 8, level_y), ImVec2(tip - 1, level_y + 6),
                            theme_.ink);
    paint_text(state_, bold, plate.x + 5, plate.y + 1, theme_.ground, figure);
  }

  Ui& ui_;
  UiState& state_;
  ImDrawList& draw_;
  const Theme& theme_;
  const WaterColumn& column_;
  bool large_;
  Rect pond_;
  float crest_y_ = 0, full_y_ = 0, bottom_y_ = 0, run_ = 0, outer_ = 0, berm_ = 0;
  double span_cm_ = 1;
};

}  // namespace

void draw_water_column(Ui& ui, Rect where, const WaterColumn& column, bool large) {
  if (is_seen(UiParts::of(ui), where)) Column(ui, where, column, large).draw();
}

}  // namespace tawny::ui
