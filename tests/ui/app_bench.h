// The whole app without a browser: a platform whose clock and store the test holds, and the screen model to
// look at.
#pragma once

#include <cfloat>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assets.h"
#include "imgui.h"
#include "ui/app.h"
#include "ui/bench_fonts.h"

namespace tawny::ui {

class FakePlatform : public Platform {
 public:
  Instant now() const override { return clock; }
  double steady_ms() const override { return watch_ms += ms_per_look; }
  void save(const SaveRequest& request) override {
    ticket = request.ticket;
    ++saves;
    waiting.clear();
    for (const Entry* entry : request.entries) waiting.push_back(entry->line);
  }
  void share_file(std::string_view name, std::string_view text) override {
    shared_name = name;
    shared_text = text;
  }
  void show_report(std::string_view name, std::string_view html) override {
    shown_name = name;
    shown_report = html;
  }
  void carry(int asked_ticket, std::string_view act, std::string_view name, std::string_view bytes) override {
    carried = {asked_ticket, std::string(act), std::string(name), std::string(bytes)};
  }
  void stop_carrying() override { ++stops; }
  bool restart_for_depot() override {
    restarts += is_bound_elsewhere ? 1 : 0;
    return is_bound_elsewhere;
  }
  void start_with_hashes() override { ++starts_with_hashes; }
  std::string code_rows(std::string_view settings) override {
    coded = settings;
    return "101\n010\n111";
  }
  void show_licences() override { ++licences_shown; }
  void pick_file() override {}
  void mirror(std::string_view json) override { mirrored = json; }
  void announce(std::string_view text, bool) override { announced = text; }
  void vibrate(int) override {}
  std::string random_hex(int digits) override { return std::string(static_cast<std::size_t>(digits), 'a'); }
  void sign(int asked_ticket, std::string_view text) override {
    sign_ticket = asked_ticket;
    to_sign = text;
  }
  void check_signatures(int asked_ticket, const std::vector<SignatureCheck>& checks) override {
    check_ticket = asked_ticket;
    to_check = checks;
  }
  void fetch_words(std::string_view language) override { wanted_language = language; }
  void remember(std::string_view key, std::string_view value) override { settings[std::string(key)] = value; }
  void switch_store(std::string_view, bool) override {}
  void take_new_device_id() override {}
  void accept_update() override {}
  void ask_for_pen() override { ++pen_asked; }
  void ask_position() override {}
  void derive_pin(int asked_ticket, std::string_view pin, std::string_view salt, int iterations) override {
    derived = {asked_ticket, std::string(pin), std::string(salt), iterations};
  }
  void show_locked(bool is_locked) override { locked = is_locked; }
  void wipe() override { ++wipes; }

