// The letters of the pictures and the tests: as in the app where Debian's fonts-noto-core is installed.
#pragma once

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <memory>
#include <string>
#include <utility>

#include "imgui.h"
#include "ui/widgets.h"

namespace tawny::ui {

struct BenchFonts {
  std::unique_ptr<ImFontAtlas> atlas = std::make_unique<ImFontAtlas>();
  Ui::Fonts fonts;
};

// Without the font file, the font that Dear ImGui brings along, at the same height.
inline ImFont* add_bench_font(ImFontAtlas& atlas, const char* file, float em, float density) {
  static const ImWchar ranges[] = {0x20,   0x17F,  0x1A0,  0x1B0,  0x1E00, 0x1EFF, 0x2010, 0x2026, 0x2080,
                                   0x2089, 0x2190, 0x2193, 0x2212, 0x2212, 0x2248, 0x2265, 0};
  const std::string path = std::string("/usr/share/fonts/truetype/noto/") + file;
  ImFontConfig config;
  config.RasterizerDensity = density;
  config.OversampleH = 1;
  config.SizePixels = std::round(em * kLinePerEm);
  std::ifstream stream(path, std::ios::binary);
  if (!stream) return atlas.AddFontDefault(&config);
  const std::string bytes{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  void* copy = IM_ALLOC(bytes.size());
  std::copy(bytes.begin(), bytes.end(), static_cast<char*>(copy));
  return atlas.AddFontFromMemoryTTF(copy, static_cast<int>(bytes.size()), config.SizePixels, &config, ranges);
}

// Baked once for each density and text scale: a test would spend its time on nothing else.
inline const BenchFonts& bench_fonts_at(float density, float scale = 1) {
  static std::map<std::pair<float, float>, BenchFonts> sets;
  const auto [found, is_new] = sets.try_emplace({density, scale});
  BenchFonts& set = found->second;
  if (!is_new) return set;
  const char* regular = "NotoSans-Regular.ttf";
  const char* bold = "NotoSans-Bold.ttf";
  set.fonts.body = add_bench_font(*set.atlas, regular, text_px(TextSize::body, scale), density);
  set.fonts.body_bold = add_bench_font(*set.atlas, bold, text_px(TextSize::body, scale), density);
  set.fonts.lead = add_bench_font(*set.atlas, regular, text_px(TextSize::lead, scale), density);
  set.fonts.lead_bold = add_bench_font(*set.atlas, bold, text_px(TextSize::lead, scale), density);
  set.fonts.title = add_bench_font(*set.atlas, bold, text_px(TextSize::title, scale), density);
  set.fonts.number = add_bench_font(*set.atlas, bold, text_px(TextSize::number, scale), density);
  set.fonts.scale = scale;
  set.atlas->Build();
  return set;
}

}  // namespace tawny::ui
