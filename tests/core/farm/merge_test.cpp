// One farm on three phones: whatever the order in which their logbooks meet, every phone sees the same ponds.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>

#include "core/protocol/story.h"
#include "farm/farm.h"

namespace tawny {
namespace {

using test::at;
using test::Told;

class Phones {
 public:
  Phones() {
    tell(0, {0,
             "07:00",
             std::string(kind::kFarmSetup),
             {{"name", std::string("Heron Bend")},
              {"latitude_deg", test::place().latitude_deg},
              {"longitude_deg", test::place().longitude_deg},
              {"utc_offset_min", -300.0}},
             ""});
    for (const char* pond : {"p1", "p2"}) {
      tell(0, {0,
               "07:10",
               std::string(kind::kPondSetup),
               {{"name", std::string(pond)},
                {"walk_order", 1.0},
                {"build", std::string("earthen")},
                {"nominal_area_ha", 1.0},
                {"inlets", std::vector<std::string>{"gate"}},
                {"bottom_length_m", 100.0},
                {"bottom_width_m", 100.0},
                {"depth_m", 1.2},
                {"bank_slope", 0.0}},
               pond});
    }
  }

  Entry tell(std::size_t phone, const Told& one, std::string corrects = {}, std::string voids = {}) {
    Draft draft;
    draft.kind = one.kind;
    draft.pond = one.pond;
    draft.who = one.who;
    draft.observed = at(one.day, one.hh_mm);
    draft.values = one.values;
    draft.corrects = std::move(corrects);
    draft.voids = std::move(voids);
    auto entry = seal(draft, draft.observed, chains_[phone]);
    EXPECT_TRUE(entry);
    lines_[phone].push_back(entry->line);
    return *entry;
  }

  // The whole cycle on a pond, each entry by the next phone.
  void tell_cycle(const std::string& pond) {
    std::size_t phone = 0;
    for (Told one : test::whole_cycle().told) {
      if (!one.pond.empty()) one.pond = pond;
      told_.push_back({one.day, one.hh_mm, one.kind, pond, tell(phone++ % 3, one)});
    }
  }

  const Entry& told(int day, std::string_view hh_mm, std::string_view kind_name, std::string_view pond) const {
    const auto found = std::find_if(told_.begin(), told_.end(), [&](const Kept& one) {
      return one.day == day && one.hh_mm == hh_mm && one.kind == kind_name && one.pond == pond;
    });
    EXPECT_NE(found, told_.end());
    return found->entry;
  }

  Logbook merged(const std::array<std::size_t, 3>& order, bool backwards = false) const {
    Logbook all;
    for (const std::size_t phone : order) {
      std::vector<std::string> lines = lines_[phone];
      if (backwards) std::reverse(lines.begin(), lines.end());
      for (const std::string& line : lines) all.add_line(line);
    }
    return all;
  }

  PondState state(std::string_view pond, Instant now) const {
    const Logbook all = merged({0, 1, 2});
    const Farm farm = fold_farm(all, test::protocol(), now);
    return farm.pond(pond)->state;
  }

 private:
  struct Kept {
    int day;
    std::string hh_mm, kind, pond;
    Entry entry;
  };
  std::array<DeviceChain, 3> chains_{DeviceChain{"farm", "one", 0, 0, std::string(64, '0')},
                                     DeviceChain{"farm", "two", 0, 0, std::string(64, '0')},
                                     DeviceChain{"farm", "three", 0, 0, std::string(64, '0')}};
  std::array<std::vector<std::string>, 3> lines_;
  std::vector<Kept> told_;
};

TEST(ThreePhones, GiveTheSameFarmInWhateverOrderTheyMeet) {
  Phones phones;
  phones.tell_cycle("p1");
  const Instant now = at(40, "12:00");
  const PondState expected = phones.state("p1", now);
  ASSERT_EQ(expected.gates.size(), 10U);
  std::array<std::size_t, 3> order{0, 1, 2};
  do {
    for (const bool backwards : {false, true}) {
      const Logbook all = phones.merged(order, backwards);
      const Farm farm = fold_farm(all, test::protocol(), now);
      const PondState& state = farm.pond("p1")->state;
      ASSERT_EQ(state.gates.size(), expected.gates.size());
      for (std::size_t i = 0; i < state.gates.size(); ++i) EXPECT_EQ(state.gates[i].at, expected.gates[i].at);
      EXPECT_EQ(all.to_lines(), phones.merged({0, 1, 2}).to_lines());
    }
  } while (std::next_permutation(order.begin(), order.end()));
}

TEST(ThreePhones, AVoidOfTheReadingThatOpenedAGateShutsIt) {
  Phones phones;
  phones.tell_cycle("p1");
  EXPECT_EQ(phones.state("p1", at(3, "12:00")).stage, Stage::first_dose);
  const std::string level = to_reference(phones.told(3, "10:00", kind::kLevelReading, "p1").id);
  phones.tell(2, {3, "11:00", std::string(kind::kVoid), {{"reason", std::string("wrong gauge")}}, "p1"}, {},
              level);
  EXPECT_EQ(phones.state("p1", at(3, "12:00")).stage, Stage::second_fill);
}

TEST(ThreePhones, ACorrectionOfTheTimeMovesAReadingIntoItsWindow) {
  Phones phones;
  phones.tell_cycle("p1");
  const Entry& dawn = phones.told(1, "06:00", kind::kWaterReading, "p1");
  Told moved{1, "08:30", dawn.kind, dawn.values, "p1"};
  const Entry late = phones.tell(1, moved, to_reference(dawn.id));
  EXPECT_EQ(phones.state("p1", at(2, "17:00")).stage, Stage::rest);
  moved.hh_mm = "06:10";
  phones.tell(0, moved, to_reference(late.id));
  EXPECT_EQ(phones.state("p1", at(2, "17:00")).stage, Stage::second_fill);
}

TEST(ThreePhones, AProtocolChangeOfOnePondLeavesTheOthersAlone) {
  Phones phones;
  phones.tell_cycle("p1");
  phones.tell_cycle("p2");
  phones.tell(1, {0,
                  "08:10",
                  std::string(kind::kProtocolChange),
                  {{"path", std::string("stage.rest.rest_h")},
                   {"value", 72.0},
                   {"from", to_iso(at(0, "08:10"))},
                   {"reason", std::string("cold water")}},
                  "p2"});
  EXPECT_EQ(phones.state("p1", at(2, "17:00")).stage, Stage::second_fill);
  EXPECT_EQ(phones.state("p2", at(2, "17:00")).stage, Stage::rest);
}

}  // namespace
}  // namespace tawny
