// A Ui without a browser: a context of Dear ImGui, fonts, a clock and one finger.
#pragma once

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <memory>
#include <string>

#include "imgui.h"
#include "ui/widgets.h"

namespace tawny::ui {

class Bench {
 public:
  explicit Bench(float width = 390, float height = 844, float density = 1) : width_(width), height_(height) {
    IMGUI_CHECKVERSION();
    const FontSet& set = fonts_at(density);
    fonts_ = set.fonts;
    context_ = ImGui::CreateContext(set.atlas.get());
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplayFramebufferScale = ImVec2(density, density);
  }
  ~Bench() { ImGui::DestroyContext(context_); }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  // One frame of a sixtieth of a second; `draw` gets the Ui between begin_frame and end_frame.
  template <typename Draw>
  void frame(Draw&& draw) {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = ImVec2(width_, height_);
    io.DeltaTime = 1.0f / 60;
    ImGui::NewFrame();
    ui_.begin_frame(width_, height_, insets_, fonts_, theme_, words_);
    draw(ui_);
    ui_.end_frame();
    ImGui::Render();
  }

  void finger_at(float x, float y) {
    ImGui::GetIO().AddMouseSourceEvent(source_);
    ImGui::GetIO().AddMousePosEvent(x, y);
  }
  void finger_down() {
    ImGui::GetIO().AddMouseSourceEvent(source_);
    ImGui::GetIO().AddMouseButtonEvent(0, true);
  }
  void finger_up() {
    ImGui::GetIO().AddMouseSourceEvent(source_);
    ImGui::GetIO().AddMouseButtonEvent(0, false);
  }
  void finger_gone() { ImGui::GetIO().AddMousePosEvent(-FLT_MAX, -FLT_MAX); }

  // Touches the middle of a node, and draws the frames that it takes.
  template <typename Draw>
  void tap(std::string_view id, Draw&& draw) {
    frame(draw);
    const Node* node = ui_.model().find(id);
    if (!node) return;
    tap_at(node->rect.x + node->rect.w / 2, node->rect.y + node->rect.h / 2, draw);
  }
  template <typename Draw>
  void tap_at(float x, float y, Draw&& draw) {
    finger_at(x, y);
    finger_down();
    for (int i = 0; i < 3; ++i) frame(draw);
    finger_up();
    finger_gone();
    for (int i = 0; i < 3; ++i) frame(draw);
  }

  Ui& ui() { return ui_; }
  void set_words(Words words) { words_ = std::move(words); }
  void set_theme(const Theme& theme) { theme_ = theme; }
  void set_size(float width, float height) {
    width_ = width;
    height_ = height;
  }
  void set_insets(const Insets& insets) { insets_ = insets; }
  void use_mouse() { source_ = ImGuiMouseSource_Mouse; }

 private:
  struct FontSet {
    std::unique_ptr<ImFontAtlas> atlas = std::make_unique<ImFontAtlas>();
    Ui::Fonts fonts;
  };

  // Baked once: a test would spend its time on nothing else.
  static const FontSet& fonts_at(float density) {
    static std::map<float, FontSet> sets;
    const auto [found, is_new] = sets.try_emplace(density);
    FontSet& set = found->second;
    if (!is_new) return set;
    const char* regular = "NotoSans-Regular.ttf";
    const char* bold = "NotoSans-Bold.ttf";
    set.fonts.body = add_font(*set.atlas, regular, 16, density);
    set.fonts.body_bold = add_font(*set.atlas, bold, 16, density);
    set.fonts.lead = add_font(*set.atlas, regular, 20, density);
    set.fonts.lead_bold = add_font(*set.atlas, bold, 20, density);
    set.fonts.title = add_font(*set.atlas, bold, 28, density);
    set.fonts.number = add_font(*set.atlas, bold, 44, density);
    set.atlas->Build();
    return set;
  }

  // Debian's fonts-noto-core; without it, the font that Dear ImGui brings along, at the same height.
  static ImFont* add_font(ImFontAtlas& atlas, const char* file, float em, float density) {
    constexpr float kLinePerEm = 1.362f;  // as platform/fonts.cpp
    static const ImWchar ranges[] = {0x20,   0x17F,  0x2010, 0x2026, 0x2190, 0x2193,
                                     0x2212, 0x2212, 0x2248, 0x2265, 0};
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

  float width_, height_;
  Insets insets_;
  ImGuiContext* context_ = nullptr;
  ImGuiMouseSource source_ = ImGuiMouseSource_TouchScreen;
  Ui::Fonts fonts_;
  Theme theme_ = day_theme();
  Words words_;
  Ui ui_;
};

}  // namespace tawny::ui
