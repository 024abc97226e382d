// The dry pond: what its bottom looks like, and the nitrate that was broadcast on it.
#include <utility>
#include <vector>

#include "dose/cautions.h"
#include "logbook/kinds.h"
#include "protocol/protocol_times.h"
#include "ui/screens/cautions.h"
#include "ui/screens/choices.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kReasonLength = 300;

class BottomForm : public EntryForm {
 public:
  std::string_view kind() const override { return kind::kBottomLook; }
  void fill(const Entry& entry) override {
    take_text(entry, "thick_sludge", sludge_);
    if (const double* days = entry.number("dried_days")) dried_days_ = *days;
    if (const bool* wet = entry.flag("treated_wet")) treated_wet_ = *wet;
  }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    ask(ui, "sludge", words("key.thick_sludge"),
        options_of(words, "key.thick_sludge", {"none", "some", "much"}), sludge_);
    ui.gap(16);
    const std::string days = dried_days_ ? words.number(*dried_days_, 0) : "–";
    if (ui.value_field("dried_days", words("key.dried_days"), days, words.unit("days"))) {
      NumberAsk number;
      number.title = words("key.dried_days");
      number.unit = "days";
      number.decimals = 0;
      number.present = dried_days_;
      number.low = 0;
      number.high = 365;
      place.app.open(
          make_number_screen(std::move(number), [this](App&, double value) { dried_days_ = value; }));
    }
    ui.gap();
    if (ui.checkbox("treated_wet", words("key.treated_wet"), treated_wet_)) treated_wet_ = !treated_wet_;
    if (!treated_wet_) return;
    ui.gap();
    ui.notice("bottom/lime", Tone::warn, words("caution.lime"));
  }
  std::optional<Message> missing() const override {
    if (sludge_.empty()) return Message("entry.missing").with("value", Word{"key.thick_sludge"});
    if (!dried_days_ && !treated_wet_) return Message("entry.missing").with("value", Word{"key.dried_days"});
    return std::nullopt;
  }
  Values values() const override {
    Values values;
    if (!sludge_.empty()) values.emplace("thick_sludge", sludge_);
    // "Dried" is asked of every bottom; one that was treated wet was not dried.
    values.emplace("dried_days", dried_days_.value_or(0));
    if (treated_wet_) values.emplace("treated_wet", true);
    return values;
  }

 private:
  std::string sludge_;
  std::optional<double> dried_days_;
  bool treated_wet_ = false;
};

