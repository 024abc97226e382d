// A Ui without a browser: a context of Dear ImGui, fonts, a clock and one finger.
#pragma once

#include <cmath>
#include <fstream>
#include <iterator>
#include <string>

#include "imgui.h"
#include "ui/widgets.h"

namespace tawny::ui {

class Bench {
 public:
  explicit Bench(float width = 390, float height = 844, float density = 1) : width_(width), height_(height) {
    IMGUI_CHECKVERSION();
    context_ = ImGui::CreateContext();
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplayFramebufferScale = ImVec2(density, density);
    fonts_.body = add_font(kRegular, 16, density);
    fonts_.body_bold = add_font(kBold, 16, density);
    fonts_.lead = add_font(kRegular, 20, density);
    fonts_.lead_bold = add_font(kBold, 20, density);
    fonts_.title = add_font(kBold, 28, density);
    fonts_.number = add_font(kBold, 44, density);
    io.Fonts->Build();
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
  static constexpr const char* kRegular = "NotoSans-Regular.ttf";
  static constexpr const char* kBold = "NotoSans-Bold.ttf";

  // Debian's fonts-noto-core; without it, the font that Dear ImGui brings along, at the same height.
  static ImFont* add_font(const char* file, float em, float density) {
    constexpr float kLinePerEm = 1.362f;  // as platform/fonts.cpp
    static const ImWchar ranges[] = {0x20,   0x17F,  0x2010, 0x2026, 0x2190, 0x2193,
                                     0x2212, 0x2212, 0x2248, 0x2265, 0};
    const std::string path = std::string("/usr/share/fonts/truetype/noto/") + file;
    ImFontConfig config;
    config.RasterizerDensity = density;
    config.SizePixels = std::round(em * kLinePerEm);
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    if (!std::ifstream(path)) return atlas.AddFontDefault(&config);
    std::ifstream stream(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
    void* copy = ImGui::MemAlloc(bytes.size());
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
