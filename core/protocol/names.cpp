#include <array>
#include <cstddef>
#include <utility>

#include "protocol/assess.h"
#include "protocol/protocol.h"
#include "protocol/windows.h"

namespace tawny {
namespace {

constexpr std::array<std::string_view, 9> kColours = {
    "clear", "muddy", "pale_gold", "golden", "golden_brown", "light_green", "green", "dark_green", "red_brown"};
constexpr std::array<std::string_view, 3> kSkies = {"bright", "mixed", "dull"};
constexpr std::array<std::string_view, 10> kStages = {"bottom",     "first_fill", "rest",       "second_fill",
                                                      "first_dose", "bloom",      "third_fill", "hold_band",
                                                      "release",    "early_cycle"};
constexpr std::array<std::string_view, 3> kVerdicts = {"met", "unmet", "unknown"};
constexpr std::array<std::string_view, 4> kWindows = {"dawn", "dose", "peak", "afternoon"};
constexpr std::array<std::string_view, 21> kActs = {
    "bottom_look",   "soil_broadcast",  "screen_check", "source_look", "fill",        "level_reading",
    "water_reading", "secchi_reading",  "water_colour", "sky",         "dose",        "water_test",
    "grazer_count",  "bottom_grab",     "pest_look",    "meter_check", "shut_inlets", "sign_release",
    "decide_gate",   "settle_question", "start_cycle"};

template <typename Enum, std::size_t N>
std::optional<Enum> enum_of(const std::array<std::string_view, N>& names, std::string_view name) {
  for (std::size_t i = 0; i < N; ++i) {
    if (names[i] == name) return static_cast<Enum>(i);
  }
  return std::nullopt;
}

}  // namespace

std::optional<WaterColour> water_colour_of(std::string_view name) {
  return enum_of<WaterColour>(kColours, name);
}
std::string_view name_of(WaterColour colour) { return kColours[static_cast<std::size_t>(colour)]; }

std::optional<Sky> sky_of(std::string_view name) { return enum_of<Sky>(kSkies, name); }
std::string_view name_of(Sky sky) { return kSkies[static_cast<std::size_t>(sky)]; }

std::string_view name_of(Stage stage) { return kStages[static_cast<std::size_t>(stage) - 1]; }
std::string_view name_of(WindowName window) { return kWindows[static_cast<std::size_t>(window)]; }
std::string_view name_of(Verdict verdict) { return kVerdicts[static_cast<std::size_t>(verdict)]; }
std::string_view name_of(Act act) { return kActs[static_cast<std::size_t>(act)]; }

}  // namespace tawny
