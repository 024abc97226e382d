// The sun line: sky, horizon, the sun's way, the windows under it and the work on it.
#include <algorithm>
#include <array>
#include <cmath>

#include "base/sort_stably.h"
#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kPi = 3.14159265f;
constexpr double kDarkEndS = 70 * 60;  // shown before sunrise and after sunset
constexpr float kLaneGap = 4;
constexpr float kWordGap = 6, kWordRoom = 3;  // beside a window, and inside it
constexpr float kLeastWord = 17;              // px of the line, for a word inside its window
constexpr float kTickRadius = 4.5f;

class SunLine {
 public:
  SunLine(Ui& ui, Rect where, const DayWindows& day, Instant now)
      : ui_(ui), state_(UiParts::of(ui)), theme_(ui.theme()), where_(where), day_(day), now_(now) {
    const Instant first =
        std::min(day.dawn.from, day.sun.sunrise.plus_s(-static_cast<std::int64_t>(kDarkEndS)));
    const Instant last =
        std::max(day.afternoon.until, day.sun.sunset.plus_s(static_cast<std::int64_t>(kDarkEndS)));
    from_ = first;
    span_s_ = static_cast<double>(last.unix_s - first.unix_s);
    rise_x_ = x_of(day.sun.sunrise);
    set_x_ = x_of(day.sun.sunset);
    face_ = picture_face(state_);
    lane_height_ = std::max(24.0f, face_.size + 2);
    place_windows();
    const float lanes = static_cast<float>(lanes_) * (lane_height_ + kLaneGap) + kLaneGap + 4;
    sky_ = {where.x, where.y, where.w, std::max(48.0f, where.h - lanes)};
    horizon_ = sky_.y + sky_.h - face_.size - 4;
    height_ = horizon_ - sky_.y - 24;
  }

  void draw(const std::vector<SunLineTick>& ticks) {
    paint_ground(state_, where_, theme_.raised);
    draw_sky();
    draw_arc();
    draw_horizon();
    draw_windows();
    draw_ticks(ticks);
    draw_sun();
  }

 private:
  float x_of(Instant at) const {
    const double share = static_cast<double>(at.unix_s - from_.unix_s) / span_s_;
    return where_.x + static_cast<float>(std::clamp(share, 0.0, 1.0)) * where_.w;
  }

  // Height of the sun over the horizon, as a share of noon's; below 0 before sunrise and after sunset.
  float sun_height(float x) const { return std::sin(kPi * (x - rise_x_) / std::max(1.0f, set_x_ - rise_x_)); }

  float arc_y(float x) const {
    const float share = sun_height(x);
    return horizon_ - height_ * (share > 0 ? share : share * 0.55f);
  }

  // Of the sky over one point of the horizon.
  struct Sky {
    Colour top, bottom;
  };

  // Night, dawn and day over one another by the height of the sun, paler towards the horizon.
  Sky sky_at(float x) const {
    const float share = sun_height(x);
    const float dawn = std::clamp((share + 0.35f) / 0.35f, 0.0f, 1.0f);
    const float day = std::clamp(share / 0.45f, 0.0f, 1.0f);
    Colour colour = blend(theme_.sky_night, theme_.sky_dawn, dawn);
    colour = blend(colour, theme_.sky_day, day);
    return {colour, blend(colour, theme_.raised, 0.55f)};
  }

  void draw_sky() {
    constexpr int kStrips = 64;
    // The upper corners are round: there the strips are fine, and each begins where the corner lets it.
    constexpr int kCornerStrips = 16;
    const float corner = Sizes::kCorner;
    for (int i = 0; i < kCornerStrips; ++i) {
      const float step = corner / kCornerStrips;
      const float in = corner - (static_cast<float>(i) + 0.5f) * step;
      const float drop = corner - std::sqrt(corner * corner - in * in);
      const float left = sky_.x + static_cast<float>(i) * step;
      draw_strip(left, left + step, drop, sky_at(left), sky_at(left + step));
      const float mirrored = sky_.x + sky_.w - static_cast<float>(i + 1) * step;
      draw_strip(mirrored, mirrored + step, drop, sky_at(mirrored), sky_at(mirrored + step));
    }
    const float step = (sky_.w - 2 * corner) / kStrips;
    Sky at_left = sky_at(sky_.x + corner);
    for (int i = 0; i < kStrips; ++i) {
      const float left = sky_.x + corner + step * static_cast<float>(i);
      const Sky at_right = sky_at(left + step);
      draw_strip(left, left + step, 0, at_left, at_right);
      at_left = at_right;
    }
  }

