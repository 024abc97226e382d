#include "ui/widget_parts.h"

#include <algorithm>
#include <cmath>

#include "ui/drawings/drawings.h"
#include "ui/shown.h"

namespace tawny::ui {
namespace {

constexpr float kUnseenMargin = 320;  // px beyond the view that are drawn too: a key's way to the next one
constexpr float kMostPictureScale = 1.3f;
constexpr float kLeastLine = 16 * kLinePerEm;  // no word is made smaller so that it fits
constexpr std::size_t kLongestUnit = 5;        // bytes; "mg/L", "kg/ha", "°C"

struct Span {
  const char* begin;
  const char* end;
};

Span span_of(std::string_view text) { return {text.data(), text.data() + text.size()}; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Whether the blank at `at` stands between a number and its unit, where no line may end.
bool joins_unit(std::string_view text, std::size_t at) {
  if (at == 0 || !is_digit(text[at - 1])) return false;
  std::size_t end = text.find_first_of(" \n", at + 1);
  if (end == std::string_view::npos) end = text.size();
  const std::size_t length = end - at - 1;
  return length > 0 && length <= kLongestUnit && !is_digit(text[at + 1]);
}

std::size_t next_letter(std::string_view text, std::size_t at) {
  ++at;
  while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0u) == 0x80u) ++at;
  return at;
}

// How many bytes of `text`, which has no line end in it, go on one line; at least one letter.
std::size_t fitting(const Face& face, std::string_view text, float width) {
  std::size_t good = 0;
  for (std::size_t at = 0; at <= text.size(); ++at) {
    const bool end = at == text.size();
    if (!end && (text[at] != ' ' || joins_unit(text, at))) continue;
    if (text_width(face, text.substr(0, at)) > width) break;
    good = at;
    if (end) return good;
  }
  if (good > 0) return good;
  std::size_t at = next_letter(text, 0);
  while (at < text.size()) {
    const std::size_t next = next_letter(text, at);
    if (text[at] == ' ' || text_width(face, text.substr(0, next)) > width) break;
    at = next;
  }
  return at;
}

}  // namespace

float text_px(TextSize size, float scale) {
  const float grown = scale - 1;
  switch (size) {
    case TextSize::body:
      return 16 * scale;
    case TextSize::lead:
      return 20 * scale;
    case TextSize::title:
      return 28 * (1 + 0.5f * grown);
    case TextSize::number:
      return 44 * (1 + 0.36f * grown);
  }
  return 16 * scale;
}

Face face_of(const UiState& state, TextSize size, bool bold) {
  ImFont* font = nullptr;
  float otherwise = 0;
  switch (size) {
    case TextSize::body:
      font = bold ? state.fonts.body_bold : state.fonts.body;
      otherwise = 22;
      break;
    case TextSize::lead:
      font = bold ? state.fonts.lead_bold : state.fonts.lead;
      otherwise = 27;
      break;
    case TextSize::title:
      font = state.fonts.title;
      otherwise = 38;
      break;
    case TextSize::number:
      font = state.fonts.number;
      otherwise = 60;
      break;
  }
  if (font) return {font, font->FontSize * ImGui::GetIO().FontGlobalScale};
  return {ImGui::GetFont(), otherwise};
}

float picture_scale(const Ui& ui) { return std::min(ui.text_scale(), kMostPictureScale); }

Face picture_face(const UiState& state, bool bold) {
  Face face = face_of(state, TextSize::body, bold);
  face.size *= std::min(state.fonts.scale, kMostPictureScale) / state.fonts.scale;
  return face;
}

float text_width(const Face& face, std::string_view text) {
  if (text.empty()) return 0;
  const Span span = span_of(text);
  return face.font->CalcTextSizeA(face.size, 1e9f, 0, span.begin, span.end).x;
}

