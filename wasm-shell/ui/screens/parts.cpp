#include "ui/screens/parts.h"

#include <algorithm>

#include "imgui.h"
#include "logbook/kinds.h"

namespace tawny::ui {
namespace {

struct ActOfKind {
  std::string_view kind;
  Act act;
};
constexpr ActOfKind kActs[] = {
    {kind::kWaterReading, Act::water_reading},
    {kind::kLevelReading, Act::level_reading},
    {kind::kSecchiReading, Act::secchi_reading},
    {kind::kWaterColour, Act::water_colour},
    {kind::kSky, Act::sky},
    {kind::kWaterTest, Act::water_test},
    {kind::kGrazerCount, Act::grazer_count},
    {kind::kBottomGrab, Act::bottom_grab},
    {kind::kPestLook, Act::pest_look},
    {kind::kMeterCheck, Act::meter_check},
    {kind::kBottomLook, Act::bottom_look},
    {kind::kSoilBroadcast, Act::soil_broadcast},
    {kind::kScreenCheck, Act::screen_check},
    {kind::kSourceLook, Act::source_look},
    {kind::kInletMoved, Act::shut_inlets},
    {kind::kCycleStart, Act::start_cycle},
    {kind::kDose, Act::dose},
    {kind::kQuestionSettled, Act::settle_question},
};

}  // namespace

std::string act_word(const Words& words, Act act) { return words("act." + std::string(name_of(act))); }

std::string_view act_icon(Act act) {
  switch (act) {
    case Act::water_reading:
      return "oxygen";
    case Act::level_reading:
      return "level";
    case Act::fill:
      return "gate";
    case Act::secchi_reading:
      return "disc";
    case Act::water_colour:
      return "colour";
    case Act::source_look:
      return "colour";
    case Act::sky:
      return "sky-bright";
    case Act::dose:
      return "bin";
    case Act::soil_broadcast:
      return "scoop";
    case Act::water_test:
      return "flask";
    case Act::meter_check:
      return "thermometer";
    case Act::grazer_count:
      return "grazer";
    case Act::bottom_grab:
      return "worm";
    case Act::bottom_look:
      return "bottom";
    case Act::pest_look:
      return "clam";
    case Act::screen_check:
      return "screen";
    case Act::shut_inlets:
      return "gate";
    case Act::sign_release:
    case Act::decide_gate:
    case Act::settle_question:
      return "check";
    case Act::start_cycle:
      return "plus";
  }
  return "note";
}

std::string pond_name(const App& app, std::string_view pond) {
  if (pond.empty()) return app.farm().name;
  const FarmPond* found = app.farm().pond(pond);
  return found == nullptr ? std::string(pond) : found->history.pond.name;
}

std::optional<Act> act_of_kind(std::string_view kind) {
  for (const ActOfKind& pair : kActs) {
    if (pair.kind == kind) return pair.act;
  }
  return std::nullopt;
}

void setting_choice(App& app, Ui& ui, std::string_view id, std::string_view label, std::string_view setting,
                    const SettingOption& first, const SettingOption& second, bool second_now) {
  std::vector<Option> options(2);
  options[0].id = first.value;
  options[0].label = ui.words()(first.word);
  options[1].id = second.value;
  options[1].label = ui.words()(second.word);
  if (const auto pressed = ui.choice(id, label, options, options[second_now ? 1 : 0].id)) {
    app.set_setting(setting, *pressed);
  }
}

Status status_of(DueState state) {
  switch (state) {
    case DueState::now:
      return Status::due;
    case DueState::later:
      return Status::waiting;
    case DueState::overdue:
      return Status::overdue;
    case DueState::missed:
      return Status::stopped;
    case DueState::done:
      return Status::done;
  }
  return Status::unknown;
}

Status status_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::met:
      return Status::done;
    case Verdict::unmet:
      return Status::waiting;
    case Verdict::unknown:
      return Status::unknown;
  }
  return Status::unknown;
}

Tone tone_of(Trouble::Severity severity) {
  switch (severity) {
    case Trouble::Severity::watch:
      return Tone::quiet;
    case Trouble::Severity::warn:
      return Tone::warn;
    case Trouble::Severity::alarm:
      return Tone::alarm;
  }
  return Tone::warn;
}

bool is_left_out(const App& app, const Entry& entry) {
  const FarmPond* pond = app.farm().pond(entry.pond);
  if (pond == nullptr) return false;
  const std::vector<LeftOut>& out = pond->history.left_out;
  return std::any_of(out.begin(), out.end(), [&](const LeftOut& one) { return one.entry->id == entry.id; });
}

std::optional<LastValue> last_value(const PondHistory& history, std::string_view kind, std::string_view key) {
  for (auto entry = history.entries.rbegin(); entry != history.entries.rend(); ++entry) {
    if ((*entry)->kind != kind) continue;
    if (const double* value = (*entry)->number(key)) return LastValue{*value, (*entry)->observed};
  }
  return std::nullopt;
}

std::string last_line(const Words& words, std::string_view key, const std::optional<LastValue>& last) {
  if (!last) return {};
  return words(Message("screen.last")
                   .with("value", Text{measured(words, key, last->value)})
                   .with("age", Text{words.age(last->at)}));
}

std::string secchi_line(const Words& words, const FarmPond& pond) {
  if (pond.history.secchi.empty()) return {};
  const SecchiPair& pair = pond.history.secchi.back();
  std::string value;
  if (pair.seen_on_bottom) {
    value =
        words(Message("screen.more_than").with("value", Quantity{pair.depth_at_disc_cm.value_or(0), 0, "cm"}));
  } else if (pair.vanish_cm && pair.return_cm) {
    value = words.quantity(Quantity{(*pair.vanish_cm + *pair.return_cm) / 2, 0, "cm"});
  } else {
    return {};
  }
  return words(Message("screen.value_age").with("value", Text{value}).with("age", Text{words.age(pair.at)}));
}

std::string oxygen_line(const Words& words, const FarmPond& pond) {
  const std::optional<LastValue> last = last_value(pond.history, kind::kWaterReading, "do_mg_l");
  if (!last) return {};
  return words(Message("screen.value_age")
                   .with("value", Text{measured(words, "do_mg_l", last->value)})
                   .with("age", Text{words.age(last->at)}));
}

std::string capitalised(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  }
  return text;
}

ScreenShape screen_shape() {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  return ScreenShape{size.x, size.y};
}

}  // namespace tawny::ui