  void draw_strip(float left, float right, float drop, const Sky& at_left, const Sky& at_right) {
    state_.draw->AddRectFilledMultiColor(ImVec2(left, sky_.y + drop), ImVec2(right, horizon_), at_left.top,
                                         at_right.top, at_right.bottom, at_left.bottom);
  }

  void draw_arc() {
    constexpr int kPoints = 96;
    const float now_x = x_of(now_);
    ImVec2 before(sky_.x, arc_y(sky_.x));
    for (int i = 1; i <= kPoints; ++i) {
      const float x = sky_.x + sky_.w * static_cast<float>(i) / kPoints;
      const ImVec2 here(x, arc_y(x));
      const bool gone = x <= now_x;
      const bool up = here.y <= horizon_ && before.y <= horizon_;
      if (up) {
        const Colour colour = gone ? theme_.sun : with_alpha(theme_.quiet_ink, 0.55f);
        // What is still to come is dotted.
        if (gone) {
          state_.draw->AddLine(before, here, colour, 3);
        } else if (i % 2 == 0) {
          state_.draw->AddCircleFilled(here, 1.3f, colour);
        }
      }
      before = here;
    }
  }

  void draw_horizon() {
    const float left = where_.x;
    const float right = where_.x + where_.w;
    state_.draw->AddLine(ImVec2(left, horizon_), ImVec2(right, horizon_), theme_.quiet_ink, 1.5f);
    const auto moment = [&](Instant at) {
      const float x = x_of(at);
      const std::string clock = ui_.words().clock(at);
      const float width = text_width(face_, clock);
      float from = std::clamp(x - width / 2, left + 8, right - 8 - width);
      // A sun that is not up stands on the horizon: the clock makes way for it.
      const float sun = sun_x();
      if (sun_height(sun) < 0 && sun > from - 12 && sun < from + width + 12) {
        from = sun < (left + right) / 2 ? sun + 14 : sun - 14 - width;
      }
      state_.draw->AddLine(ImVec2(x, horizon_ - 5), ImVec2(x, horizon_ + 3), theme_.quiet_ink, 1.5f);
      paint_text(state_, face_, from, horizon_ + 3, theme_.quiet_ink, clock);
    };
    moment(day_.sun.sunrise);
    moment(day_.sun.sunset);
  }

  // A window as a bar with its word inside or, where that does not fit, beside it.
  struct Bar {
    const Window* window;
    std::string word;
    float left, right;            // of the bar
    float word_left, word_right;  // of the word; the bar's own where it stands inside
    int lane;
  };

  Bar bar_of(const Window& window, WindowName name) const {
    Bar bar{};
    bar.window = &window;
    bar.word = ui_.words()("window." + std::string(name_of(name)) + ".label");
    bar.left = std::max(x_of(window.from), where_.x + 4);
    bar.right = std::max(bar.left + 8, std::min(x_of(window.until), where_.x + where_.w - 4));
    bar.word_left = bar.left;
    bar.word_right = bar.right;
    const float width = text_width(picture_face(state_, true), bar.word);
    if (width * kLeastWord / face_.size <= bar.right - bar.left - 2 * kWordRoom) return bar;
    bar.word_left = bar.right + kWordGap;
    if (bar.word_left + width > where_.x + where_.w - 4) bar.word_left = bar.left - kWordGap - width;
    bar.word_right = bar.word_left + width;
    return bar;
  }

  // Each in the first lane in which it is alone, with its word.
  void place_windows() {
    bars_ = {bar_of(day_.dawn, WindowName::dawn), bar_of(day_.peak, WindowName::peak),
             bar_of(day_.afternoon, WindowName::afternoon), bar_of(day_.dose, WindowName::dose)};
    for (std::size_t i = 0; i < bars_.size(); ++i) {
      const auto meets = [&](const Bar& other) {
        return other.lane == bars_[i].lane &&
               std::max(other.right, other.word_right) + kWordGap >
                   std::min(bars_[i].left, bars_[i].word_left) &&
               std::max(bars_[i].right, bars_[i].word_right) + kWordGap > std::min(other.left, other.word_left);
      };
      const auto before = bars_.begin() + static_cast<std::ptrdiff_t>(i);
      while (std::any_of(bars_.begin(), before, meets)) ++bars_[i].lane;
      lanes_ = std::max(lanes_, bars_[i].lane + 1);
    }
  }

