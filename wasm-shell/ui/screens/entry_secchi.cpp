// The Secchi disc: two depths, where it vanishes and where it comes back; or it is still seen on the bottom.
#include <cmath>
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

class SecchiForm : public EntryForm {
 public:
  std::string_view kind() const override { return kind::kSecchiReading; }

  void fill(const Entry& entry) override {
    if (const bool* seen = entry.flag("seen_on_bottom")) on_bottom_ = *seen;
    if (const double* value = entry.number("secchi_vanish_cm")) vanish_.fill(*value, 0);
    if (const double* value = entry.number("secchi_return_cm")) return_.fill(*value, 0);
    if (const double* value = entry.number("depth_at_disc_cm")) depth_.fill(*value, 0);
  }

  void take(std::string_view key, double value) override {
    if (key == "secchi_vanish_cm") vanish_.fill(value, 0);
    if (key == "secchi_return_cm") return_.fill(value, 0);
    if (key == "depth_at_disc_cm") depth_.fill(value, 0);
  }

  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    const std::string_view key = present_key();
    const int steps =
        ui.number_with_steps("entry/value", key_word(words, key), typing()->shown(words), words.unit("cm"));
    if (steps != 0) typing()->nudge(steps, 0, start(place));
    const std::optional<double> vanish = vanish_.value();
    const std::optional<double> back = return_.value();
    if (!on_bottom_ && vanish && back) {
      ui.text("entry/pair",
              words(Message("entry.secchi.pair").with("mean", Quantity{(*vanish + *back) / 2, 1, "cm"})),
              TextSize::lead);
    } else if (!on_bottom_ && at_return_ && vanish) {
      ui.text("entry/vanished",
              words(Message("entry.secchi.vanished").with("depth", Quantity{*vanish, 0, "cm"})), TextSize::body,
              Tone::quiet);
    }
  }

  void draw_below(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    draw_parts(ui);
    if (place.pond == nullptr) return;
    draw_day(place, ui);
    if (const std::string last = secchi_line(words, *place.pond); !last.empty()) {
      ui.text("entry/last", words(Message("entry.secchi.last").with("secchi", Text{last})), TextSize::body,
              Tone::quiet);
    }
  }

  std::optional<Message> missing() const override {
    if (on_bottom_) {
      if (depth_.value()) return std::nullopt;
      return Message("entry.missing").with("value", Word{"key.depth_at_disc_cm"});
    }
    if (!vanish_.value()) return Message("entry.missing").with("value", Word{"key.secchi_vanish_cm"});
    if (!return_.value()) return Message("entry.missing").with("value", Word{"key.secchi_return_cm"});
    return std::nullopt;
  }

  Values values() const override {
    Values values;
    if (on_bottom_) {
      values.emplace("seen_on_bottom", true);
      if (depth_.value()) values.emplace("depth_at_disc_cm", *depth_.value());
      return values;
    }
    if (vanish_.value()) values.emplace("secchi_vanish_cm", *vanish_.value());
    if (return_.value()) values.emplace("secchi_return_cm", *return_.value());
    return values;
  }

  Typing* typing() override {
    if (on_bottom_) return &depth_;
    return at_return_ ? &return_ : &vanish_;
  }

  std::string next_label(const Words& words) const override {
    if (on_bottom_ || at_return_) return {};
    return words(Message("entry.next_value").with("value", Word{"key.secchi_return_cm"}));
  }
  void next() override { at_return_ = true; }

  void draw_after(const FormPlace& place, Ui& ui) override {
    if (place.pond != nullptr) draw_day(place, ui);
  }
  std::string again_label(const Words& words) const override { return words("entry.secchi.again"); }

 private:
  std::string_view present_key() const {
    if (on_bottom_) return "depth_at_disc_cm";
    return at_return_ ? "secchi_return_cm" : "secchi_vanish_cm";
  }

  // Where the steps begin: the disc comes back near where it vanished, and vanishes near where it did last.
  std::optional<double> start(const FormPlace& place) const {
    if (at_return_) return vanish_.value();
    if (on_bottom_ || place.pond == nullptr || place.pond->state.secchi_days.empty()) return std::nullopt;
    return std::round(place.pond->state.secchi_days.back().secchi_cm);
  }

  void draw_parts(Ui& ui) {
    const Words& words = ui.words();
    std::vector<Option> options;
    for (const std::string_view key : {"secchi_vanish_cm", "secchi_return_cm", "seen_on_bottom"}) {
      Option option;
      option.id = key;
      option.label = words("key.short." + std::string(key));
      options.push_back(std::move(option));
    }
    const std::size_t present = on_bottom_ ? 2 : (at_return_ ? 1 : 0);
    if (const auto pressed = ui.choice("entry/fields", "", options, options[present].id)) {
      on_bottom_ = *pressed == options[2].id;
      at_return_ = *pressed == options[1].id;
    }
  }

  // The day's Secchi from the pairs so far, and whether they lie too far apart.
  void draw_day(const FormPlace& place, Ui& ui) {
    const Words& words = ui.words();
    const std::vector<SecchiDay>& days = place.pond->state.secchi_days;
    if (days.empty() || days.back().day != civil_day(place.app.now(), place.app.farm().place.offset)) return;
    const SecchiDay& day = days.back();
    const Quantity secchi{day.secchi_cm, 0, "cm"};
    ui.text("entry/day", words(Message(day.more_than ? "entry.secchi.day_more" : "entry.secchi.day")
                                   .with("secchi", secchi)
                                   .with("count", Quantity{static_cast<double>(day.evidence.size()), 0, ""})));
    if (day.asks_for_another) ui.notice("entry/another", Tone::warn, words("entry.secchi.another"));
  }

  bool on_bottom_ = false;
  bool at_return_ = false;
  Typing vanish_, return_, depth_;
};

}  // namespace

std::unique_ptr<EntryForm> make_secchi_form() { return std::make_unique<SecchiForm>(); }

}  // namespace tawny::ui