float widest_word(const Face& face, std::string_view text) {
  float widest = 0;
  std::size_t start = 0;
  for (std::size_t at = 0; at <= text.size(); ++at) {
    const bool end = at == text.size() || text[at] == '\n' || (text[at] == ' ' && !joins_unit(text, at));
    if (!end) continue;
    widest = std::max(widest, text_width(face, text.substr(start, at - start)));
    start = at + 1;
  }
  return widest;
}

Lines break_lines(const Face& wanted, std::string_view text, float width) {
  Lines lines;
  const bool is_cut = text.size() > kMostShownBytes;
  if (is_cut) text = text.substr(0, start_of_letter(text, kMostShownBytes));
  Face face = wanted;
  if (!is_cut && text.find('\n') == std::string_view::npos) {
    lines.width = text_width(face, text);
    if (lines.width <= width) {
      lines.lines.push_back(text);
      lines.line_height = lines.height = face.size;
      return lines;
    }
    lines.width = 0;
  }
  const float widest = widest_word(face, text);
  if (widest > width)
    face.size = std::max(std::min(face.size, kLeastLine), 0.999f * face.size * width / widest);
  lines.line_height = face.size;
  std::size_t start = 0;
  while (start <= text.size()) {
    std::size_t end = text.find('\n', start);
    if (end == std::string_view::npos) end = text.size();
    std::string_view rest = text.substr(start, end - start);
    do {
      const std::size_t count = rest.empty() ? 0 : fitting(face, rest, width);
      lines.lines.push_back(rest.substr(0, count));
      lines.width = std::max(lines.width, text_width(face, lines.lines.back()));
      rest.remove_prefix(count);
      while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
    } while (!rest.empty());
    start = end + 1;
  }
  if (is_cut) lines.lines.push_back("\u2026");
  lines.height = lines.line_height * static_cast<float>(lines.lines.size());
  return lines;
}

void paint_text(UiState& state, const Face& face, float x, float y, Colour colour, std::string_view text) {
  if (text.empty()) return;
  if (text.size() > kMostShownBytes) text = text.substr(0, start_of_letter(text, kMostShownBytes));
  const Span span = span_of(text);
  if (FrameNotes* notes = state.notes) {
    FrameNotes::Line line;
    line.text = text;
    line.rect = {x, y, text_width(face, text), face.size};
    line.clip = state.clip;
    line.em_px = face.size / kLinePerEm;
    line.ink = colour;
    line.over = notes->grounds.size();
    notes->lines.push_back(std::move(line));
  }
  // Its width is not asked: only what is above or below matters in a long list.
  if (!is_seen(state, {state.draw->GetClipRectMin().x, y, 0, face.size})) return;
  state.draw->AddText(face.font, face.size, ImVec2(x, y), colour, span.begin, span.end);
}

namespace {

// Whether `line`, which is not the last, goes on in the next one without a blank between.
bool tears_word(std::string_view line, const Lines& lines) {
  if (line.data() == lines.lines.back().data()) return false;
  const char next = *(line.data() + line.size());
  return next != ' ' && next != '\n';
}

}  // namespace

void paint_lines(UiState& state, const Face& wanted, const Lines& lines, float x, float y, float width,
                 Colour colour, Align align) {
  const Face face{wanted.font, lines.line_height};
  for (const std::string_view line : lines.lines) {
    const float indent = align == Align::centre ? (width - text_width(face, line)) / 2 : 0;
    paint_text(state, face, x + indent, y, colour, line);
    if (state.notes && !line.empty() && tears_word(line, lines)) state.notes->lines.back().torn = true;
    y += lines.line_height;
  }
}

void paint_fitted(UiState& state, Face face, Rect where, Colour colour, std::string_view text, float least) {
  const float natural = text_width(face, text);
  if (natural > where.w) face.size = std::max(least, face.size * where.w / natural);
  const float width = text_width(face, text);
  paint_text(state, face, where.x + (where.w - width) / 2, where.y + (where.h - face.size) / 2, colour, text);
  if (state.notes && !text.empty() && width > where.w + 0.5f) state.notes->lines.back().cut = true;
}