  void draw_windows() {
    const float first = sky_.y + sky_.h + kLaneGap;
    for (const Bar& bar : bars_) {
      const float top = first + static_cast<float>(bar.lane) * (lane_height_ + kLaneGap);
      const bool open = bar.window->contains(now_);
      const bool over = bar.window->until < now_;
      const Colour ground = open   ? theme_.act
                            : over ? theme_.sunk
                                   : blend(theme_.raised, theme_.band, theme_.night ? 0.15f : 0.45f);
      paint_ground(state_, {bar.left, top, bar.right - bar.left, lane_height_}, ground, 6);
      if (theme_.night && !open)
        paint_outline(state_, {bar.left, top, bar.right - bar.left, lane_height_}, theme_.band, 1.5f, 6);
      const bool inside = bar.word_left == bar.left;
      const Colour ink = inside && open ? theme_.on_act : over ? theme_.quiet_ink : theme_.ink;
      const float room = inside ? kWordRoom : 0;
      const Rect place{bar.word_left + room, top, bar.word_right - bar.word_left - 2 * room, lane_height_};
      paint_fitted(state_, picture_face(state_, open), place, ink, bar.word, kLeastWord);
    }
  }

  // On the horizon in their order of time; where several stand at one time, beside one another.
  void draw_ticks(std::vector<SunLineTick> ticks) {
    sort_stably(ticks, [](const SunLineTick& a, const SunLineTick& b) { return a.at < b.at; });
    const float left = where_.x + 10;
    const float right = where_.x + where_.w - 10;
    const auto count = static_cast<float>(ticks.size());
    const float step = std::min(2 * kTickRadius + 3, (right - left) / std::max(1.0f, count));
    float least = left;
    float still = count;
    for (const SunLineTick& tick : ticks) {
      const float x = std::min(std::max(least, x_of(tick.at)), right - step * (still - 1));
      draw_tick(ImVec2(x, horizon_ - kTickRadius - 4), tick.state);
      least = x + step;
      still -= 1;
    }
  }

  void draw_tick(ImVec2 at, DueState due) {
    ImDrawList* draw = state_.draw;
    draw->AddCircleFilled(at, kTickRadius + 2, with_alpha(theme_.raised, 0.85f));
    switch (due) {
      case DueState::now:
      case DueState::overdue:
        draw->AddCircleFilled(at, kTickRadius, theme_.act);
        break;
      case DueState::later:
        draw->AddCircleFilled(at, kTickRadius * 0.6f, theme_.quiet_ink);
        break;
      case DueState::done:
        draw->AddCircle(at, kTickRadius - 1, theme_.open, 0, 2);
        break;
      case DueState::missed:
        draw->AddRectFilled(ImVec2(at.x - kTickRadius, at.y - 1.5f), ImVec2(at.x + kTickRadius, at.y + 1.5f),
                            theme_.alarm, 1);
        break;
    }
  }

  float sun_x() const { return std::clamp(x_of(now_), where_.x + 14, where_.x + where_.w - 14); }

  void draw_sun() {
    const float x = sun_x();
    const bool up = sun_height(x) >= 0;
    const ImVec2 at(x, up ? arc_y(x) : horizon_);
    ImDrawList* draw = state_.draw;
    if (up) {
      for (int ring = 4; ring >= 1; --ring) {
        draw->AddCircleFilled(at, 9 + 3.5f * static_cast<float>(ring), with_alpha(theme_.sun, 0.09f));
      }
      draw->AddCircleFilled(at, 10, theme_.raised);
      draw->AddCircleFilled(at, 8.5f, theme_.sun);
    } else {
      draw->AddCircleFilled(at, 8, theme_.raised);
      draw->AddCircle(at, 8, theme_.sun, 0, 2.5f);
    }
  }

  Ui& ui_;
  UiState& state_;
  const Theme& theme_;
  Rect where_, sky_;
  const DayWindows& day_;
  Instant now_, from_;
  double span_s_ = 1;
  float rise_x_ = 0, set_x_ = 0;
  float horizon_ = 0, height_ = 0;
  Face face_;
  float lane_height_ = 0;
  std::array<Bar, 4> bars_;
  int lanes_ = 1;
};

}  // namespace

void draw_sun_line(Ui& ui, Rect where, const DayWindows& day, Instant now,
                   const std::vector<SunLineTick>& ticks) {
  if (is_seen(UiParts::of(ui), where)) SunLine(ui, where, day, now).draw(ticks);
}

}  // namespace tawny::ui