  struct Carried {
    int ticket = 0;
    std::string act, name, bytes;
  };
  Carried carried;  // the step that was asked for last
  struct Derived {
    int ticket = 0;
    std::string pin, salt;
    int iterations = 0;
  };
  Derived derived;  // the hash that was asked for last
  std::optional<bool> locked;
  int wipes = 0;
  int stops = 0;
  bool is_bound_elsewhere = false;  // the page may not ask the folder that the settings name
  int restarts = 0;
  int starts_with_hashes = 0;
  int licences_shown = 0;
  std::string coded;  // settings that a code was asked for
  Instant clock;
  mutable double watch_ms = 0;
  double ms_per_look = 0;  // that pass between two looks at the watch
  int ticket = 0;
  int saves = 0;
  int pen_asked = 0;
  int sign_ticket = 0, check_ticket = 0;
  std::string to_sign;
  std::vector<SignatureCheck> to_check;
  std::vector<std::string> waiting;  // lines handed over and not yet answered
  std::vector<std::string> stored;
  std::string shared_name, shared_text, shown_name, shown_report, mirrored, announced, wanted_language;
  std::map<std::string, std::string> settings;
};

class AppBench {
 public:
  explicit AppBench(Instant now, float width = 390, float height = 844, float density = 1, float text_scale = 1)
      : width_(width), height_(height) {
    const BenchFonts& set = bench_fonts_at(density, text_scale);
    fonts_ = set.fonts;
    context_ = ImGui::CreateContext(set.atlas.get());
    ImGui::SetCurrentContext(context_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplayFramebufferScale = ImVec2(density, density);
    platform.clock = now;
    app = std::make_unique<App>(platform);
    app->speak("en", assets::language("en"));
  }
  ~AppBench() {
    app.reset();
    ImGui::DestroyContext(context_);
  }
  AppBench(const AppBench&) = delete;
  AppBench& operator=(const AppBench&) = delete;

  void set_size(float width, float height) {
    width_ = width;
    height_ = height;
  }
  // The app's own setting bakes no fonts here.
  void set_text_scale(float scale) { fonts_ = bench_fonts_at(1, scale).fonts; }

  // A phone on which nobody has set up anything.
  void open_new(int utc_offset_min) {
    Boot boot;
    boot.store = "own";
    boot.device = "new-device";
    boot.languages = kLanguages;
    boot.utc_offset_min = utc_offset_min;
    app->start(boot);
    app->ready();
    frames(2);
  }

  // The demo farm, stored, with its first screen drawn.
  void open_demo() {
    Boot boot;
    boot.store = "demo";
    boot.device = "demo-device";
    boot.languages = kLanguages;
    app->start(boot);
    app->ready();
    answer(SaveOutcome::saved);
    frames(2);
  }

  void frames(int count) {
    for (int i = 0; i < count; ++i) {
      ImGuiIO& io = ImGui::GetIO();
      io.DisplaySize = ImVec2(width_, height_);
      io.DeltaTime = 1.0f / 60;
      ImGui::NewFrame();
      app->frame(width_, height_, Insets{}, fonts_);
      ImGui::Render();
    }
  }

  // What the store says to the act under way.
  void answer(SaveOutcome outcome, std::string_view detail = {}) {
    if (outcome == SaveOutcome::saved) {
      platform.stored.insert(platform.stored.end(), platform.waiting.begin(), platform.waiting.end());
    }
    platform.waiting.clear();
    app->on_saved(platform.ticket, outcome, detail);
    frames(2);
  }

  const ScreenModel& model() const { return app->ui().model(); }
  const Node* find(std::string_view id) const { return model().find(id); }
  const Node* find(NodeRole role, std::string_view name) const { return model().find(role, name); }
  bool shows(std::string_view text) const {
    for (const Node& node : model().nodes()) {
      if (node.name.find(text) != std::string::npos || node.value.find(text) != std::string::npos) return true;
    }
    return false;
  }

  // Activates a control by its id; false when it is not on the screen or disabled.
  bool press(std::string_view id) {
    const Node* node = find(id);
    if (node == nullptr || node->state.find("disabled") != std::string::npos) return false;
    app->on_activate(id);
    frames(2);
    return true;
  }
  bool press_named(NodeRole role, std::string_view name) {
    const Node* node = find(role, name);
    return node != nullptr && press(std::string(node->id));
  }
  // Types on the keypad of that id, "4.2".
  bool type(std::string_view keypad, std::string_view number) {
    for (const char c : number) {
      const std::string key = c == '.' ? "mark" : std::string(1, c);
      if (!press(std::string(keypad) + "/" + key)) return false;
    }
    return true;
  }

  // What holds the pointer: a mouse stays where it was, a finger is gone when it lifts.
  enum class Hand { mouse, finger };
  void point(Hand hand, float x, float y) {
    hand_ = hand;
    ImGuiIO& io = ImGui::GetIO();
    io.AddMouseSourceEvent(hand == Hand::finger ? ImGuiMouseSource_TouchScreen : ImGuiMouseSource_Mouse);
    io.AddMousePosEvent(x, y);
    frames(1);
  }
  void down() {
    ImGui::GetIO().AddMouseButtonEvent(0, true);
    frames(1);
  }
  void up() {
    ImGui::GetIO().AddMouseButtonEvent(0, false);
    frames(1);
    if (hand_ == Hand::finger) ImGui::GetIO().AddMousePosEvent(-FLT_MAX, -FLT_MAX);
    frames(3);
  }
  // From the middle of that node by this much, and held there; false where it is not on the screen.
  bool drag(Hand hand, std::string_view id, float dx, float dy = 0) {
    const Node* node = find(id);
    if (node == nullptr) return false;
    constexpr int kSteps = 20;
    const float x = node->rect.x + node->rect.w / 2, y = node->rect.y + node->rect.h / 2;
    point(hand, x, y);
    down();
    for (int i = 1; i <= kSteps; ++i) {
      const float share = static_cast<float>(i) / kSteps;
      point(hand, x + dx * share, y + dy * share);
    }
    return true;
  }

  FakePlatform platform;
  std::unique_ptr<App> app;

 private:
  inline static const std::vector<std::string> kLanguages = {"en", "es", "pt-BR", "id", "vi"};
  float width_, height_;
  Hand hand_ = Hand::mouse;
  ImGuiContext* context_ = nullptr;
  Ui::Fonts fonts_;
};

}  // namespace tawny::ui
