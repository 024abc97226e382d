// Looks that are told by choosing: the water's colour, the sky, shells and predators.
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/choices.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr WaterColour kColours[] = {WaterColour::clear,  WaterColour::muddy,        WaterColour::pale_gold,
                                    WaterColour::golden, WaterColour::golden_brown, WaterColour::light_green,
                                    WaterColour::green,  WaterColour::dark_green,   WaterColour::red_brown};

class ColourForm : public EntryForm {
 public:
  explicit ColourForm(std::string_view kind) : kind_(kind) {}
  std::string_view kind() const override { return kind_; }
  void fill(const Entry& entry) override { take_text(entry, "colour", colour_); }

  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    std::vector<Option> options;
    for (const WaterColour colour : kColours) {
      Option option;
      option.id = name_of(colour);
      option.label = capitalised(words("colour." + std::string(name_of(colour))));
      option.swatch = ui.theme().water[static_cast<std::size_t>(colour)];
      options.push_back(std::move(option));
    }
    ask(ui, "colour", words("key.colour"), options, colour_);
    ui.gap();
    ui.text("entry/hint", words("entry.hint.colour"), TextSize::body, Tone::quiet);
    if (kind_ != kind::kWaterColour || place.pond == nullptr || place.pond->history.colours.empty()) return;
    const ColourLook& last = place.pond->history.colours.back();
    ui.text("entry/last",
            words(Message("screen.last")
                      .with("value", Word{"colour." + std::string(name_of(last.colour))})
                      .with("age", Text{words.age(last.at)})),
            TextSize::body, Tone::quiet);
  }

  std::optional<Message> missing() const override {
    if (!colour_.empty()) return std::nullopt;
    return Message("entry.missing").with("value", Word{"key.colour"});
  }
  Values values() const override { return colour_.empty() ? Values{} : Values{{"colour", colour_}}; }

 private:
  std::string kind_;
  std::string colour_;
};

// The sky is the same over the farm; a pond may still have its own where a farm is spread wide.
class SkyForm : public EntryForm {
 public:
  std::string_view kind() const override { return kind::kSky; }
  void fill(const Entry& entry) override {
    take_text(entry, "sky", sky_);
    scope_ = entry.pond.empty() ? "farm" : "pond";
  }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    ask(ui, "sky", words("key.sky"), options_of(words, "sky", {"bright", "mixed", "dull"}), sky_);
    ui.gap();
    ui.text("entry/hint", words("entry.hint.sky"), TextSize::body, Tone::quiet);
    if (place.pond == nullptr) return;
    ui.gap();
    ask(ui, "scope", words("entry.scope"), options_of(words, "entry.scope", {"farm", "pond"}), scope_);
  }
  std::optional<Message> missing() const override {
    if (!sky_.empty()) return std::nullopt;
    return Message("entry.missing").with("value", Word{"key.sky"});
  }
  Values values() const override { return sky_.empty() ? Values{} : Values{{"sky", sky_}}; }
  bool farm_wide() const override { return scope_ == "farm"; }

 private:
  std::string sky_;
  std::string scope_ = "farm";
};

class PestForm : public EntryForm {
 public:
  std::string_view kind() const override { return kind::kPestLook; }
  void fill(const Entry& entry) override {
    take_text(entry, "bivalves", bivalves_);
    take_text(entry, "predators", predators_);
  }
  void draw(const FormPlace&, Ui& ui) override {
    const Words& words = ui.words();
    ask(ui, "bivalves", words("key.bivalves"), options_of(words, "key.bivalves", {"none", "few", "many"}),
        bivalves_);
    ui.text("entry/hint_bivalves", words("entry.hint.bivalves"), TextSize::body, Tone::quiet);
    ui.gap(16);
    ask(ui, "predators", words("key.predators"), options_of(words, "key.predators", {"none", "seen"}),
        predators_);
    ui.text("entry/hint_predators", words("entry.hint.predators"), TextSize::body, Tone::quiet);
  }
  std::optional<Message> missing() const override {
    if (bivalves_.empty()) return Message("entry.missing").with("value", Word{"key.bivalves"});
    if (predators_.empty()) return Message("entry.missing").with("value", Word{"key.predators"});
    return std::nullopt;
  }
  Values values() const override {
    Values values;
    if (!bivalves_.empty()) values.emplace("bivalves", bivalves_);
    if (!predators_.empty()) values.emplace("predators", predators_);
    return values;
  }

 private:
  std::string bivalves_, predators_;
};

}  // namespace

std::unique_ptr<EntryForm> make_colour_form(std::string_view kind) {
  return std::make_unique<ColourForm>(kind);
}
std::unique_ptr<EntryForm> make_sky_form() { return std::make_unique<SkyForm>(); }
std::unique_ptr<EntryForm> make_pest_form() { return std::make_unique<PestForm>(); }

}  // namespace tawny::ui
