// Every screen at every width of a phone, at every text size, in every language: nothing is cut off, nothing is
// written over another thing, nothing is too small or too close for a thumb.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <set>

#include "assets.h"
#include "farm/walk.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

namespace fs = std::filesystem;

const Instant kMorning{1795605600};  // 2026-11-25 06:20 at the demo farm, in the dose window

// So tall that all of a screen is seen without scrolling.
constexpr float kTall = 30000;
constexpr float kLeastTarget = 48;  // CSS px
constexpr float kLeastGap = 8;
// A line box is taller than its letters: so much of it at top and bottom is empty.
constexpr float kSlackShare = 0.16f;

bool is_control(const Node& node) {
  return node.role == NodeRole::button || node.role == NodeRole::tab || node.role == NodeRole::radio ||
         node.role == NodeRole::checkbox || node.role == NodeRole::textfield;
}

bool holds(const Rect& outer, const Rect& inner) {
  return inner.x >= outer.x - 1 && inner.y >= outer.y - 1 && inner.x + inner.w <= outer.x + outer.w + 1 &&
         inner.y + inner.h <= outer.y + outer.h + 1;
}

bool overlap(const Rect& a, const Rect& b) {
  return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

Rect letters_of(const Ui::PaintedText& text) {
  const Rect& box = text.rect;
  return {box.x, box.y + box.h * kSlackShare, box.w, box.h * (1 - 2 * kSlackShare)};
}

std::string place_of(const Rect& r) {
  return "[" + std::to_string(static_cast<int>(r.x)) + "," + std::to_string(static_cast<int>(r.y)) + " " +
         std::to_string(static_cast<int>(r.w)) + "x" + std::to_string(static_cast<int>(r.h)) + "]";
}

class Faults {
 public:
  Faults(float width, std::string where) : width_(width), where_(std::move(where)) {}

  void look(const std::string& screen, const ScreenModel& model, const std::vector<Ui::PaintedText>& texts) {
    screen_ = screen;
    std::vector<Node> controls;
    for (const Node& node : model.nodes()) {
      if (is_control(node)) controls.push_back(node);
    }
    if (texts.empty()) fault("nothing is written");
    for (const Ui::PaintedText& text : texts) look_at_text(text, controls);
    look_for_overlaps(texts);
    look_at_controls(controls);
  }

  const std::set<std::string>& all() const { return all_; }

 private:
  void fault(const std::string& what) { all_.insert(where_ + " " + screen_ + ": " + what); }

  void look_at_text(const Ui::PaintedText& text, const std::vector<Node>& controls) {
    const Rect letters = letters_of(text);
    const std::string what = "\"" + text.text + "\" " + place_of(text.rect);
    if (text.is_cut) fault(what + " is cut off");
    if (letters.x < -0.5f || letters.x + letters.w > width_ + 0.5f) fault(what + " leaves the screen");
    if (text.text.find('{') != std::string::npos) fault(what + " misses a value");
    for (const Node& control : controls) {
      const Rect& rect = control.rect;
      const float x = letters.x + letters.w / 2;
      const float y = letters.y + letters.h / 2;
      const bool within = x >= rect.x && x < rect.x + rect.w && y >= rect.y && y < rect.y + rect.h;
      if (within && !holds(rect, letters)) fault(what + " leaves its control " + control.id + place_of(rect));
    }
  }

  void look_for_overlaps(const std::vector<Ui::PaintedText>& texts) {
    for (std::size_t i = 0; i < texts.size(); ++i) {
      for (std::size_t j = i + 1; j < texts.size(); ++j) {
        if (texts[i].text.empty() || texts[j].text.empty()) continue;
        if (overlap(letters_of(texts[i]), letters_of(texts[j]))) {
          fault("\"" + texts[i].text + "\" and \"" + texts[j].text + "\" lie over one another");
        }
      }
    }
  }

  void look_at_controls(const std::vector<Node>& controls) {
    for (std::size_t i = 0; i < controls.size(); ++i) {
      const Rect& a = controls[i].rect;
      const std::string what = controls[i].id + " " + place_of(a);
      if (a.w < kLeastTarget - 0.5f || a.h < kLeastTarget - 0.5f) fault(what + " is too small for a thumb");
      if (a.x < -0.5f || a.x + a.w > width_ + 0.5f) fault(what + " leaves the screen");
      for (std::size_t j = i + 1; j < controls.size(); ++j) {
        const Rect& b = controls[j].rect;
        if (holds(a, b) || holds(b, a)) continue;  // a card and what stands on it
        const Rect wider{a.x - kLeastGap + 0.6f, a.y - kLeastGap + 0.6f, a.w + 2 * kLeastGap - 1.2f,
                         a.h + 2 * kLeastGap - 1.2f};
        if (overlap(wider, b)) fault(what + " is too close to " + controls[j].id + " " + place_of(b));
      }
    }
  }

  float width_;
  std::string where_, screen_;
  std::set<std::string> all_;
};

// One phone that goes through all screens.
class Tour {
 public:
  Tour(float width, float scale, const std::string& language, Faults& faults)
      : faults_(faults), bench_(kMorning, width, kTall, 1, scale) {
    bench_.app->speak(language, assets::language(language));
  }

  void demo_farm() {
    bench_.open_demo();
    for (const auto& [tab, name] : {std::pair<Tab, const char*>{Tab::rounds, "rounds"},
                                    {Tab::ponds, "ponds"},
                                    {Tab::dose, "dose"},
                                    {Tab::logbook, "logbook"},
                                    {Tab::office, "office"}}) {
      bench_.app->open_tab(tab);
      look(name);
      for (const char* more : {"rounds/done/show", "office/about", "office/person"}) press(more);
    }
    for (const FarmPond& pond : bench_.app->farm().ponds) at_pond(pond.history.pond.id);
    entries();
    open("pond set-up", make_pond_setup_screen("p5"));
    open("new pond", make_pond_setup_screen(""));
    open("bin", make_bin_setup_screen());
    open("person", make_person_setup_screen());
    open("farm", make_farm_setup_screen());
    open("inlet", make_inlet_setup_screen("p2", "east gate"));
    open("tide", make_tide_screen("p2"));
    open("calculators", make_reckon_list_screen("p5"));
    for (const Reckoning& reckoning : reckonings()) {
      open("calculator " + std::string(reckoning.name), make_reckon_screen(reckoning, "p5"), {"reckon/more"});
    }
    NumberAsk number;
    number.title = "Heron";
    number.unit = "mg_l";
    number.low = 0;
    number.high = 40;
    open("number", make_number_screen(number, [](App&, double) {}));
    open("moment", make_moment_screen({"Heron", "", kMorning, {}}, [](App&, Instant) {}));
    dose_walk();
  }

  void new_phone() {
    bench_.open_new(-300);
    look("welcome");
    press("welcome/own");
  }

 private:
  void at_pond(const std::string& pond) {
    open("pond " + pond, make_pond_screen(pond), {"pond/enter"});
    open("guide " + pond, make_guide_screen(pond));
    open("gate " + pond, make_gate_screen(pond));
    open("charts " + pond, make_charts_screen(pond), {"charts/table", "charts/month"});
    open("filling " + pond, make_filling_screen(pond));
    for (const Criterion& criterion : bench_.app->farm().pond(pond)->state.criteria) {
      open("criterion " + criterion.id, make_pond_screen(pond), {"criterion/" + criterion.id});
    }
  }

  void entries() {
    for (int act = 0; act <= static_cast<int>(Act::start_cycle); ++act) {
      const Act which = static_cast<Act>(act);
      open("entry " + std::string(name_of(which)), make_entry_screen(which, "p5"), {"when", "save"});
    }
    for (const std::string_view kind : {kind::kNote, kind::kOutflow}) {
      open("entry " + std::string(kind), make_entry_screen_of_kind(kind, "p5"));
    }
    std::set<std::string> seen;
    for (const Entry* entry : bench_.app->logbook().all()) {
      if (!seen.insert(entry->kind).second) continue;
      open("logbook " + entry->kind, make_logbook_entry_screen(to_reference(entry->id)));
    }
  }

  void dose_walk() {
    bench_.app->open(make_dose_walk_screen("p3"));
    look("dose plan");
    for (const char* step : {"plan/sky/bright", "plan/confirm", "save"}) press(step);
    bench_.answer(SaveOutcome::saved);
    for (int bin = 0; bin < 8; ++bin) {
      look("dose bin");
      const std::optional<DoseWalk>& walk = bench_.app->farm().pond("p3")->state.open_walk;
      if (!walk || next_step(*walk).what == WalkStep::What::record) break;
      press("save");
      bench_.answer(SaveOutcome::saved);
    }
    look("dose end");
  }

  void open(const std::string& name, std::unique_ptr<Screen> screen,
            const std::vector<std::string>& presses = {}) {
    bench_.app->open(std::move(screen));
    look(name);
    for (const std::string& id : presses) press(id);
    while (!bench_.app->at_root()) bench_.app->back();
    bench_.frames(1);
  }

  void press(const std::string& id) {
    if (bench_.press(id)) look("after " + id);
  }

  void look(const std::string& name) {
    bench_.frames(2);
    std::vector<Ui::PaintedText> texts;
    bench_.app->ui().note_painted(&texts);
    bench_.frames(1);
    bench_.app->ui().note_painted(nullptr);
    faults_.look(name, bench_.model(), texts);
  }

  Faults& faults_;
  AppBench bench_;
};

std::vector<std::string> languages() {
  std::vector<std::string> codes;
  for (const fs::directory_entry& file :
       fs::directory_iterator(fs::path(TAWNY_SOURCE_DIR) / "assets" / "languages")) {
    if (file.path().extension() == ".json") codes.push_back(file.path().stem().string());
  }
  std::sort(codes.begin(), codes.end());
  return codes;
}

struct Case {
  std::string language;
  float width, scale;
};

std::vector<Case> cases() {
  std::vector<Case> all;
  for (const std::string& language : languages()) {
    for (const float width : {320.0f, 360.0f, 390.0f, 430.0f}) {
      for (const float scale : {1.0f, 1.5f, 2.0f}) all.push_back({language, width, scale});
    }
  }
  return all;
}

class Layout : public ::testing::TestWithParam<Case> {};

TEST_P(Layout, NothingIsCutOffOrTooCloseOnAnyScreen) {
  const auto& [language, width, scale] = GetParam();
  Faults faults(width, language + " " + std::to_string(static_cast<int>(width)) + " px, " +
                           std::to_string(static_cast<int>(100 * scale)) + " %");
  Tour(width, scale, language, faults).demo_farm();
  Tour(width, scale, language, faults).new_phone();
  for (const std::string& fault : faults.all()) ADD_FAILURE() << fault;
}

std::string name_of_case(const ::testing::TestParamInfo<Case>& info) {
  std::string name = info.param.language + "_" + std::to_string(static_cast<int>(info.param.width)) + "_" +
                     std::to_string(static_cast<int>(100 * info.param.scale));
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}

INSTANTIATE_TEST_SUITE_P(Phones, Layout, ::testing::ValuesIn(cases()), name_of_case);

}  // namespace
}  // namespace tawny::ui
