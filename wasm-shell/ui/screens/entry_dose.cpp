// A recorded dose, corrected: how much was spread, over how much of the pond, and how well dissolved.
// Everything else (the moments, the bins, the walk) stays as it was recorded.
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/choices.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

class DoseRecordForm : public EntryForm {
 public:
  std::string_view kind() const override { return kind::kDose; }
  void fill(const Entry& entry) override {
    values_ = entry.values;
    if (const double* kg = entry.number("product_kg")) kg_ = *kg;
    take_text(entry, "coverage", coverage_);
    take_text(entry, "sky", sky_);
    if (const bool* dissolved = entry.flag("dissolved")) dissolved_ = *dissolved;
  }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    if (ui.value_field("product_kg", words("key.product_kg"), kg_ ? words.number(*kg_, 1) : "–",
                       words.unit("kg"))) {
      NumberAsk number;
      number.title = words("key.product_kg");
      number.unit = "kg";
      number.present = kg_;
      number.low = 0;
      number.high = 100000;
      place.app.open(make_number_screen(std::move(number), [this](App&, double value) { kg_ = value; }));
    }
    ui.gap();
    ask(ui, "coverage", words("key.coverage"), options_of(words, "key.coverage", {"whole", "part"}), coverage_);
    ui.gap();
    ask(ui, "sky", words("key.sky"), options_of(words, "sky", {"bright", "mixed", "dull"}), sky_);
    ui.gap();
    if (ui.checkbox("dissolved", words("key.dissolved"), dissolved_)) dissolved_ = !dissolved_;
  }
  std::optional<Message> missing() const override {
    if (!kg_) return Message("entry.missing").with("value", Word{"key.product_kg"});
    if (coverage_.empty()) return Message("entry.missing").with("value", Word{"key.coverage"});
    return std::nullopt;
  }
  Values values() const override {
    Values values = values_;
    const auto kg_before = values_.find("product_kg");
    const double* before = kg_before == values_.end() ? nullptr : std::get_if<double>(&kg_before->second);
    if (kg_ && (before == nullptr || *before != *kg_)) {
      values["product_kg"] = *kg_;
      // These follow from the kilograms that no longer hold.
      values.erase("rate_kg_ha");
      values.erase("nitrate_n_mg_l");
    }
    if (!coverage_.empty()) values["coverage"] = coverage_;
    if (!sky_.empty()) values["sky"] = sky_;
    values["dissolved"] = dissolved_;
    return values;
  }

 private:
  Values values_;
  std::optional<double> kg_;
  std::string coverage_, sky_;
  bool dissolved_ = false;
};

}  // namespace

std::unique_ptr<EntryForm> make_dose_record_form() { return std::make_unique<DoseRecordForm>(); }

}  // namespace tawny::ui