class BroadcastForm : public EntryForm {
 public:
  std::string_view kind() const override { return kind::kSoilBroadcast; }
  void fill(const Entry& entry) override {
    take_text(entry, "product", product_);
    if (const double* kg = entry.number("product_kg")) kg_ = *kg;
    if (const bool* manager = entry.flag("manager_override")) override_ = *manager;
    take_text(entry, "reason", reason_);
    was_spread_ = true;
    if (const auto* ids = entry.texts("cautions")) recorded_ = *ids;
  }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    draw_products(place, ui);
    const Product* product = place.app.product(product_);
    if (product != nullptr && !product->allowed) draw_override(place, *product, ui);
    ui.gap(16);
    if (ui.value_field("product_kg", words("key.product_kg"), kg_ ? words.number(*kg_, 1) : "–",
                       words.unit("kg"))) {
      NumberAsk number;
      number.title = words("key.product_kg");
      number.unit = "kg";
      number.present = kg_;
      number.low = 0.1;
      number.high = 100000;
      place.app.open(make_number_screen(std::move(number), [this](App&, double value) { kg_ = value; }));
    }
    ui.gap();
    draw_rate(place, ui);
    ids_ = product == nullptr ? std::vector<std::string>() : broadcast_cautions(*product);
    if (was_spread_ || ids_.empty()) return;
    ui.gap(16);
    cautions_.draw(ui, "broadcast", "entry.cautions", ids_);
  }
  std::optional<Message> missing() const override {
    if (product_.empty()) return Message("entry.missing").with("value", Word{"key.product"});
    if (!kg_) return Message("entry.missing").with("value", Word{"key.product_kg"});
    if (!was_spread_ && !cautions_.confirmed(ids_)) return Message("entry.cautions.missing");
    return std::nullopt;
  }
  Values values() const override {
    Values values;
    if (!product_.empty()) values.emplace("product", product_);
    if (!recorded_.empty()) values.emplace("cautions", recorded_);
    if (!was_spread_ && cautions_.confirmed(ids_)) values.emplace("cautions", ids_);
    if (kg_) values.emplace("product_kg", *kg_);
    if (override_) {
      values.emplace("manager_override", true);
      if (!reason_.empty()) values.emplace("reason", reason_);
    }
    return values;
  }

 private:
  // Outside the protocol: why, and the manager's way to put on record what was spread all the same.
  void draw_override(const FormPlace& place, const Product& product, Ui& ui) {
    const Words& words = ui.words();
    const std::string_view why =
        product.reason_id.empty() ? std::string_view("entry.broadcast.not_allowed") : product.reason_id;
    ui.notice("broadcast/not_allowed", Tone::warn, words(why));
    if (place.app.role() != Role::manager) return;
    ui.gap();
    if (ui.checkbox("broadcast/override", words("entry.broadcast.override"), override_)) override_ = !override_;
    if (!override_) return;
    ui.gap();
    if (auto text = ui.text_field("broadcast/reason", words("key.reason"), reason_, words("entry.hint.reason"),
                                  "note", kReasonLength)) {
      reason_ = *std::move(text);
    }
  }

  // The farm's own products first; without any, all that the protocol allows.
  void draw_products(const FormPlace& place, Ui& ui) {
    const Words& words = ui.words();
    std::vector<Option> options;
    const auto offer = [&](const std::string& id) {
      Option option;
      option.id = id;
      option.label = words("product." + id);
      options.push_back(std::move(option));
    };
    for (const FarmProduct& product : place.app.farm().products) {
      if (product.in_use) offer(product.product);
    }
    if (options.empty()) {
      for (const Product& product : place.app.products()) {
        if (product.allowed) offer(product.id);
      }
    }
    const bool only_one = options.size() == 1;
    if (place.app.role() == Role::manager) {
      for (const Product& product : place.app.products()) {
        if (!product.allowed) offer(product.id);
      }
    }
    if (only_one && product_.empty()) product_ = options.front().id;
    const std::string before = product_;
    ask(ui, "product", words("key.product"), options, product_);
    // The manager's word is given for one product, not for the next one chosen.
    if (product_ != before) override_ = false;
  }

  void draw_rate(const FormPlace& place, Ui& ui) const {
    const Words& words = ui.words();
    if (place.pond == nullptr || !kg_ || place.pond->history.pond.nominal_area_ha <= 0) return;
    const double rate_kg_ha = *kg_ / place.pond->history.pond.nominal_area_ha;
    ui.number("broadcast/rate", words("key.rate_kg_ha"), words.number(rate_kg_ha, 0), words.unit("kg_ha"));
    ui.text("broadcast/area",
            words(Message("entry.broadcast.area")
                      .with("area", Quantity{place.pond->history.pond.nominal_area_ha, 2, "ha"})),
            TextSize::body, Tone::quiet);
    const ProtocolTimes times(place.app.protocol(), place.pond->history.protocol_changes);
    const Protocol& protocol = times.at(place.app.now());
    const double low_kg_ha = protocol.number("stage.bottom.broadcast_low_kg_ha");
    const double high_kg_ha = protocol.number("stage.bottom.broadcast_high_kg_ha");
    const bool inside = rate_kg_ha >= low_kg_ha && rate_kg_ha <= high_kg_ha;
    ui.text("broadcast/range",
            words(Message("entry.broadcast.range")
                      .with("low", Quantity{low_kg_ha, 0, ""})
                      .with("high", Quantity{high_kg_ha, 0, "kg_ha"})),
            TextSize::body, inside ? Tone::quiet : Tone::warn);
  }

  std::string product_;
  std::optional<double> kg_;
  bool override_ = false;
  std::string reason_;
  std::vector<std::string> ids_;  // of the cautions on the screen
  CautionsPart cautions_;
  // A correction puts right what was spread: its cautions were for the spreading, and stay as they were confirmed.
  bool was_spread_ = false;
  std::vector<std::string> recorded_;
};

}  // namespace

std::unique_ptr<EntryForm> make_bottom_form() { return std::make_unique<BottomForm>(); }
std::unique_ptr<EntryForm> make_broadcast_form() { return std::make_unique<BroadcastForm>(); }

}  // namespace tawny::ui
