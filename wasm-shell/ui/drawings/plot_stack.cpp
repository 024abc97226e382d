#include "ui/drawings/plot_stack.h"

#include <algorithm>
#include <optional>

#include "ui/drawings/plot_parts.h"

namespace tawny::ui {
namespace {

constexpr float kPad = 12, kGap = 6, kTitleGap = 3, kAxisGap = kMarkRadius + 4;
constexpr float kFlagPad = 6;

bool has_strip(const PlotStack& stack) { return !stack.uprights.empty() || !stack.picked_word.empty(); }

float shares_of(const PlotStack& stack) {
  float shares = 0;
  for (const StackRow& row : stack.rows) shares += row.share;
  return std::max(shares, 0.01f);
}

// What stands over a row's plot: its title, and what is read off, beside it where there is room.
struct Head {
  Lines title, value;
  bool beside = false;
  float height = 0;  // with half of the uppermost label of the axis
};

Head head_of(const UiState& state, const StackRow& row, float width) {
  Head head;
  head.title = break_lines(picture_face(state, true), row.title, width);
  head.value = break_lines(picture_face(state), row.value, width);
  head.beside = row.value.empty() || head.title.width + head.value.width + 3 * kGap <= width;
  head.height = head.title.height + kTitleGap + (head.beside ? 0 : head.value.height);
  return head;
}

// From the side of the stack to that of its plots: what stands at their ticks lies between.
float left_of_plots(const Face& face, const PlotStack& stack) {
  float labels = 0;
  for (const StackRow& row : stack.rows) {
    for (const PlotTick& tick : row.plot.up.ticks) labels = std::max(labels, text_width(face, tick.label));
  }
  return kPad + labels + kAxisGap;
}

float width_of_plots(const Face& face, const PlotStack& stack, float width) {
  return std::max(1.0f, width - left_of_plots(face, stack) - kPad);
}

// What stands beside the plots: the strip of stages over them, their heads, the names across under them.
float bare_height(const UiState& state, const PlotStack& stack, float width) {
  const Face face = picture_face(state);
  float height = 2 * kPad + (has_strip(stack) ? face.size + kGap : 0) + face.size;
  for (const StackRow& row : stack.rows)
    height += head_of(state, row, width_of_plots(face, stack, width)).height + kGap;
  return height;
}

class StackPainter {
 public:
  StackPainter(Ui& ui, Rect where, const PlotStack& stack)
      : ui_(ui),
        state_(UiParts::of(ui)),
        theme_(ui.theme()),
        face_(picture_face(state_)),
        where_(where),
        stack_(stack) {}

  // Gives what lies between the sides of the plots.
  Rect draw() {
    paint_ground(state_, where_, theme_.raised);
    lay_out();
    if (areas_.empty() || areas_.front().w <= 0) return {where_.x, where_.y, 1, 1};
    for (std::size_t i = 0; i < stack_.uprights.size(); ++i) draw_upright(i);
    for (std::size_t i = 0; i < stack_.rows.size(); ++i) draw_row(i);
    draw_flag();
    for (std::size_t i = 0; i < stack_.rows.size(); ++i) draw_title(i);
    return areas_.front();
  }

 private:
  void lay_out() {
    const float left = where_.x + left_of_plots(face_, stack_);
    const float width = width_of_plots(face_, stack_, where_.w);
    const float height = where_.h - bare_height(state_, stack_, where_.w);
    float y = where_.y + kPad + (has_strip(stack_) ? face_.size + kGap : 0);
    for (const StackRow& row : stack_.rows) {
      heads_.push_back(head_of(state_, row, width));
      y += heads_.back().height;
      const float h = height * row.share / shares_of(stack_);
      areas_.push_back({left, y, width, h});
      y += h + kGap;
    }
  }

  const PlotAxis& across() const { return stack_.rows.front().plot.across; }
  bool is_across(double at) const { return at >= across().low && at <= across().high; }
  float x_of(double at) const {
    const double share = (at - across().low) / std::max(across().high - across().low, 1e-9);
    return areas_.front().x + static_cast<float>(share) * areas_.front().w;
  }
  float foot() const { return areas_.back().y + areas_.back().h; }

  // A label stands to the right of its line, as far as the next one; a long one gives way to the short one.
  void draw_upright(std::size_t at) {
    const PlotUpright& upright = stack_.uprights[at];
    const float right = areas_.front().x + areas_.front().w;
    const bool is_last = at + 1 == stack_.uprights.size();
    const double next = is_last ? across().high : std::min(stack_.uprights[at + 1].across, across().high);
    if (upright.across > across().high || next < across().low) return;
    // A stage that began before what is shown is named at the side.
    const bool inside = upright.across >= across().low;
    const float x = inside ? x_of(upright.across) : areas_.front().x;
    const float until = is_last ? right : std::max(x, x_of(next));
    const std::optional<Rect> flag = flag_place();
    if (inside) paint_dashes(state_, ImVec2(x, where_.y + kPad), ImVec2(x, foot()), theme_.quiet_ink, 1);
    for (const std::string& label : {upright.label, upright.short_label}) {
      const float width = text_width(face_, label);
      if (width + 2 * kGap > until - x) continue;
      // The flag stands over the strip: nothing is read half.
      if (flag && x + kGap < flag->x + flag->w && flag->x < x + kGap + width) continue;
      paint_text(state_, face_, x + kGap, where_.y + kPad - 2, theme_.quiet_ink, label);
      return;
    }
  }

