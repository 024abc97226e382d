#include "ui/drawings/guide_art.h"

#include <algorithm>
#include <cmath>

#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

// The picture's own grid: 320 x 168, the crest of the banks at 64, the bottom at 140.
constexpr float kWide = 320, kCrest = 64, kBottom = 140;
constexpr float kFootLeft = 76, kFootRight = 276, kCrestLeft = 36, kCrestRight = 310;

class Art {
 public:
  Art(Ui& ui, Rect where) : state_(UiParts::of(ui)), theme_(ui.theme()), draw_(state_.draw), where_(where) {
    unit_ = std::min(where.w / kWide, where.h / kGuideArtHeight);
    x_ = where.x + (where.w - kWide * unit_) / 2;
    y_ = where.y + (where.h - kGuideArtHeight * unit_) / 2;
  }

  void draw(Stage stage) {
    sky(stage);
    const float level = level_of(stage);
    if (level < kBottom) water(stage, level);
    banks();
    if (stage == Stage::bottom) cracks();
    gate(is_filling(stage), level);
    switch (stage) {
      case Stage::bottom:
        grains();
        return;
      case Stage::first_fill:
      case Stage::second_fill:
      case Stage::third_fill:
        rising(level);
        return;
      case Stage::rest:
        bubbles(level);
        return;
      case Stage::first_dose:
        boat(level);
        return;
      case Stage::bloom:
        disc(level);
        return;
      case Stage::hold_band:
        disc(level);
        animals();
        return;
      case Stage::release:
      case Stage::early_cycle:
        postlarvae(level);
        return;
    }
  }

 private:
  ImVec2 at(float x, float y) const { return {x_ + x * unit_, y_ + y * unit_}; }
  float stroke(float width = 2.5f) const { return width * unit_; }

  static bool is_filling(Stage stage) {
    return stage == Stage::first_fill || stage == Stage::second_fill || stage == Stage::third_fill;
  }
  static float level_of(Stage stage) {
    constexpr float kLevels[] = {kBottom, 118, 118, 98, 98, 98, 82, 82, 76, 76};
    return kLevels[static_cast<int>(stage) - 1];
  }
  // Where the bank on the left, on the right, stands at that height.
  static float left_at(float y) {
    return kCrestLeft + (kFootLeft - kCrestLeft) * (y - kCrest) / (kBottom - kCrest);
  }
  static float right_at(float y) {
    return kCrestRight + (kFootRight - kCrestRight) * (y - kCrest) / (kBottom - kCrest);
  }

  void sun(float x, float y, float strength) {
    draw_->AddCircleFilled(at(x, y), 17 * unit_, with_alpha(theme_.sun, 0.2f * strength));
    draw_->AddCircleFilled(at(x, y), 10 * unit_, with_alpha(theme_.sun, strength));
  }

  // The sun stands where the work of the stage wants it: low for the dose, on top for the disc, at both ends of
  // the day for the readings that show the swing.
  void sky(Stage stage) {
    paint_ground(state_, where_, blend(theme_.raised, theme_.sky_day, 0.7f));
    const ImVec2 points[] = {at(24, 60), at(160, -28), at(296, 60)};
    draw_->AddBezierQuadratic(points[0], points[1], points[2], with_alpha(theme_.sun, 0.5f), stroke(1.5f));
    switch (stage) {
      case Stage::rest:
        sun(46, 46, 1);
        sun(258, 37, 1);
        return;
      case Stage::first_dose:
        sun(58, 39, 1);
        return;
      case Stage::bloom:
      case Stage::third_fill:
      case Stage::hold_band:
        sun(160, 16, 1);
        return;
      case Stage::release:
      case Stage::early_cycle:
        sun(46, 46, 1);
        return;
      default:
        sun(210, 22, 1);
        return;
    }
  }

  void water(Stage stage, float level) {
    const bool is_gold = stage != Stage::first_fill && stage != Stage::second_fill;
    const Colour colour =
        theme_.water[is_gold ? (stage == Stage::rest || stage == Stage::first_dose ? 2 : 3) : 0];
    const ImVec2 body[] = {at(left_at(level), level), at(right_at(level), level), at(kFootRight, kBottom),
                           at(kFootLeft, kBottom)};
    const int first = draw_->VtxBuffer.Size;
    draw_->AddConvexPolyFilled(body, 4, colour);
    shade_down(draw_, first, body[0].y, body[2].y, blend(colour, theme_.raised, 0.25f),
               blend(colour, theme_.soil, 0.3f));
    draw_->AddLine(body[0], body[1], theme_.ink, stroke(1.5f));
  }

