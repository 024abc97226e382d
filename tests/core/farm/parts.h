// What the tests of farm/ share: the built-in protocol, an invented place, entries put together by hand.
#pragma once

#include <deque>
#include <string>
#include <string_view>
#include <utility>

#include "assets.h"
#include "farm/farm.h"

namespace tawny::farm_test {

inline const Protocol& protocol() {
  static const Result<Protocol> kParsed = Protocol::parse(assets::find("protocol.json"));
  return *kParsed;
}

inline FarmPlace place() {
  FarmPlace place;
  place.latitude_deg = -2.4;
  place.longitude_deg = -81.6;
  place.offset = UtcOffset{-300};
  return place;
}

// "10:30" of 10 March 2026, or of a day `days` after it.
inline Instant clock(std::string_view hh_mm, int days = 0) {
  const auto two = [&](std::size_t at) { return (hh_mm[at] - '0') * 10 + (hh_mm[at + 1] - '0'); };
  const CivilDay day = *civil_day_of({2026, 3, 10});
  return instant_at(day.plus(days), two(0) * 3600 + two(3) * 60, place().offset);
}

// An entry at a fixed address, as observations need to point at.
inline const Entry* entry(std::string kind, Instant observed, Values values = {}, std::string pond = "p1") {
  static std::deque<Entry> kept;
  Entry one;
  one.id = EntryId{"device", static_cast<std::uint32_t>(kept.size() + 1), std::string(64, 'a')};
  one.kind = std::move(kind);
  one.observed = observed;
  one.pond = std::move(pond);
  one.values = std::move(values);
  kept.push_back(std::move(one));
  return &kept.back();
}

template <typename T>
T at(Instant when) {
  T one;
  one.at = when;
  one.entry = entry("observed", when);
  return one;
}

inline Pond pond(std::string id = "p1", int walk_order = 1) {
  Pond one;
  one.id = std::move(id);
  one.name = "Pond " + one.id;
  one.walk_order = walk_order;
  one.curve = *StageCurve::from_basin(100, 80, 1.5, 2);
  one.nominal_area_ha = 1;
  one.length_m = 106;
  one.width_m = 86;
  one.inlets = {"east"};
  return one;
}

// A pond that entered `stage` two days before 10 March 2026, its screen looked at on the day before.
inline FarmPond pond_in(Stage stage, std::string id = "p1", int walk_order = 1) {
  FarmPond one;
  one.history.pond = pond(std::move(id), walk_order);
  one.history.cycle = "dry season";
  one.history.cycle_start = clock("08:00", -9);
  auto screen = at<ScreenCheck>(clock("08:00", -1));
  screen.inlet = "east";
  screen.mesh_um = 300;
  screen.whole = true;
  one.history.screens.push_back(screen);
  one.state.in_cycle = true;
  one.state.stage = stage;
  one.state.stage_since = clock("09:00", -2);
  return one;
}

inline Farm farm_of(std::vector<FarmPond> ponds, Instant when) {
  Farm farm;
  farm.at = when;
  farm.set_up = true;
  farm.place = place();
  farm.ponds = std::move(ponds);
  farm.bin_limits = BinLimits{200, 0.85, 25, 250, 0, 0, 0.5};
  return farm;
}

}  // namespace tawny::farm_test
