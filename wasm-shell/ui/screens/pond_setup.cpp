// A pond's set-up: name, build, shape (by its basin or by a survey of the gauge), inlets; and the bin's limits.
#include <algorithm>

#include "logbook/kinds.h"
#include "protocol/check_units.h"
#include "ui/drawings/drawings.h"
#include "ui/screens/findings.h"
#include "ui/screens/form.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

struct SurveyRow {
  NumberField level_cm, area_m2;
};

class PondSetupScreen : public Screen {
 public:
  explicit PondSetupScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, words(is_new_ ? "pond.new" : "pond.edit"));
    if (findings_.asking()) {
      if (findings_.draw_question(app, ui, name_, words("entry.yes_save")).value_or(false)) put(app, draft());
      return;
    }
    begin_form(app, ui, "pond_setup");
    if (is_new_ && !app.farm().ponds.empty()) draw_ponds_so_far(app, ui);
    draw_name_and_build(ui);
    if (build_ == "lined") ui.notice("pond/lined", Tone::warn, words("pond.lined"));
    draw_shape(app, ui);
    draw_inlets(ui);
    if (is_new_) {
      ui.gap(16);
      if (ui.checkbox("pond/cycle", words("form.cycle_now"), cycle_now_)) cycle_now_ = !cycle_now_;
    }
    if (problem_) ui.notice("pond/problem", Tone::alarm, words(problem_->message));
    ui.end_content();
    if (save_footer(app, ui, words(name_.empty() ? "pond.needs.name" : "form.save_pond"), !name_.empty()))
      save(app);
  }
  bool holds_unsaved() const override { return !name_.empty(); }

 private:
  void start(App& app) {
    started_ = true;
    is_new_ = pond_.empty();
    const FarmPond* known = app.farm().pond(pond_);
    if (known == nullptr) {
      for (const FarmPond& each : app.farm().ponds) {
        walk_order_ = std::max(walk_order_, each.history.pond.walk_order);
      }
      ++walk_order_;
      pond_ = "p" + std::to_string(walk_order_);
      while (app.farm().pond(pond_) != nullptr) pond_ += "x";
      inlets_.push_back(inlet_name(app.ui().words(), 1));
      if (!app.farm().ponds.empty()) copy_measures(app.farm().ponds.back());
      return;
    }
    const Entry* setup = known->setup;
    name_ = known->history.pond.name;
    walk_order_ = known->history.pond.walk_order;
    build_ = known->history.pond.kind == PondKind::lined ? "lined" : "earthen";
    inlets_ = known->history.pond.inlets;
    if (setup == nullptr) return;
    take_basin(*setup);
    const auto take = [setup](NumberField& field, std::string_view key) {
      if (const double* value = setup->number(key)) field.value = *value;
    };
    take(area_ha_, "nominal_area_ha");
    take(outline_length_m_, "outline_length_m");
    take(outline_width_m_, "outline_width_m");
    const auto* levels = setup->numbers("survey_level_cm");
    const auto* areas = setup->numbers("survey_area_m2");
    if (levels == nullptr || areas == nullptr || levels->size() != areas->size()) return;
    shape_ = "survey";
    for (std::size_t i = 0; i < levels->size(); ++i) {
      add_survey_row();
      survey_.back().level_cm.value = (*levels)[i];
      survey_.back().area_m2.value = (*areas)[i];
    }
  }

  void take_basin(const Entry& setup) {
    const auto take = [&setup](NumberField& field, std::string_view key) {
      if (const double* value = setup.number(key)) field.value = *value;
    };
    take(length_m_, "bottom_length_m");
    take(width_m_, "bottom_width_m");
    take(depth_m_, "depth_m");
    take(slope_, "bank_slope");
  }

  // The ponds of a farm are often dug alike.
  void copy_measures(const FarmPond& other) {
    if (other.setup == nullptr) return;
    take_basin(*other.setup);
    if (length_m_.value) copied_from_ = other.history.pond.name;
  }

  static std::string inlet_name(const Words& words, std::size_t number) {
    return words(Message("pond.inlet").with("number", bare(number)));
  }

  void draw_ponds_so_far(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_card("pond/so_far");
    ui.text("pond/so_far/count", words(Message("pond.so_far").with("count", bare(app.farm().ponds.size()))));
    std::string names;
    for (const FarmPond& each : app.farm().ponds) names += (names.empty() ? "" : ", ") + each.history.pond.name;
    ui.text("pond/so_far/names", names, TextSize::body, Tone::quiet);
    ui.gap(8);
    const bool first_run = app.at_root() || !app.farm().bin_set_up;
    if (ui.button("pond/enough", words(first_run ? "pond.enough" : "form.done"))) {
      if (first_run) {
        app.replace(make_bin_setup_screen());
      } else {
        app.back();
      }
    }
    ui.end_card();
    ui.gap(16);
  }

  void draw_name_and_build(Ui& ui) {
    const Words& words = ui.words();
    if (auto typed = ui.text_field("pond/name", words("form.pond_name"), name_, words("form.pond_name.hint"),
                                   "name", 24)) {
      name_ = *typed;
    }
    ui.gap(8);
    const std::vector<Option> builds = {{"earthen", words("build.earthen"), {}, {}},
                                        {"lined", words("build.lined"), {}, {}}};
    if (auto chosen = ui.choice("pond/build", words("form.build"), builds, build_)) build_ = *chosen;
  }

  void draw_shape(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("pond/shape", words("pond.shape"));
    const std::vector<Option> shapes = {{"basin", words("shape.basin"), {}, {}},
                                        {"survey", words("shape.survey"), {}, {}}};
    if (auto chosen = ui.choice("pond/shape/choice", words("form.shape"), shapes, shape_)) {
      shape_ = *chosen;
      if (shape_ == "survey" && survey_.empty()) {
        add_survey_row();
        add_survey_row();
      }
    }
    ui.gap(8);
    if (shape_ == "basin") {
      ui.text("pond/shape/about", words("shape.basin.about"), TextSize::body, Tone::quiet);
      if (!copied_from_.empty()) {
        ui.notice("pond/shape/copied", Tone::quiet,
                  words(Message("shape.copied").with("pond", Text{copied_from_})));
      }
      ui.begin_cells(2);
      number_field(app, ui, length_m_);
      ui.next_cell();
      number_field(app, ui, width_m_);
      ui.end_cells();
      number_field(app, ui, depth_m_);
      number_field(app, ui, slope_);
    } else {
      ui.text("pond/shape/about", words("shape.survey.about"), TextSize::body, Tone::quiet);
      for (SurveyRow& row : survey_) {
        ui.begin_cells(2);
        number_field(app, ui, row.level_cm);
        ui.next_cell();
        number_field(app, ui, row.area_m2);
        ui.end_cells();
        ui.gap(8);
      }
      if (ui.button("pond/survey/more", words("shape.survey.more"), ButtonKind::quiet)) add_survey_row();
      number_field(app, ui, outline_length_m_);
      ui.gap(8);
      number_field(app, ui, outline_width_m_);
    }
    ui.gap(8);
    number_field(app, ui, area_ha_);
    draw_preview(ui);
  }

  // What the shape comes to, so that a slip of a decimal is seen before it is saved.
  void draw_preview(Ui& ui) {
    const Words& words = ui.words();
    const Result<Pond> pond = read_pond_setup(as_entry(draft()));
    if (!pond || !pond->curve) return;
    const StageCurve& curve = *pond->curve;
    ui.gap(8);
    ui.begin_card("pond/preview");
    WaterColumn column;
    column.lowest_cm = curve.lowest_level_cm();
    column.full_cm = curve.full_level_cm();
    column.bank_slope = pond->bank_slope;
    column.level_cm = curve.full_level_cm();
    draw_water_column(ui, ui.picture("pond/preview/column", words("pond.preview.column"), 96), column, false);
    const Result<double> area = curve.area_m2(curve.full_level_cm());
    if (area)
      ui.fact("pond/preview/area", words("pond.preview.area"), words.quantity({*area / 10000.0, 2, "ha"}));
    ui.fact("pond/preview/volume", words("pond.preview.volume"),
            words.quantity({curve.full_volume_m3(), 0, "m3"}));
    ui.end_card();
  }

  void draw_inlets(Ui& ui) {
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("pond/inlets", words("pond.inlets"));
    ui.text("pond/inlets/about", words("pond.inlets.about"), TextSize::body, Tone::quiet);
    for (std::size_t i = 0; i < inlets_.size(); ++i) {
      const std::string id = "pond/inlet/" + std::to_string(i + 1);
      const std::string label = inlet_name(words, i + 1);
      if (auto typed = ui.text_field(id, label, inlets_[i], {}, "name", 24)) inlets_[i] = *typed;
      ui.gap(8);
    }
    if (ui.button("pond/inlet/more", words("pond.inlet.more"), ButtonKind::quiet)) {
      inlets_.push_back(inlet_name(words, inlets_.size() + 1));
    }
  }

  void add_survey_row() {
    const std::string row = std::to_string(survey_.size() + 1);
    survey_.push_back(
        {{"survey" + row + "/level", "cm", 1, {}, true}, {"survey" + row + "/area", "m2", 0, {}}});
  }

  Draft draft() const {
    Draft draft;
    draft.kind = kind::kPondSetup;
    draft.pond = pond_;
    draft.values = {{"name", name_}, {"walk_order", static_cast<double>(walk_order_)}, {"build", build_}};
    std::vector<std::string> inlets;
    std::copy_if(inlets_.begin(), inlets_.end(), std::back_inserter(inlets),
                 [](const std::string& inlet) { return !inlet.empty(); });
    draft.values.emplace("inlets", std::move(inlets));
    put_number(draft, "nominal_area_ha", area_ha_);
    if (shape_ == "basin") {
      put_number(draft, "bottom_length_m", length_m_);
      put_number(draft, "bottom_width_m", width_m_);
      put_number(draft, "depth_m", depth_m_);
      put_number(draft, "bank_slope", slope_);
      if (!area_ha_.value && length_m_.value && width_m_.value && depth_m_.value && slope_.value) {
        const double top_length_m = *length_m_.value + 2 * *slope_.value * *depth_m_.value;
        const double top_width_m = *width_m_.value + 2 * *slope_.value * *depth_m_.value;
        draft.values.emplace("nominal_area_ha", top_length_m * top_width_m / 10000.0);
      }
    } else {
      std::vector<double> levels_cm;
      std::vector<double> areas_m2;
      for (const SurveyRow& row : survey_) {
        if (!row.level_cm.value || !row.area_m2.value) continue;
        levels_cm.push_back(*row.level_cm.value);
        areas_m2.push_back(*row.area_m2.value);
      }
      if (!area_ha_.value && !areas_m2.empty())
        draft.values.emplace("nominal_area_ha", areas_m2.back() / 10000.0);
      draft.values.emplace("survey_level_cm", std::move(levels_cm));
      draft.values.emplace("survey_area_m2", std::move(areas_m2));
      put_number(draft, "outline_length_m", outline_length_m_);
      put_number(draft, "outline_width_m", outline_width_m_);
    }
    return draft;
  }

  void save(App& app) {
    Draft setup = draft();
    const Result<Pond> pond = read_pond_setup(as_entry(setup));
    if (!pond) {
      problem_ = pond.error();
      return;
    }
    problem_.reset();
    std::vector<Finding> found;
    if (pond->curve) {
      const Result<double> full_m2 = pond->curve->area_m2(pond->curve->full_level_cm());
      auto odd =
          full_m2 ? question_area(app.protocol(), pond->nominal_area_ha, *full_m2 / 10000.0) : std::nullopt;
      if (odd) found.push_back(*std::move(odd));
    }
    if (findings_.take(found) == FindingsPart::Outcome::clear) put(app, std::move(setup));
  }

  void put(App& app, Draft setup) {
    std::vector<Draft> drafts = {std::move(setup)};
    if (is_new_ && cycle_now_ && build_ != "lined") {
      Draft cycle;
      cycle.kind = kind::kCycleStart;
      cycle.pond = pond_;
      cycle.values = {{"cycle", to_iso(civil_day(app.now(), app.farm().place.offset))}};
      drafts.push_back(std::move(cycle));
    }
    const bool is_new = is_new_;
    app.put(std::move(drafts), [&app, is_new] {
      if (is_new) {
        app.replace(make_pond_setup_screen({}));
      } else {
        app.back();
      }
    });
  }

  bool started_ = false;
  bool is_new_ = true;
  bool cycle_now_ = true;
  std::string pond_, name_, copied_from_;
  std::string build_ = "earthen";
  std::string shape_ = "basin";
  int walk_order_ = 0;
  NumberField length_m_{"pond/bottom_length", "m", 1, {}};
  NumberField width_m_{"pond/bottom_width", "m", 1, {}};
  NumberField depth_m_{"pond/depth", "m", 2, {}};
  NumberField slope_{"pond/bank_slope", "", 1, {}};
  NumberField area_ha_{"pond/nominal_area", "ha", 2, {}};
  NumberField outline_length_m_{"pond/outline_length", "m", 0, {}};
  NumberField outline_width_m_{"pond/outline_width", "m", 0, {}};
  // The number screen refers to a row while it stands on top of this form; no row is added then.
  std::vector<SurveyRow> survey_;
  std::vector<std::string> inlets_;
  std::optional<Problem> problem_;
  FindingsPart findings_;
};

class BinSetupScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, words("bin.title"));
    begin_form(app, ui, "bin_setup");
    ui.text("bin/about", words("bin.about"), TextSize::body, Tone::quiet);
    ui.gap(8);
    for (NumberField* field : {&volume_l_, &lift_kg_, &boat_load_kg_, &lane_spacing_m_}) {
      number_field(app, ui, *field);
      ui.gap(8);
    }
    ui.notice("bin/caution", Tone::warn, words("caution.lift_and_boat"));
    ui.gap(16);
    ui.heading("bin/products", words("bin.products"));
    for (Row& row : rows_) {
      if (ui.checkbox("bin/use/" + row.product, words("product." + row.product), row.in_use))
        row.in_use = !row.in_use;
      if (row.in_use) number_field(app, ui, row.bag_kg);
      ui.gap(8);
    }
    if (problem_) ui.notice("bin/problem", Tone::alarm, words(problem_->message));
    ui.end_content();
    const bool has_product = std::any_of(rows_.begin(), rows_.end(), [](const Row& row) { return row.in_use; });
    const std::string_view label = !has_limits()  ? "bin.needs.limits"
                                   : !has_product ? "bin.needs.product"
                                                  : "form.save";
    if (save_footer(app, ui, words(label), has_limits() && has_product)) save(app);
  }
  bool holds_unsaved() const override { return started_ && !saved_; }

 private:
  struct Row {
    std::string product;
    bool in_use = false;
    NumberField bag_kg;
  };

  void start(const App& app) {
    started_ = true;
    const BinLimits& limits = app.farm().bin_limits;
    volume_l_.value = limits.bin_volume_l;
    lift_kg_.value = limits.lift_kg;
    boat_load_kg_.value = limits.boat_load_kg;
    lane_spacing_m_.value = app.farm().lane_spacing_m;
    rows_.reserve(app.products().size());
    for (const Product& product : app.products()) {
      if (!product.allowed) continue;
      Row row;
      row.product = product.id;
      row.bag_kg = NumberField{"bag_" + product.id + "/bag", "kg", 1, 25.0};
      for (const FarmProduct& known : app.farm().products) {
        if (known.product != product.id) continue;
        row.in_use = known.in_use;
        row.bag_kg.value = known.bag_kg;
      }
      rows_.push_back(std::move(row));
    }
  }

  bool has_limits() const {
    return volume_l_.value && lift_kg_.value && boat_load_kg_.value && lane_spacing_m_.value;
  }

  void save(App& app) {
    Draft bin;
    bin.kind = kind::kBinSetup;
    put_number(bin, "bin_volume_l", volume_l_);
    put_number(bin, "lift_kg", lift_kg_);
    put_number(bin, "boat_load_kg", boat_load_kg_);
    put_number(bin, "lane_spacing_m", lane_spacing_m_);
    bin.values.emplace("fill_share", app.farm().bin_limits.fill_share);
    if (const Result<BinLimits> limits = read_bin_setup(as_entry(bin), app.farm().bin_limits); !limits) {
      problem_ = limits.error();
      return;
    }
    problem_.reset();
    std::vector<Draft> drafts = {std::move(bin)};
    for (const Row& row : rows_) {
      const auto known = std::find_if(app.farm().products.begin(), app.farm().products.end(),
                                      [&](const FarmProduct& each) { return each.product == row.product; });
      const bool is_known = known != app.farm().products.end();
      if (!row.in_use && !is_known) continue;
      Draft product;
      product.kind = kind::kProductSetup;
      product.values = {{"product", row.product}, {"in_use", row.in_use}};
      put_number(product, "bag_kg", row.bag_kg);
      if (is_known && known->price_per_kg) product.values.emplace("price_per_kg", *known->price_per_kg);
      drafts.push_back(std::move(product));
    }
    saved_ = true;
    const bool first_run = !app.farm().bin_set_up;
    app.put(std::move(drafts), [&app, first_run] {
      if (first_run || app.at_root()) {
        app.show_first_screen();
      } else {
        app.back();
      }
    });
  }

  bool started_ = false;
  bool saved_ = false;
  NumberField volume_l_{"bin/bin_volume", "l", 0, {}};
  NumberField lift_kg_{"bin/lift", "kg", 0, {}};
  NumberField boat_load_kg_{"bin/boat_load", "kg", 0, {}};
  NumberField lane_spacing_m_{"bin/lane_spacing", "m", 0, {}};
  std::vector<Row> rows_;
  std::optional<Problem> problem_;
};

}  // namespace

std::unique_ptr<Screen> make_pond_setup_screen(const std::string& pond) {
  return std::make_unique<PondSetupScreen>(pond);
}
std::unique_ptr<Screen> make_bin_setup_screen() { return std::make_unique<BinSetupScreen>(); }

}  // namespace tawny::ui