  // To the sides of the picture, however wide it is.
  void banks() {
    const float left = (where_.x - x_) / unit_;
    const float right = (where_.x + where_.w - x_) / unit_;
    const auto side = [&](float out_x, float crest_x, float foot_x) {
      const ImVec2 bank[] = {at(out_x, kCrest), at(crest_x, kCrest), at(foot_x, kBottom), at(out_x, kBottom)};
      draw_->AddConvexPolyFilled(bank, 4, theme_.soil);
    };
    side(left, kCrestLeft, kFootLeft);
    side(right, kCrestRight, kFootRight);
    const float foot = (where_.y + where_.h - y_) / unit_;
    draw_->AddRectFilled(at(left, kBottom - 0.5f), at(right, foot), theme_.soil, Sizes::kCorner,
                         ImDrawFlags_RoundCornersBottom);
    const ImVec2 line[] = {at(left, kCrest),        at(kCrestLeft, kCrest),  at(kFootLeft, kBottom),
                           at(kFootRight, kBottom), at(kCrestRight, kCrest), at(right, kCrest)};
    draw_->AddPolyline(line, 6, theme_.ink, 0, stroke());
    left_ = left;
  }

  void cracks() {
    for (float x = kFootLeft + 14; x < kFootRight - 8; x += 27) {
      const ImVec2 crack[] = {at(x, kBottom), at(x + 4, kBottom + 7), at(x - 2, kBottom + 13),
                              at(x + 2, kBottom + 21)};
      draw_->AddPolyline(crack, 4, theme_.ink, 0, stroke(1.8f));
    }
  }

  // Nitrate on the dry soil, falling from a hand's height.
  void grains() {
    for (int i = 0; i < 14; ++i) {
      const float x = kFootLeft + 16 + static_cast<float>(i) * 13;
      const float y = 100 + static_cast<float>((i * 11) % 31);
      draw_->AddCircleFilled(at(x, y), 2.6f * unit_, theme_.act);
    }
  }

  // The inlet through the left bank with its screen, and the water that runs in.
  void gate(bool runs, float level) {
    constexpr float kPipe = 72;
    const Colour inside = runs ? theme_.water[0] : theme_.raised;
    draw_->AddRectFilled(at(left_, kPipe - 6), at(left_at(kPipe) + 3, kPipe + 6), inside);
    draw_->AddLine(at(left_, kPipe - 6), at(left_at(kPipe), kPipe - 6), theme_.ink, stroke());
    draw_->AddLine(at(left_, kPipe + 6), at(left_at(kPipe) + 3, kPipe + 6), theme_.ink, stroke());
    const float bag = left_at(kPipe) + 3;
    const ImVec2 screen[] = {at(bag, kPipe - 9), at(bag + 24, kPipe - 5), at(bag + 28, kPipe + 9),
                             at(bag, kPipe + 9)};
    draw_->AddConvexPolyFilled(screen, 4, blend(theme_.raised, theme_.water[0], runs ? 0.7f : 0.2f));
    draw_->AddPolyline(screen, 4, theme_.act, ImDrawFlags_Closed, stroke());
    for (float x = bag + 6; x < bag + 25; x += 6) {
      draw_->AddLine(at(x, kPipe - 7), at(x, kPipe + 8), theme_.act, stroke(1));
    }
    for (float y = kPipe - 4; y < kPipe + 8; y += 5) {
      draw_->AddLine(at(bag + 2, y), at(bag + 25, y), theme_.act, stroke(1));
    }
    if (!runs) {  // shut: a board across the pipe
      draw_->AddRectFilled(at(12, kPipe - 12), at(18, kPipe + 8), theme_.ink);
      return;
    }
    for (float x = bag + 8; x < bag + 28; x += 8) {
      draw_->AddLine(at(x, kPipe + 12), at(x + 5, level - 1), theme_.open, stroke(1.8f));
    }
  }

  void arrow_up(float x, float from, float until) {
    draw_->AddLine(at(x, from), at(x, until + 8), theme_.act, stroke(3.5f));
    draw_->AddTriangleFilled(at(x - 8, until + 10), at(x + 8, until + 10), at(x, until), theme_.act);
  }

  void rising(float level) { arrow_up(176, kBottom - 4, level); }

  void bubbles(float level) {
    for (int i = 0; i < 9; ++i) {
      const float x = kFootLeft + 20 + static_cast<float>(i) * 21;
      const float y = level + 6 + static_cast<float>((i * 7) % 16);
      draw_->AddCircle(at(x, y), (2 + static_cast<float>(i % 3)) * unit_, theme_.ink, 0, stroke(1.2f));
    }
  }

