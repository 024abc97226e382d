#include "platform/fonts.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <optional>

#include "assets.h"

namespace tawny::shell {
namespace {

// Always there: ASCII, and what the widget layer itself may draw.
constexpr ImWchar kBase[] = {0x20,   0x7E,   0xA0,   0xA0,   0xB0,   0xB7,   0xD7,   0xD7,
                             0x3BC,  0x3BC,  0x2010, 0x2015, 0x2018, 0x201E, 0x2022, 0x2022,
                             0x2026, 0x2026, 0x2080, 0x2089, 0x20AC, 0x20AC, 0x2190, 0x2193,
                             0x2212, 0x2212, 0x2248, 0x2248, 0x2264, 0x2265, 0};
// The 44 px size shows numbers with their signs only.
constexpr ImWchar kNumber[] = {0x20,   0x7E,   0xB0,   0xB1,   0xB5,   0xB7,   0xD7,
                               0xD7,   0x2013, 0x2014, 0x2026, 0x2026, 0x2190, 0x2193,
                               0x2212, 0x2212, 0x2248, 0x2248, 0x2264, 0x2265, 0};

constexpr unsigned kFirstBeyondBase = 0x80;

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::optional<unsigned> escaped_code(std::string_view text, std::size_t at) {
  if (at + 6 > text.size() || text[at] != '\\' || text[at + 1] != 'u') return std::nullopt;
  unsigned code = 0;
  for (std::size_t i = at + 2; i < at + 6; ++i) {
    const int digit = hex_digit(text[i]);
    if (digit < 0) return std::nullopt;
    code = code * 16 + static_cast<unsigned>(digit);
  }
  return code;
}

constexpr std::size_t kGlance = 8;

// Eight bytes of ASCII without an escape at the start, as nearly all that is stored.
bool holds_nothing_new(std::string_view text) {
  if (text.size() < kGlance) return false;
  std::uint64_t eight = 0;
  std::memcpy(&eight, text.data(), kGlance);
  // The highest bit of a byte: set in a letter beyond ASCII; and, the bytes held against '\\', set by borrowing from a zero.
  constexpr std::uint64_t kHigh = 0x8080808080808080u;
  const std::uint64_t against = eight ^ 0x5c5c5c5c5c5c5c5cu;
  return ((eight | (against - 0x0101010101010101u)) & kHigh) == 0;
}

// Letters larger than this on the screen are baked at this size and drawn larger: slightly soft, but the atlas
// of the densest screen at the largest text stays within 4096 x 4096 px, the most that every phone's graphics
// take.
constexpr float kSharpestPx = 96;
constexpr float kSharpestNumberPx = 144;

ImFont* add_font(std::string_view asset, ui::TextSize size, float text_scale, float density,
                 const ImWchar* ranges) {
  const float size_px = ui::text_px(size, text_scale);
  const float sharpest = size == ui::TextSize::number ? kSharpestNumberPx : kSharpestPx;
  const std::string_view data = assets::find(asset);
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;  // the bytes live in the program
  config.RasterizerDensity = std::min(density, sharpest / size_px);
  config.OversampleH = 1;  // at three screen pixels to one CSS px nothing is gained by more
  config.OversampleV = 1;
  return ImGui::GetIO().Fonts->AddFontFromMemoryTTF(const_cast<char*>(data.data()),
                                                    static_cast<int>(data.size()),
                                                    std::round(size_px * ui::kLinePerEm), &config, ranges);
}

}  // namespace

Fonts::Fonts() {
  letters_.AddRanges(kBase);
  for (const ImWchar code : kNumber) number_ranges_.push_back(code);
}

void Fonts::add(unsigned code_point) {
  if (code_point < kFirstBeyondBase || code_point > 0xFFFF || letters_.GetBit(code_point)) return;
  letters_.SetBit(code_point);
  grown_ = true;
}

void Fonts::note_text(std::string_view utf8) {
  for (std::size_t at = 0; at < utf8.size();) {
    if (holds_nothing_new(utf8.substr(at))) {
      at += kGlance;
      continue;
    }
    const auto byte = static_cast<std::uint8_t>(utf8[at]);
    if (byte < 0x80) {
      if (byte == '\\') {
        if (const std::optional<unsigned> code = escaped_code(utf8, at)) add(*code);
      }
      ++at;
      continue;
    }
    const std::size_t length = byte >= 0xF0 ? 4 : byte >= 0xE0 ? 3 : 2;
    if (at + length > utf8.size()) return;
    unsigned code = byte & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i)
      code = (code << 6) | (static_cast<std::uint8_t>(utf8[at + i]) & 0x3FU);
    add(code);
    at += length;
  }
}

bool Fonts::bake(float density, float text_scale) {
  if (!grown_ && density == density_ && text_scale == text_scale_) return false;
  grown_ = false;
  density_ = density;
  text_scale_ = text_scale;
  text_ranges_.clear();
  letters_.BuildRanges(&text_ranges_);
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  atlas.Flags |= ImFontAtlasFlags_NoMouseCursors;
  const ImWchar* text = text_ranges_.Data;
  fonts_.body = add_font("tawny-regular.ttf", ui::TextSize::body, text_scale, density, text);
  fonts_.body_bold = add_font("tawny-bold.ttf", ui::TextSize::body, text_scale, density, text);
  fonts_.lead = add_font("tawny-regular.ttf", ui::TextSize::lead, text_scale, density, text);
  fonts_.lead_bold = add_font("tawny-bold.ttf", ui::TextSize::lead, text_scale, density, text);
  fonts_.title = add_font("tawny-bold.ttf", ui::TextSize::title, text_scale, density, text);
  fonts_.number = add_font("tawny-bold.ttf", ui::TextSize::number, text_scale, density, number_ranges_.Data);
  fonts_.scale = text_scale;
  atlas.Build();
  return true;
}

}  // namespace tawny::shell
