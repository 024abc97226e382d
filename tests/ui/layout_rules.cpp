#include "ui/layout_rules.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string_view>

namespace tawny::ui {
namespace {

constexpr float kSlack = 0.6f;  // px: nobody sees less
constexpr float kLeastTarget = 48, kLeastGap = 8;
constexpr float kLeastView = 96;  // of the scrolling middle between the bars

float right_of(const Rect& rect) { return rect.x + rect.w; }
float bottom_of(const Rect& rect) { return rect.y + rect.h; }

bool holds(const Rect& outer, const Rect& inner) {
  return inner.x >= outer.x - kSlack && inner.y >= outer.y - kSlack &&
         right_of(inner) <= right_of(outer) + kSlack && bottom_of(inner) <= bottom_of(outer) + kSlack;
}

bool holds_middle(const Rect& outer, const Rect& inner) {
  const float x = inner.x + inner.w / 2;
  const float y = inner.y + inner.h / 2;
  return x >= outer.x && x < right_of(outer) && y >= outer.y && y < bottom_of(outer);
}

bool overlap(const Rect& a, const Rect& b) {
  return std::min(right_of(a), right_of(b)) - std::max(a.x, b.x) > kSlack &&
         std::min(bottom_of(a), bottom_of(b)) - std::max(a.y, b.y) > kSlack;
}

// Noto Sans: capitals reach 0.714 em above the baseline, which is 1.069 em under the top of the line of 1.362.
Rect letters_of(const Rect& line) {
  return {line.x, line.y + 0.26f * line.h, line.w, (0.79f - 0.26f) * line.h};
}

std::string at(const Rect& rect) {
  char text[80];
  std::snprintf(text, sizeof text, " [%.1f %.1f %.1f x %.1f]", static_cast<double>(rect.x),
                static_cast<double>(rect.y), static_cast<double>(rect.w), static_cast<double>(rect.h));
  return text;
}

// The last word of a line holds a figure: a row of readings that somebody typed, not a word.
bool is_typed(std::string_view line) {
  const std::size_t blank = line.rfind(' ');
  const std::string_view word = blank == std::string_view::npos ? line : line.substr(blank + 1);
  return word.find_first_of("0123456789") != std::string_view::npos;
}

std::string in_quotes(std::string_view text) { return "\"" + std::string(text) + "\""; }

// The smallest control that a line stands in; null where it stands in none.
const FrameNotes::Control* control_around(const FrameNotes& notes, const FrameNotes::Line& line) {
  const FrameNotes::Control* found = nullptr;
  for (const FrameNotes::Control& control : notes.controls) {
    if (!(control.clip == line.clip) || !holds_middle(control.rect, line.rect)) continue;
    if (found == nullptr || control.rect.w * control.rect.h < found->rect.w * found->rect.h) found = &control;
  }
  return found;
}

// The first ground is the whole screen.
const FrameNotes::Ground* ground_under(const FrameNotes& notes, const FrameNotes::Line& line) {
  for (std::size_t i = line.over; i-- > 1;) {
    const FrameNotes::Ground& ground = notes.grounds[i];
    const bool opaque = (ground.colour >> 24) == 0xFFu;
    if (opaque && ground.clip == line.clip && holds_middle(ground.rect, line.rect)) return &ground;
  }
  return notes.grounds.empty() ? nullptr : &notes.grounds.front();
}

void check_lines(const FrameNotes& notes, float width, std::vector<std::string>& faults) {
  const Rect screen{0, -1e6f, width, 2e6f};
  for (const FrameNotes::Line& line : notes.lines) {
    const std::string what = in_quotes(line.text) + at(line.rect);
    const Rect letters = letters_of(line.rect);
    if (line.text.find('{') != std::string::npos) faults.push_back(what + " misses a value");
    if (line.cut) faults.push_back(what + " is cut off");
    if (line.torn && !is_typed(line.text)) faults.push_back(what + " is torn in the middle of a word");
    if (!holds(screen, line.rect)) faults.push_back(what + " leaves the screen");
    const FrameNotes::Control* control = control_around(notes, line);
    if (control != nullptr && !holds(control->rect, letters))
      faults.push_back(what + " leaves its control " + control->id + at(control->rect));
    const FrameNotes::Ground* ground = ground_under(notes, line);
    if (ground != nullptr && ground != &notes.grounds.front() && !holds(ground->rect, letters))
      faults.push_back(what + " leaves its ground" + at(ground->rect));
  }
  for (std::size_t i = 0; i < notes.lines.size(); ++i) {
    for (std::size_t j = i + 1; j < notes.lines.size(); ++j) {
      const FrameNotes::Line& a = notes.lines[i];
      const FrameNotes::Line& b = notes.lines[j];
      if (a.clip == b.clip && overlap(letters_of(a.rect), letters_of(b.rect))) {
        faults.push_back(in_quotes(a.text) + at(a.rect) + " and " + in_quotes(b.text) + at(b.rect) +
                         " stand over one another");
      }
    }
  }
}

void check_controls(const FrameNotes& notes, float width, std::vector<std::string>& faults) {
  for (std::size_t i = 0; i < notes.controls.size(); ++i) {
    const FrameNotes::Control& one = notes.controls[i];
    const std::string what = one.id + at(one.rect);
    if (one.rect.w < kLeastTarget - kSlack || one.rect.h < kLeastTarget - kSlack)
      faults.push_back(what + " is too small for a thumb");
    if (one.rect.x < -kSlack || right_of(one.rect) > width + kSlack)
      faults.push_back(what + " leaves the screen");
    for (std::size_t j = i + 1; j < notes.controls.size(); ++j) {
      const FrameNotes::Control& other = notes.controls[j];
      if (!(one.clip == other.clip)) continue;
      if ((one.card && holds(one.rect, other.rect)) || (other.card && holds(other.rect, one.rect))) continue;
      const float across =
          std::max(one.rect.x, other.rect.x) - std::min(right_of(one.rect), right_of(other.rect));
      const float down =
          std::max(one.rect.y, other.rect.y) - std::min(bottom_of(one.rect), bottom_of(other.rect));
      if (std::max(across, down) < kLeastGap - kSlack)
        faults.push_back(what + " and " + other.id + at(other.rect) + " are too near one another");
    }
  }
}

}  // namespace

std::vector<std::string> layout_faults(const FrameNotes& notes, float width, float height) {
  std::vector<std::string> faults;
  check_lines(notes, width, faults);
  check_controls(notes, width, faults);
  if (notes.view.h < std::min(kLeastView, height / 4))
    faults.push_back("the bars leave no room" + at(notes.view));
  return faults;
}

std::vector<InkOnGround> inks_on_grounds(const FrameNotes& notes) {
  std::vector<InkOnGround> pairs;
  for (const FrameNotes::Line& line : notes.lines) {
    if (const FrameNotes::Ground* ground = ground_under(notes, line))
      pairs.push_back({line.ink, ground->colour, line.em_px, line.text});
  }
  return pairs;
}

}  // namespace tawny::ui