  // The boat with its bin, and what runs from it to both sides.
  void boat(float level) {
    const ImVec2 hull[] = {at(134, level - 12), at(214, level - 12), at(202, level + 6), at(146, level + 6)};
    draw_->AddConvexPolyFilled(hull, 4, theme_.act);
    const ImVec2 bin[] = {at(160, level - 34), at(188, level - 34), at(184, level - 12), at(164, level - 12)};
    draw_->AddConvexPolyFilled(bin, 4, theme_.raised);
    draw_->AddPolyline(bin, 4, theme_.ink, ImDrawFlags_Closed, stroke());
    draw_->AddLine(at(162, level - 26), at(186, level - 26), theme_.ink, stroke(1.5f));
    for (const float side : {-1.0f, 1.0f}) {
      for (int i = 0; i < 3; ++i) {
        const float reach = 62 + 20 * static_cast<float>(i);
        draw_->AddBezierQuadratic(at(174 + side * 40, level - 14), at(174 + side * (reach - 8), level - 34),
                                  at(174 + side * reach, level + 1), theme_.ink, stroke(1.6f));
      }
    }
  }

  // The disc on its line in the band: down until it vanishes, up until it returns.
  void disc(float level) {
    constexpr float kDiscX = 176;
    const float deep = level + 24;
    for (const float edge : {deep - 9, deep + 9}) {
      for (float x = kDiscX - 70; x < kDiscX + 70; x += 10) {
        draw_->AddLine(at(x, edge), at(x + 6, edge), theme_.ink, stroke(1.8f));
      }
    }
    draw_->AddLine(at(kDiscX, 44), at(kDiscX, deep), theme_.ink, stroke(1.8f));
    const auto quarter = [&](float from, Colour colour) {
      draw_->PathClear();
      draw_->PathLineTo(at(kDiscX, deep));
      for (int i = 0; i <= 8; ++i) {
        const float angle = from + static_cast<float>(i) * 3.14159265f / 16;
        draw_->PathLineTo(at(kDiscX + 20 * std::cos(angle), deep + 6.5f * std::sin(angle)));
      }
      draw_->PathFillConvex(colour);
    };
    constexpr float kQuarter = 3.14159265f / 2;
    const Colour dark = theme_.night ? theme_.ground : theme_.ink;
    const Colour light = theme_.night ? theme_.ink : theme_.raised;
    for (int i = 0; i < 4; ++i) quarter(static_cast<float>(i) * kQuarter, i % 2 == 0 ? dark : light);
    for (const float side : {-1.0f, 1.0f}) {
      const float x = kDiscX + side * 32;
      const float from = side < 0 ? level + 4 : deep + 12;
      const float until = side < 0 ? deep + 12 : level + 4;
      const float back = side < 0 ? -7.0f : 7.0f;
      draw_->AddLine(at(x, from), at(x, until + back), theme_.act, stroke(3));
      draw_->AddTriangleFilled(at(x - 6, until + back), at(x + 6, until + back), at(x, until), theme_.act);
    }
  }

  // A copepod in the water, a worm in the bottom.
  void animals() {
    for (const float x : {106.0f, 244.0f}) {
      draw_->AddEllipseFilled(at(x, 112), 8 * unit_, 4 * unit_, theme_.ink);
      draw_->AddLine(at(x - 6, 110), at(x - 18, 103), theme_.ink, stroke(1.5f));
      draw_->AddLine(at(x - 6, 114), at(x - 18, 121), theme_.ink, stroke(1.5f));
      draw_->AddLine(at(x + 7, 112), at(x + 15, 112), theme_.ink, stroke(1.8f));
      draw_->AddBezierCubic(at(x - 16, 156), at(x - 4, 142), at(x + 6, 166), at(x + 18, 152), theme_.ink,
                            stroke(3));
    }
  }

  void postlarvae(float level) {
    for (int i = 0; i < 5; ++i) {
      const float x = 104 + static_cast<float>(i) * 36;
      const float y = level + 22 + static_cast<float>((i % 2) * 20);
      draw_->AddBezierQuadratic(at(x - 13, y + 5), at(x - 2, y - 9), at(x + 12, y + 4), theme_.ink, stroke(3));
      draw_->AddLine(at(x - 12, y + 4), at(x - 22, y - 3), theme_.ink, stroke(1.2f));
      draw_->AddLine(at(x + 12, y + 4), at(x + 17, y - 1), theme_.ink, stroke(2));
      draw_->AddLine(at(x + 12, y + 4), at(x + 17, y + 8), theme_.ink, stroke(2));
    }
  }

  UiState& state_;
  const Theme& theme_;
  ImDrawList* draw_;
  Rect where_;
  float unit_ = 1, x_ = 0, y_ = 0;
  float left_ = 0;  // side of the picture on its own grid
};

}  // namespace

void draw_guide_art(Ui& ui, Rect where, Stage stage) { Art(ui, where).draw(stage); }

}  // namespace tawny::ui
