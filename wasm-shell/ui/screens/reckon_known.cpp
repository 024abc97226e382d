#include "ui/screens/reckon_known.h"

#include <cmath>

#include "logbook/kinds.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

Message from_set_up() { return Message("reckon.from.set_up"); }

// As precise as it can be of a pond: more digits would only be in the way.
double rounded(double value, int decimals) {
  const double scale = std::pow(10.0, decimals);
  return std::round(value * scale) / scale;
}

class Table {
 public:
  Table& put(std::string_view key, ReckonInputValue value, Message from,
             std::optional<ReckonGroup> group = {}) {
    rows_.push_back({key, group, std::move(value), std::move(from)});
    return *this;
  }
  std::vector<KnownInput> done() { return std::move(rows_); }

 private:
  std::vector<KnownInput> rows_;
};

void put_farm(Table& table, const App& app) {
  const Farm& farm = app.farm();
  table.put("date", to_iso(civil_day(app.now(), farm.place.offset)), Message("reckon.from.today"));
  if (farm.set_up) {
    table.put("latitude_deg", farm.place.latitude_deg, from_set_up())
        .put("longitude_deg", farm.place.longitude_deg, from_set_up())
        .put("utc_offset_h", farm.place.offset.minutes / 60.0, from_set_up());
    if (farm.place.altitude_m != 0) table.put("altitude_m", farm.place.altitude_m, from_set_up());
  }
  if (farm.bin_set_up) {
    table.put("bin_l", farm.bin_limits.bin_volume_l, from_set_up())
        .put("lift_kg", farm.bin_limits.lift_kg, from_set_up())
        .put("boat_load_kg", farm.bin_limits.boat_load_kg, from_set_up())
        .put("fill_share", farm.bin_limits.fill_share, from_set_up())
        .put("spacing_m", farm.lane_spacing_m, from_set_up());
  }
  for (const FarmProduct& product : farm.products) {
    if (!product.in_use) continue;
    table.put("product", product.product, from_set_up()).put("bag_kg", product.bag_kg, from_set_up());
    if (product.price_per_kg) table.put("price_per_kg", *product.price_per_kg, from_set_up());
    break;
  }
}

void put_readings(Table& table, const FarmPond& pond) {
  struct Reading {
    std::string_view kind, of_entry, key;
  };
  constexpr Reading kReadings[] = {
      {kind::kWaterReading, "temperature_c", "temperature_c"},
      {kind::kWaterReading, "salinity", "salinity"},
      {kind::kWaterReading, "ph", "ph"},
      {kind::kWaterReading, "do_mg_l", "oxygen_mg_l"},
      {kind::kWaterTest, "tan_mg_l", "tan_mg_l"},
  };
  for (const Reading& reading : kReadings) {
    const auto last = last_value(pond.history, reading.kind, reading.of_entry);
    if (last) table.put(reading.key, last->value, Message("reckon.from.reading").with("at", last->at));
  }
  if (pond.history.secchi.empty()) return;
  const SecchiPair& pair = pond.history.secchi.back();
  if (!pair.vanish_cm || !pair.return_cm || pair.seen_on_bottom) return;
  table.put("secchi_cm", (*pair.vanish_cm + *pair.return_cm) / 2,
            Message("reckon.from.reading").with("at", pair.at));
}

void put_shape(Table& table, const FarmPond& pond) {
  if (pond.history.pond.nominal_area_ha > 0) {
    table.put("area_ha", rounded(pond.history.pond.nominal_area_ha, 4), from_set_up());
  }
  if (pond.setup != nullptr) {
    for (const std::string_view key : {"bottom_length_m", "bottom_width_m", "bank_slope"}) {
      if (const double* value = pond.setup->number(key)) table.put(key, *value, from_set_up());
    }
    if (const double* value = pond.setup->number("depth_m")) {
      table.put("depth_m", *value, from_set_up(), ReckonGroup::filling);
    }
  }
  if (!pond.history.pond.curve || !pond.state.level_cm || pond.history.levels.empty()) return;
  const StageCurve& curve = *pond.history.pond.curve;
  const Message from = Message("reckon.from.level").with("at", pond.history.levels.back().at);
  if (const auto area_m2 = curve.area_m2(*pond.state.level_cm)) {
    table.put("area_m2", rounded(*area_m2, 0), from);
  }
  if (const auto depth_m = curve.mean_depth_m(*pond.state.level_cm)) {
    table.put("mean_depth_m", rounded(*depth_m, 2), from);
    // What the air stirs and the readings stand for is the whole water.
    table.put("depth_m", rounded(*depth_m, 2), from, ReckonGroup::oxygen);
  }
}

}  // namespace

std::vector<KnownInput> known_inputs(const App& app, const std::string& pond) {
  Table table;
  put_farm(table, app);
  if (const FarmPond* known = app.farm().pond(pond)) {
    put_readings(table, *known);
    put_shape(table, *known);
    if (known->state.dose.advised) {
      table.put("rate_kg_ha", known->state.dose.rate_kg_ha, Message("reckon.from.protocol"));
    }
  }
  return table.done();
}

const KnownInput* find_known(const std::vector<KnownInput>& known, std::string_view key, ReckonGroup group) {
  for (const KnownInput& each : known) {
    if (each.key == key && (!each.group || *each.group == group)) return &each;
  }
  return nullptr;
}

}  // namespace tawny::ui
