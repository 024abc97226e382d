// Tells a pond's cycle as a list of things that happened, for tests: "day 3, 06:00, water reading with ...".
//
// The farm lies at 2.2 S 79.9 W, five hours behind UTC; day 0 is 2026-03-01. On these days the sun rises about
// 06:20, stands highest about 12:30 and sets about 18:37: 06:00 is dawn, 12:00 peak, 16:00 afternoon, and a
// dose from 06:10 to 07:00 lies inside its window.
#pragma once

#include <algorithm>
#include <deque>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "assets.h"
#include "logbook/kinds.h"
#include "protocol/assess.h"
#include "protocol/history.h"

namespace tawny::test {

inline FarmPlace place() {
  FarmPlace farm;
  farm.latitude_deg = -2.2;
  farm.longitude_deg = -79.9;
  farm.offset = UtcOffset{-300};
  return farm;
}

inline const Protocol& protocol() {
  static const Protocol kProtocol = *Protocol::parse(assets::find("protocol.json"));
  return kProtocol;
}

inline CivilDay day_zero() { return *parse_civil_day("2026-03-01"); }

// "06:00" on a day of the story.
inline Instant at(int day, std::string_view hh_mm) {
  const int hours = (hh_mm[0] - '0') * 10 + (hh_mm[1] - '0');
  const int minutes = (hh_mm[3] - '0') * 10 + (hh_mm[4] - '0');
  return instant_at(day_zero().plus(day), hours * 3600 + minutes * 60, place().offset);
}

// One hectare of water surface when full, 120 cm deep, straight banks: shares of the volume are shares of 120
// cm.
inline Pond pond() {
  Pond one;
  one.id = "p1";
  one.name = "One";
  one.curve = *StageCurve::from_basin(100, 100, 1.2, 0);
  one.nominal_area_ha = 1;
  one.inlets = {"gate"};
  return one;
}

struct Told {
  int day = 0;
  std::string hh_mm;
  std::string kind;
  Values values;
  std::string pond = "p1";
  std::string who = "ana";
};

class Story {
 public:
  Pond pond_setup = pond();
  std::vector<Told> told;

  Story& tell(int day, std::string hh_mm, std::string_view kind, Values values, std::string pond_id = "p1") {
    told.push_back(
        Told{day, std::move(hh_mm), std::string(kind), std::move(values), std::move(pond_id), "ana"});
    return *this;
  }
  Story& start() { return tell(0, "08:00", kind::kCycleStart, {{"cycle", std::string("A")}}); }
  Story& water(int day, std::string hh_mm, double do_mg_l, double ph) {
    return tell(day, std::move(hh_mm), kind::kWaterReading,
                {{"do_mg_l", do_mg_l}, {"ph", ph}, {"temperature_c", 28.0}, {"salinity", 20.0}});
  }
  Story& pair(int day, double dawn_do, double dawn_ph, double afternoon_do, double afternoon_ph) {
    return water(day, "06:00", dawn_do, dawn_ph).water(day, "16:00", afternoon_do, afternoon_ph);
  }
  Story& secchi(int day, double cm, std::string hh_mm = "12:00") {
    return tell(day, std::move(hh_mm), kind::kSecchiReading,
                {{"secchi_vanish_cm", cm + 1}, {"secchi_return_cm", cm - 1}});
  }
  Story& on_bottom(int day, double depth_cm, std::string hh_mm = "12:00") {
    return tell(day, std::move(hh_mm), kind::kSecchiReading,
                {{"seen_on_bottom", true}, {"depth_at_disc_cm", depth_cm}});
  }
  Story& level(int day, std::string hh_mm, double level_cm) {
    return tell(day, std::move(hh_mm), kind::kLevelReading, {{"level_cm", level_cm}});
  }
  Story& colour(int day, std::string colour, std::string hh_mm = "12:10") {
    return tell(day, std::move(hh_mm), kind::kWaterColour, {{"colour", std::move(colour)}});
  }
  Story& sky(int day, std::string sky, std::string hh_mm = "05:40") {
    return tell(day, std::move(hh_mm), kind::kSky, {{"sky", std::move(sky)}}, "");
  }
  Story& dose(int day, double product_kg, std::string hh_mm = "06:10", std::string sky = "bright") {
    const Instant started = at(day, hh_mm);
    Values values{{"product", std::string("sodium_nitrate")},
                  {"product_kg", product_kg},
                  {"bins", 1.0},
                  {"started", to_iso(started)},
                  {"ended", to_iso(started.plus_min(50))},
                  {"coverage", std::string("whole")},
                  {"dissolved", true},
                  {"rate_kg_ha", product_kg},
                  {"area_ha", 1.0}};
    if (!sky.empty()) values["sky"] = std::move(sky);
    const std::string end = to_hh_mm(started.plus_min(50), place().offset);
    return tell(day, end, kind::kDose, std::move(values));
  }
  Story& decide(int day, std::string hh_mm, int stage, bool passed, std::string reason = "seen and judged") {
    return tell(day, std::move(hh_mm), passed ? kind::kGatePassed : kind::kGateRefused,
                {{"stage", static_cast<double>(stage)}, {"reason", std::move(reason)}});
  }