  void draw_row(std::size_t at) {
    const StackRow& row = stack_.rows[at];
    const Rect& area = areas_[at];
    const bool last = at + 1 == stack_.rows.size();
    const float top = area.y - heads_[at].height;
    const Rect whole{where_.x, top, where_.w, area.y + area.h + (last ? face_.size + kGap : 0) - top};
    Plot plot = row.plot;
    plot.across = across();
    plot.picked = stack_.picked;
    plot.place = Plot::Place{area, last, stack_.mark_radius};
    draw_plot(ui_, whole, plot);
    put_node(state_, row.id, NodeRole::image, row.name, whole);
  }

  // A line through all rows does not cross what is written.
  void draw_title(std::size_t at) {
    const Head& head = heads_[at];
    const float left = areas_[at].x, width = areas_[at].w;
    float top = areas_[at].y - head.height;
    write(picture_face(state_, true), head.title, left, top);
    if (!head.beside) top += head.title.height;
    write(face_, head.value, head.beside ? left + width - head.value.width : left, top);
  }

  void write(const Face& face, const Lines& lines, float x, float y) {
    if (lines.width <= 0) return;
    paint_ground(state_, {x - 3, y, lines.width + 6, lines.height}, with_alpha(theme_.raised, 0.9f), 3);
    paint_lines(state_, face, lines, x, y, lines.width, theme_.ink);
  }

  std::optional<Rect> flag_place() const {
    if (!stack_.picked || !is_across(*stack_.picked) || stack_.picked_word.empty()) return std::nullopt;
    const float width = text_width(picture_face(state_, true), stack_.picked_word) + 2 * kFlagPad;
    const float left = std::clamp(x_of(*stack_.picked) - width / 2, where_.x + kPad,
                                  std::max(where_.x + kPad, where_.x + where_.w - kPad - width));
    return Rect{left, where_.y + kPad / 2, width, face_.size + kGap};
  }

  // The line itself runs through each plot, under what is written there.
  void draw_flag() {
    const std::optional<Rect> place = flag_place();
    if (!place) return;
    const float x = x_of(*stack_.picked);
    paint_ground(state_, *place, theme_.ink, 4);
    paint_text(state_, picture_face(state_, true), place->x + kFlagPad, place->y + kGap / 2, theme_.raised,
               stack_.picked_word);
    state_.draw->AddLine(ImVec2(x, place->y + place->h), ImVec2(x, areas_.front().y), theme_.ink, 2);
  }

  Ui& ui_;
  UiState& state_;
  const Theme& theme_;
  Face face_;
  Rect where_;
  const PlotStack& stack_;
  std::vector<Rect> areas_;  // of each row, between the axes
  std::vector<Head> heads_;
};

}  // namespace

float least_stack_height(const Ui& ui, const PlotStack& stack) {
  float least_share = 1;
  for (const StackRow& row : stack.rows) least_share = std::min(least_share, row.share);
  return bare_height(UiParts::of(ui), stack, ui.width()) +
         stack.least_area * shares_of(stack) / std::max(least_share, 0.01f);
}

StackTouch draw_plot_stack(Ui& ui, std::string_view id, const PlotStack& stack, float height) {
  StackTouch told;
  if (stack.rows.empty()) return told;
  UiState& state = UiParts::of(ui);
  const Rect where = take(state, height, kControlGap);
  const Rect area = StackPainter(ui, where, stack).draw();
  // What is read off changes while one looks: it is said as a text of its own.
  if (stack.picked)
    put_node(state, part_id(id, "picked"), NodeRole::text, stack.picked_word, {where.x, where.y, where.w, 1});
  const PlotTouch touched = ui.plot_touch(id, where);
  const float width = std::max(1.0f, area.w);
  const auto share_at = [&](float px) { return static_cast<double>((where.x + px - area.x) / width); };
  told.pan_share = static_cast<double>(touched.pan_px / width);
  if (touched.zoom > 0) told.zoom = static_cast<double>(touched.zoom);
  told.centre_share = share_at(touched.centre_px);
  if (touched.hover_px) told.picked_share = share_at(*touched.hover_px);
  if (touched.tapped_px) told.picked_share = share_at(*touched.tapped_px);
  return told;
}

}  // namespace tawny::ui
