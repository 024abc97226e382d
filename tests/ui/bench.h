// A Ui without a browser: a context of Dear ImGui, fonts, a clock and one finger.
#pragma once

#include <string_view>
#include <utility>

#include "imgui.h"
#include "ui/bench_fonts.h"
#include "ui/widgets.h"

namespace tawny::ui {

class Bench {
 public:
  explicit Bench(float width = 390, float height = 844, float density = 1) : width_(width), height_(height) {
    IMGUI_CHECKVERSION();
    const BenchFonts& set = bench_fonts_at(density);
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
