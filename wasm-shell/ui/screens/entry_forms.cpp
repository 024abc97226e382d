// Which form an act has.
#include "logbook/kinds.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"

namespace tawny::ui {

std::unique_ptr<EntryForm> make_form(Act act, const FormPlace& place) {
  switch (act) {
    case Act::water_reading:
      return make_numbers_form(kind::kWaterReading, {{"do_mg_l"}, {"ph"}, {"temperature_c"}, {"salinity"}},
                               {{"do_bottom_mg_l"}, {"temperature_bottom_c"}});
    case Act::level_reading:
      return make_numbers_form(kind::kLevelReading, {{"level_cm", true}});
    case Act::water_test:
      return make_numbers_form(kind::kWaterTest, {{"tan_mg_l"}, {"alkalinity_mg_l"}});
    case Act::grazer_count:
      return make_numbers_form(kind::kGrazerCount, {{"copepods_per_l", true}});
    case Act::bottom_grab:
      return make_numbers_form(kind::kBottomGrab, {{"grabs", true}, {"grabs_with_animals", true}});
    case Act::meter_check:
      return make_meter_form();
    case Act::secchi_reading:
      return make_secchi_form();
    case Act::water_colour:
      return make_colour_form(kind::kWaterColour);
    case Act::source_look:
      return make_colour_form(kind::kSourceLook);
    case Act::sky:
      return make_sky_form();
    case Act::pest_look:
      return make_pest_form();
    case Act::bottom_look:
      return make_bottom_form();
    case Act::soil_broadcast:
      return make_broadcast_form();
    case Act::screen_check:
      return make_screen_form(place.detail);
    case Act::fill:
      return make_inlet_form(true);
    case Act::shut_inlets:
      return make_inlet_form(false);
    case Act::start_cycle:
      return make_cycle_form(place);
    case Act::settle_question:
      return make_question_form(place);
    case Act::dose:
    case Act::sign_release:
    case Act::decide_gate:
      break;
  }
  return nullptr;
}

std::unique_ptr<EntryForm> make_form_of_kind(std::string_view kind, const FormPlace& place) {
  if (kind == kind::kNote) return make_text_form(kind, "text", true);
  if (kind == kind::kOutflow) return make_text_form(kind, "reason", false);
  if (kind == kind::kDose) return make_dose_record_form();
  if (const std::optional<Act> act = act_of_kind(kind)) return make_form(*act, place);
  return nullptr;
}

bool can_be_corrected(std::string_view kind) {
  return has_form_of_kind(kind) || kind == kind::kStockDelivery || kind == kind::kStockCount ||
         kind == kind::kStockOrder;
}

bool has_form_of_kind(std::string_view kind) {
  if (kind == kind::kNote || kind == kind::kOutflow || kind == kind::kDose) return true;
  const std::optional<Act> act = act_of_kind(kind);
  return act && *act != Act::decide_gate && *act != Act::sign_release;
}

}  // namespace tawny::ui
