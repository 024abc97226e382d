// Numbers, one at a time: the big number, its unit, the last value with its age; the keys are drawn by the
// screen.
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

class NumbersForm : public EntryForm {
 public:
  NumbersForm(std::string_view kind, std::vector<AskedNumber> fields, std::vector<AskedNumber> more)
      : kind_(kind), more_(std::move(more)) {
    add(fields);
  }

  std::string_view kind() const override { return kind_; }

  void fill(const Entry& entry) override {
    for (const AskedNumber& field : more_) {
      if (entry.number(field.key) != nullptr) {
        unfold();
        break;
      }
    }
    for (Field& field : fields_) {
      const double* value = entry.number(field.key);
      const Measure* measure = measure_of(field.key);
      if (value != nullptr && measure != nullptr) field.typing.fill(*value, measure->decimals);
    }
  }

  void take(std::string_view key, double value) override {
    for (std::size_t i = 0; i < fields_.size(); ++i) {
      const Measure* measure = measure_of(key);
      if (fields_[i].key != key || measure == nullptr) continue;
      fields_[i].typing.fill(value, measure->decimals);
      present_ = i;
    }
  }

  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    Field& field = fields_[present_];
    const Measure* measure = measure_of(field.key);
    const std::string unit = measure == nullptr || measure->unit.empty() ? "" : words.unit(measure->unit);
    std::optional<LastValue> before;
    if (place.pond != nullptr) before = last_value(place.pond->history, kind_, field.key);
    const int steps =
        ui.number_with_steps("entry/value", key_word(words, field.key), field.typing.shown(words), unit);
    if (steps != 0) {
      field.typing.nudge(steps, measure == nullptr ? 0 : measure->decimals,
                         before ? std::optional<double>(before->value) : std::nullopt);
    }
    if (place.pond != nullptr) {
      const std::string last = last_line(words, field.key, before);
      if (!last.empty()) ui.text("entry/last", last, TextSize::body, Tone::quiet);
    }
  }

  void draw_below(const FormPlace&, Ui& ui) override {
    const Words& words = ui.words();
    const Field& field = fields_[present_];
    const std::string hint = "entry.hint." + field.key;
    if (words.has(hint)) ui.text("entry/hint", words(hint), TextSize::body, Tone::quiet);
    if (fields_.size() > 1) draw_fields(ui);
    if (!more_.empty()) {
      ui.gap();
      if (ui.button("entry/more", words("entry.more." + kind_), ButtonKind::quiet)) {
        present_ = fields_.size();
        unfold();
      }
    }
  }

  std::optional<Message> missing() const override {
    bool any = false;
    for (const Field& field : fields_) {
      const bool has = field.typing.value().has_value();
      if ((field.needed && !has) || (!field.typing.text.empty() && !has)) {
        return Message("entry.missing").with("value", Word{"key." + field.key});
      }
      any = any || has;
    }
    if (any) return std::nullopt;
    return Message("entry.missing_all");
  }

  Values values() const override {
    Values values;
    for (const Field& field : fields_) {
      if (const std::optional<double> value = field.typing.value()) values.emplace(field.key, *value);
    }
    return values;
  }

  Typing* typing() override { return &fields_[present_].typing; }
  bool typing_decimals() const override {
    const Measure* measure = measure_of(fields_[present_].key);
    return measure == nullptr || measure->decimals > 0;
  }

  std::string next_label(const Words& words) const override {
    if (present_ + 1 >= fields_.size()) return {};
    return words(Message("entry.next_value").with("value", Word{"key." + fields_[present_ + 1].key}));
  }
  void next() override {
    if (present_ + 1 < fields_.size()) ++present_;
  }

 private:
  struct Field {
    std::string key;
    bool needed = false;
    Typing typing;
  };

  void add(const std::vector<AskedNumber>& fields) {
    for (const AskedNumber& field : fields) fields_.push_back(Field{field.key, field.needed, Typing{}});
  }
  void unfold() {
    add(more_);
    more_.clear();
  }

  // All values at a glance; a press goes to that value.
  void draw_fields(Ui& ui) {
    const Words& words = ui.words();
    std::vector<Option> options;
    for (const Field& field : fields_) {
      Option option;
      option.id = field.key;
      option.label = words("key.short." + field.key);
      if (!field.typing.text.empty()) option.label += " " + field.typing.shown(words);
      options.push_back(std::move(option));
    }
    const std::string selected = options[present_].id;
    if (const auto pressed = ui.choice("entry/fields", "", options, selected)) {
      for (std::size_t i = 0; i < options.size(); ++i) {
        if (options[i].id == *pressed) present_ = i;
      }
    }
  }

  std::string kind_;
  std::vector<Field> fields_;
  std::vector<AskedNumber> more_;
  std::size_t present_ = 0;
};

// A meter serves the whole farm, so its check counts at every pond.
class MeterForm : public NumbersForm {
 public:
  MeterForm() : NumbersForm(kind::kMeterCheck, {{"do_percent_in_air", true}}, {}) {}
  bool farm_wide() const override { return true; }
};

}  // namespace

std::unique_ptr<EntryForm> make_numbers_form(std::string_view kind, std::vector<AskedNumber> fields,
                                             std::vector<AskedNumber> more) {
  return std::make_unique<NumbersForm>(kind, std::move(fields), std::move(more));
}

std::unique_ptr<EntryForm> make_meter_form() { return std::make_unique<MeterForm>(); }

}  // namespace tawny::ui
