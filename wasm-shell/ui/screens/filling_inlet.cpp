// One inlet's set-up: pump, gate or pipe, and its sizes.
#include <utility>

#include "farm/inlet_setup.h"
#include "logbook/kinds.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kPumpLength = 40;

class InletSetupScreen : public Screen {
 public:
  InletSetupScreen(std::string pond, std::string inlet) : pond_(std::move(pond)), inlet_(std::move(inlet)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(
        ui,
        words(Message("inlet.title").with("pond", Text{pond_name(app, pond_)}).with("inlet", Text{inlet_})));
    begin_form(app, ui, "inlet_setup");
    std::vector<Option> kinds;
    for (const char* kind : {"pump", "gate", "pipe"}) {
      kinds.push_back({kind, words("key.kind." + std::string(kind)), {}, {}});
    }
    if (auto chosen = ui.choice("inlet/kind", words("inlet.kind"), kinds, kind_)) kind_ = *chosen;
    ui.gap();
    for (NumberField* field : fields()) {
      number_field(app, ui, *field);
      ui.gap();
    }
    if (!kind_.empty() && kind_ != "pump") {
      ui.text("inlet/levels", words("inlet.levels"), TextSize::body, Tone::quiet);
      if (ui.checkbox("inlet/keeps", words("inlet.keeps"), keeps_water_)) keeps_water_ = !keeps_water_;
    }
    if (!kind_.empty()) {
      ui.gap();
      if (auto pump = ui.text_field("inlet/pump", words("inlet.pump"), pump_, words("inlet.pump.hint"), "text",
                                    kPumpLength)) {
        pump_ = *pump;
      }
    }
    if (problem_) ui.notice("inlet/problem", Tone::alarm, words(problem_->message));
    ui.end_content();
    const bool whole = is_whole();
    if (save_footer(app, ui, words(whole ? "form.save" : "inlet.needs"), whole)) save(app);
  }
  bool holds_unsaved() const override { return started_ && !(values() == at_first_); }

 private:
  void start(const App& app) {
    started_ = true;
    protocol_coefficient_ = app.protocol().number("filling.gate_coefficient");
    const FarmPond* pond = app.farm().pond(pond_);
    if (pond != nullptr) {
      for (const Inlet& inlet : pond->inlets) {
        if (inlet.name == inlet_) take(inlet);
      }
    }
    at_first_ = values();
  }

  void take(const Inlet& inlet) {
    keeps_water_ = inlet.keeps_water;
    pump_ = inlet.pump;
    if (const auto* pump = std::get_if<PumpInlet>(&inlet.kind)) {
      kind_ = "pump";
      rate_.value = pump->rate_l_s;
    } else if (const auto* gate = std::get_if<GateInlet>(&inlet.kind)) {
      kind_ = "gate";
      width_.value = gate->width_m;
      opening_.value = gate->opening_m;
      sill_.value = gate->sill_level_cm;
      take_coefficient(gate->discharge_coefficient);
    } else if (const auto* pipe = std::get_if<PipeInlet>(&inlet.kind)) {
      kind_ = "pipe";
      diameter_.value = pipe->diameter_m;
      invert_.value = pipe->invert_level_cm;
      take_coefficient(pipe->discharge_coefficient);
    }
  }

  // An inlet's own one is kept, though this form does not ask for it.
  void take_coefficient(double coefficient) {
    if (coefficient != protocol_coefficient_) own_coefficient_ = coefficient;
  }

  std::vector<NumberField*> fields() {
    if (kind_ == "pump") return {&rate_};
    if (kind_ == "gate") return {&width_, &opening_, &sill_};
    if (kind_ == "pipe") return {&diameter_, &invert_};
    return {};
  }

  bool is_whole() {
    if (kind_.empty()) return false;
    for (const NumberField* field : fields()) {
      if (!field->value) return false;
    }
    return true;
  }

  Values values() const {
    Draft draft;
    draft.values = {{"inlet", inlet_}, {"kind", kind_}};
    if (kind_ == "pump") put_number(draft, "rate_l_s", rate_);
    if (kind_ == "gate") {
      put_number(draft, "width_m", width_);
      put_number(draft, "opening_m", opening_);
      put_number(draft, "sill_level_cm", sill_);
    }
    if (kind_ == "pipe") {
      put_number(draft, "diameter_m", diameter_);
      put_number(draft, "invert_level_cm", invert_);
    }
    if (kind_ == "gate" || kind_ == "pipe") {
      draft.values.emplace("keeps_water", keeps_water_);
      if (own_coefficient_) draft.values.emplace("discharge_coefficient", *own_coefficient_);
    }
    if (!kind_.empty() && !pump_.empty()) draft.values.emplace("pump", pump_);
    return draft.values;
  }

  void save(App& app) {
    Draft draft;
    draft.kind = kind::kInletSetup;
    draft.pond = pond_;
    draft.values = values();
    const Result<Inlet> inlet = read_inlet_setup(as_entry(draft), protocol_coefficient_);
    if (!inlet) {
      problem_ = inlet.error();
      return;
    }
    problem_.reset();
    at_first_ = values();
    app.put({std::move(draft)}, [&app] { app.back(); });
  }

  std::string pond_, inlet_;
  bool started_ = false;
  std::string kind_, pump_;
  bool keeps_water_ = true;
  double protocol_coefficient_ = 0;
  std::optional<double> own_coefficient_;
  NumberField rate_{"inlet/rate_l_s", "l_s", 1, {}};
  NumberField width_{"inlet/width_m", "m", 2, {}};
  NumberField opening_{"inlet/opening_m", "m", 2, {}};
  NumberField sill_{"inlet/sill_level_cm", "cm", 0, {}, true};
  NumberField diameter_{"inlet/diameter_m", "m", 2, {}};
  NumberField invert_{"inlet/invert_level_cm", "cm", 0, {}, true};
  Values at_first_;
  std::optional<Problem> problem_;
};

}  // namespace

std::unique_ptr<Screen> make_inlet_setup_screen(const std::string& pond, const std::string& inlet) {
  return std::make_unique<InletSetupScreen>(pond, inlet);
}

}  // namespace tawny::ui
