// A logbook that tests of the office write day by day: the farm and the days of core/protocol/story.h, set up
// and sealed as the app does it, so that corrections, voids and folding count as they do there.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <string_view>
#include <utility>

#include "core/protocol/story.h"
#include "farm/farm.h"
#include "logbook/kinds.h"

namespace tawny::test {

class Book {
 public:
  Book() : chain_{"farm", "device", 0, 0, std::string(64, '0')} {
    tell(-30, "08:00", kind::kFarmSetup,
         {{"name", std::string("Heron Bend")},
          {"latitude_deg", -2.2},
          {"longitude_deg", -79.9},
          {"utc_offset_min", -300.0}},
         "");
  }

  // Straight banks, `depth_m` deep, one hectare.
  Book& pond(int day, const std::string& id, double depth_m = 1.2) {
    return tell(day, "08:10", kind::kPondSetup,
                {{"name", "Pond " + id},
                 {"walk_order", 1.0},
                 {"build", std::string("earthen")},
                 {"nominal_area_ha", 1.0},
                 {"inlets", std::vector<std::string>{"gate"}},
                 {"bottom_length_m", 100.0},
                 {"bottom_width_m", 100.0},
                 {"depth_m", depth_m},
                 {"bank_slope", 0.0}},
                id);
  }

  Book& tell(int day, std::string_view hh_mm, std::string_view kind, Values values, std::string pond = "p1",
             std::string corrects = {}) {
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = std::move(pond);
    draft.who = "Maren";
    draft.observed = at(day, hh_mm);
    draft.values = std::move(values);
    draft.corrects = std::move(corrects);
    return put(std::move(draft));
  }

  // Every thing of the story, `days` later.
  Book& tell(const Story& story, int days, const std::string& pond = "p1") {
    for (const Told& one : story.told) {
      Values values = one.values;
      for (auto& [key, value] : values) {
        if (key != "started" && key != "ended") continue;
        value = to_iso(parse_instant(std::get<std::string>(value))->plus_h(24.0 * days));
      }
      tell(one.day + days, one.hh_mm, one.kind, std::move(values), one.pond.empty() ? "" : pond);
    }
    return *this;
  }

  Book& start(int day, std::string label, const std::string& pond = "p1", std::string_view hh_mm = "08:00") {
    return tell(day, hh_mm, kind::kCycleStart, {{"cycle", std::move(label)}}, pond);
  }
  Book& end(int day, const std::string& pond = "p1", std::string_view hh_mm = "18:00") {
    return tell(day, hh_mm, kind::kCycleEnd, {}, pond);
  }
  Book& level(int day, double level_cm, const std::string& pond = "p1", std::string_view hh_mm = "15:00") {
    return tell(day, hh_mm, kind::kLevelReading, {{"level_cm", level_cm}}, pond);
  }

  Book& take_back(int day, std::string_view hh_mm, const std::string& reference) {
    Draft draft;
    draft.kind = std::string(kind::kVoid);
    draft.who = "Maren";
    draft.observed = at(day, hh_mm);
    draft.voids = reference;
    return put(std::move(draft));
  }
  // A draft as a screen makes it.
  Book& put(Draft draft) {
    if (draft.who.empty()) draft.who = "Maren";
    // Written in the order of telling, whenever it was observed.
    recorded_ = std::max(recorded_.plus_s(1), draft.observed);
    auto entry = seal(draft, recorded_, chain_);
    EXPECT_TRUE(entry) << draft.kind;
    if (entry) {
      last_ = to_reference(entry->id);
      logbook_.add(*std::move(entry));
    }
    return *this;
  }

  const std::string& last() const { return last_; }  // reference of the entry told last
  const Logbook& logbook() const { return logbook_; }
  Farm fold(Instant now) const { return fold_farm(logbook_, protocol(), now); }

 private:
  DeviceChain chain_;
  Logbook logbook_;
  Instant recorded_ = at(-40, "00:00");
  std::string last_;
};

}  // namespace tawny::test
