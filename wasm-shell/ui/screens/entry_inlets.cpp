// Inlets: the screens on them, and opening and shutting them.
#include <algorithm>
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/choices.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

// Inlets of the pond as options "0", "1", ...; names are free text, so ids count instead.
std::vector<Option> inlet_options(const FarmPond& pond) {
  std::vector<Option> options;
  for (std::size_t i = 0; i < pond.history.pond.inlets.size(); ++i) {
    Option option;
    option.id = std::to_string(i);
    option.label = pond.history.pond.inlets[i];
    options.push_back(std::move(option));
  }
  return options;
}

void ask_inlet(Ui& ui, std::string_view label, const std::vector<Option>& options, std::string& inlet) {
  const auto chosen =
      std::find_if(options.begin(), options.end(), [&](const Option& option) { return option.label == inlet; });
  const auto pressed = ui.choice("inlet", label, options, chosen == options.end() ? "" : chosen->id);
  if (!pressed) return;
  for (const Option& option : options) {
    if (option.id == *pressed) inlet = option.label;
  }
}

class ScreenForm : public EntryForm {
 public:
  explicit ScreenForm(std::string inlet) : inlet_(std::move(inlet)) {}
  std::string_view kind() const override { return kind::kScreenCheck; }
  void fill(const Entry& entry) override {
    take_text(entry, "inlet", inlet_);
    if (const double* mesh = entry.number("mesh_um")) mesh_um_ = *mesh;
    if (const bool* whole = entry.flag("whole")) state_ = *whole ? "whole" : "torn";
  }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    if (place.pond != nullptr) {
      const std::vector<Option> inlets = inlet_options(*place.pond);
      if (inlets.size() == 1 && inlet_.empty()) inlet_ = inlets.front().label;
      if (!inlets.empty()) ask_inlet(ui, words("key.inlet"), inlets, inlet_);
      take_last_mesh(*place.pond);
    }
    ui.gap(16);
    ask(ui, "whole", words("key.whole"), options_of(words, "key.screen", {"whole", "torn"}), state_);
    ui.text("entry/hint", words("entry.hint.screen"), TextSize::body, Tone::quiet);
    ui.gap();
    ui.notice("entry/suction", Tone::warn, words("entry.caution.suction"));
    ui.gap(16);
    if (ui.value_field("mesh_um", words("key.mesh_um"), mesh_um_ ? words.number(*mesh_um_, 0) : "–",
                       words.unit("um"))) {
      NumberAsk number;
      number.title = words("key.mesh_um");
      number.unit = "um";
      number.decimals = 0;
      number.present = mesh_um_;
      number.low = 10;
      number.high = 20000;
      place.app.open(make_number_screen(std::move(number), [this](App&, double value) { mesh_um_ = value; }));
    }
  }
  std::optional<Message> missing() const override {
    if (inlet_.empty()) return Message("entry.missing").with("value", Word{"key.inlet"});
    if (state_.empty()) return Message("entry.missing").with("value", Word{"key.whole"});
    if (!mesh_um_) return Message("entry.missing").with("value", Word{"key.mesh_um"});
    return std::nullopt;
  }
  Values values() const override {
    Values values;
    if (!inlet_.empty()) values.emplace("inlet", inlet_);
    if (mesh_um_) values.emplace("mesh_um", *mesh_um_);
    if (!state_.empty()) values.emplace("whole", state_ == "whole");
    return values;
  }

 private:
  // A screen stays the one that it was: its mesh is proposed from the last look at it.
  void take_last_mesh(const FarmPond& pond) {
    if (mesh_um_ || inlet_.empty()) return;
    for (const ScreenCheck& check : pond.history.screens) {
      if (check.inlet == inlet_) mesh_um_ = check.mesh_um;
    }
  }

  std::string inlet_;
  std::string state_;
  std::optional<double> mesh_um_;
};

class InletForm : public EntryForm {
 public:
  explicit InletForm(bool open) : position_(open ? "open" : "shut") {}
  std::string_view kind() const override { return kind::kInletMoved; }
  void fill(const Entry& entry) override {
    take_text(entry, "position", position_);
    take_text(entry, "inlet", inlet_);
  }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    ask(ui, "position", words("key.position"), options_of(words, "key.position", {"open", "shut"}), position_);
    if (place.pond == nullptr) return;
    std::vector<Option> inlets = inlet_options(*place.pond);
    if (inlets.size() > 1) {
      Option all;
      all.id = "all";
      all.label = words("entry.all_inlets");
      inlets.insert(inlets.begin(), std::move(all));
      std::string shown = inlet_.empty() ? inlets.front().label : inlet_;
      ui.gap(16);
      ask_inlet(ui, words("key.inlet"), inlets, shown);
      inlet_ = shown == inlets.front().label ? "" : shown;
    }
    draw_target(place, ui);
    ui.gap();
    ui.notice("entry/suction", Tone::warn, words("entry.caution.suction"));
  }
  std::optional<Message> missing() const override { return std::nullopt; }
  Values values() const override {
    Values values{{"position", position_}};
    if (!inlet_.empty()) values.emplace("inlet", inlet_);
    return values;
  }
  std::optional<Act> follow_up() const override { return Act::level_reading; }

 private:
  // The gauge reading to fill to.
  void draw_target(const FormPlace& place, Ui& ui) const {
    const Words& words = ui.words();
    if (position_ != "open") return;
    ui.gap(16);
    const WaterColumn column = water_column_of(place.app, *place.pond);
    if (column.coming_low_cm && column.coming_high_cm) {
      ui.text("entry/target",
              words(Message("entry.fill_to")
                        .with("low", Quantity{*column.coming_low_cm, 0, ""})
                        .with("high", Quantity{*column.coming_high_cm, 0, "cm"})),
              TextSize::lead, Tone::ink, true);
    }
    if (const auto last = last_value(place.pond->history, kind::kLevelReading, "level_cm")) {
      ui.text("entry/last", last_line(words, "level_cm", last), TextSize::body, Tone::quiet);
    }
  }

  std::string position_;
  std::string inlet_;
};

}  // namespace

std::unique_ptr<EntryForm> make_screen_form(const std::string& inlet) {
  return std::make_unique<ScreenForm>(inlet);
}
std::unique_ptr<EntryForm> make_inlet_form(bool open) { return std::make_unique<InletForm>(open); }

}  // namespace tawny::ui