bool is_near_view(const UiState& state, float top, float height) {
  const float over = state.view.y - kUnseenMargin, under = state.view.y + state.view.h + kUnseenMargin;
  return height <= 0 || (top + height > over && top < under);
}

bool is_seen(const UiState& state, Rect where) {
  constexpr float kStroke = 4;  // what a line on the edge is wide
  const ImVec2 least = state.draw->GetClipRectMin(), most = state.draw->GetClipRectMax();
  return where.x - kStroke < most.x && where.x + where.w + kStroke > least.x && where.y - kStroke < most.y &&
         where.y + where.h + kStroke > least.y;
}

Rect take(UiState& state, float height, float margin) {
  Flow& flow = state.flow;
  if (!flow.fresh) flow.y += std::max(flow.pending_gap, margin);
  flow.fresh = false;
  flow.pending_gap = margin;
  const Rect taken{flow.x, flow.y, flow.width, height};
  flow.y += height;
  return taken;
}

Rect inside_of(const Rect& a, const Rect& b) {
  const float left = std::max(a.x, b.x);
  const float top = std::max(a.y, b.y);
  const float right = std::min(a.x + a.w, b.x + b.w);
  const float bottom = std::min(a.y + a.h, b.y + b.h);
  return {left, top, std::max(0.0f, right - left), std::max(0.0f, bottom - top)};
}

namespace {

void reveal_if_asked(UiState& state, std::string_view id, Rect where) {
  if (state.reveal.empty() || state.reveal != id) return;
  state.reveal.clear();
  state.revealed = id;
  // Rows of a table are seen under its heads.
  const bool scrolls = state.clip == state.view || state.table;
  if (const auto area = state.areas.find(state.area); area != state.areas.end() && scrolls) {
    TouchScroll& scroll = area->second.scroll;
    const float above = state.clip.y + kControlGap - where.y;
    const float below = where.y + where.h + kControlGap - state.view.y - state.view.h;
    // Of what is higher than the view the foot is shown: there a label's value stands.
    const float down = below > 0 || where.h + 2 * kControlGap > state.view.h ? below : std::min(0.0f, -above);
    state.reveal_again = scroll.offset() + down > scroll.largest_offset();
    if (down != 0) scroll.move_to(scroll.offset() + down);
    state.wanted = std::max(state.wanted, 2);
  }
}

}  // namespace

Touched touch(UiState& state, std::string_view id, Rect where, bool enabled, bool card) {
  reveal_if_asked(state, id, where);
  if (state.notes) state.notes->controls.push_back({std::string(id), where, state.clip, card});
  const bool over = state.pointer_valid && contains(inside_of(where, state.clip), state.pointer);
  if (state.came_down && over && !state.press_claimed) {
    state.press_claimed = true;
    state.press_id = id;
  }
  const bool mine = over && state.press_alive && state.press_claimed && state.press_id == id;
  Touched touched;
  touched.held = enabled && mine && state.down;
  touched.pressed = enabled && mine && state.lifted;
  if (!state.activated.empty() && state.activated == id) {
    state.activated.clear();
    touched.pressed = touched.pressed || enabled;
  }
  return touched;
}

void put_node(UiState& state, std::string_view id, NodeRole role, std::string_view name, Rect rect,
              std::string_view value, std::string_view node_state) {
  // What is not placed yet is told of again, with its place, by touch().
  if (rect.h > 0) reveal_if_asked(state, id, rect);
  Node node;
  node.id = id;
  node.role = role;
  node.name = name;
  node.value = value;
  node.state = node_state;
  node.rect = rect;
  state.model.add(std::move(node));
}

std::string part_id(std::string_view id, std::string_view part) {
  return std::string(id) + "/" + std::string(part);
}

}  // namespace tawny::ui