  // Changes or removes what was told; `change` answers false to take the thing out.
  Story& mend(int day, std::string_view kind, const std::function<bool(Told&)>& change) {
    std::vector<Told> kept;
    for (Told& one : told) {
      if (one.day != day || one.kind != kind || change(one)) kept.push_back(std::move(one));
    }
    told = std::move(kept);
    return *this;
  }
  Story& forget(int day, std::string_view kind) {
    return mend(day, kind, [](Told&) { return false; });
  }
  Story& set(int day, std::string_view kind, std::string_view key, Value value) {
    return mend(day, kind, [&](Told& one) {
      one.values[std::string(key)] = value;
      return true;
    });
  }

  PondHistory history() {
    entries_.clear();
    std::vector<const Entry*> effective;
    unsigned number = 0;
    for (const Told& one : told) {
      Entry entry;
      entry.id = EntryId{"phone", ++number, std::string(48, 'a') + std::string(16, '0')};
      entry.lamport = number;
      entry.observed = at(one.day, one.hh_mm);
      entry.recorded = entry.observed;
      entry.who = one.who;
      entry.pond = one.pond;
      entry.kind = one.kind;
      entry.values = one.values;
      entries_.push_back(std::move(entry));
    }
    for (const Entry& entry : entries_) effective.push_back(&entry);
    std::stable_sort(effective.begin(), effective.end(),
                     [](const Entry* a, const Entry* b) { return a->observed < b->observed; });
    return build_history(pond_setup, effective);
  }

  PondState assess_at(int day, std::string_view hh_mm) { return assess_at(at(day, hh_mm)); }
  PondState assess_at(Instant now) { return assess(history(), protocol(), place(), now); }

 private:
  std::deque<Entry> entries_;
};

// Everything as the protocol asks, from the dry bottom (day 0) to the signed release (day 9) and the first
// weeks.
inline Story whole_cycle() {
  Story story;
  story.start();
  story.tell(0, "09:00", kind::kBottomLook, {{"thick_sludge", std::string("none")}, {"dried_days", 10.0}});
  story.tell(0, "09:10", kind::kSoilBroadcast,
             {{"product", std::string("sodium_nitrate")}, {"product_kg", 100.0}});
  story.tell(0, "09:20", kind::kScreenCheck,
             {{"inlet", std::string("gate")}, {"mesh_um", 300.0}, {"whole", true}});
  story.tell(0, "09:30", kind::kSourceLook, {{"colour", std::string("muddy")}});
  story.tell(0, "14:50", kind::kInletMoved, {{"position", std::string("shut")}});
  story.level(0, "15:00", 30);
  story.pair(1, 5.0, 7.8, 9.5, 8.4).pair(2, 5.1, 7.8, 9.6, 8.4);
  story.colour(2, "pale_gold", "15:50");
  story.level(3, "10:00", 69);
  story.water(4, "06:00", 5.0, 7.8).sky(4, "bright").dose(4, 25).water(4, "16:00", 8.5, 8.2);
  story.secchi(5, 50).colour(5, "golden");
  story.level(6, "10:00", 96).secchi(6, 50);
  story.secchi(7, 49).secchi(8, 52);
  story.tell(8, "12:20", kind::kGrazerCount, {{"copepods_per_l", 60.0}});
  story.tell(8, "12:30", kind::kBottomGrab, {{"grabs", 5.0}, {"grabs_with_animals", 3.0}});
  story.pair(8, 5.0, 7.8, 8.6, 8.3).water(9, "06:00", 4.8, 7.8);
  story.tell(9, "09:00", kind::kWaterTest, {{"tan_mg_l", 0.3}, {"alkalinity_mg_l", 110.0}});
  story.tell(9, "09:10", kind::kPestLook,
             {{"bivalves", std::string("none")}, {"predators", std::string("none")}});
  story.level(9, "09:20", 110);
  story.tell(9, "10:00", kind::kReleaseSigned, {{"decision", std::string("release")}});
  return story;
}

// When each gate opens in the whole cycle, and what did it.
struct Opening {
  int day;
  const char* hh_mm;
};
inline const Opening kOpenings[] = {
    {0, "09:30"},   // last of the bottom's criteria: the source water
    {0, "15:00"},   // level
    {2, "16:00"},   // second paired day; 48 h were over at 15:00
    {3, "10:00"},   // level
    {4, "07:00"},   // dose
    {5, "12:10"},   // colour
    {6, "12:00"},   // Secchi after the fill
    {8, "12:30"},   // grabs
    {9, "10:00"},   // signature
    {37, "10:00"},  // four weeks
};

inline const Criterion* find(const std::vector<Criterion>& criteria, std::string_view id) {
  for (const Criterion& one : criteria) {
    if (one.id == id) return &one;
  }
  return nullptr;
}

inline const Trouble* find(const std::vector<Trouble>& troubles, std::string_view id) {
  for (const Trouble& one : troubles) {
    if (one.id == id) return &one;
  }
  return nullptr;
}

inline bool says(const std::vector<Message>& messages, std::string_view id) {
  return std::any_of(messages.begin(), messages.end(), [&](const Message& one) { return one.id == id; });
}

}  // namespace tawny::test
