// Oxygen at the coming sunrise, against cases worked by hand. The range: middle +- 1.2816 sd, and the sd of one
// reading is 0.15 mg/L.
#include "outlook/dawn_outlook.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <deque>

#include "core/outlook/outlook_bench.h"
#include "protocol/windows.h"

namespace tawny {
namespace {

constexpr double kPerSd = 1.2816;

const Protocol& protocol() {
  static const Protocol kProtocol = *Protocol::parse(assets::find("protocol.json"));
  return kProtocol;
}

// The water of one pond of the tropics, read by the hours to and from the sunrise of a day.
class Nights {
 public:
  // `day` 0 is the coming sunrise, -1 the one before.
  Instant sunrise(int day) const {
    return windows_of(CivilDay{20000 + day}, tropical_place(), protocol())->sun.sunrise;
  }
  void read(Instant at, double do_mg_l, std::optional<double> temperature_c = std::nullopt) {
    Entry& entry = entries_.emplace_back();
    entry.id = {"meter", static_cast<std::uint32_t>(entries_.size()), ""};
    WaterReading reading;
    reading.at = at;
    reading.entry = &entry;
    reading.do_mg_l = do_mg_l;
    reading.temperature_c = temperature_c;
    history_.water.push_back(reading);
    std::sort(history_.water.begin(), history_.water.end(),
              [](const WaterReading& a, const WaterReading& b) { return a.at < b.at; });
  }
  // A night that lost `loss_mg_l_h` in each of the ten hours before the sunrise of `day`.
  void night(int day, double loss_mg_l_h, std::optional<double> temperature_c = std::nullopt) {
    read(sunrise(day).plus_h(-10), 9, temperature_c);
    read(sunrise(day), 9 - 10 * loss_mg_l_h, temperature_c);
  }
  Result<DawnOutlook> look(double hours_before_sunrise) const {
    return dawn_outlook(history_, PondState{}, protocol(), tropical_place(), priors(),
                        sunrise(0).plus_h(-hours_before_sunrise));
  }

 private:
  std::deque<Entry> entries_;
  PondHistory history_;
};

// The unit case of Madenjian, Rogers & Fast 1987's third way, reckoned outside of this program: 29 C, salinity
// 20, 1 m deep, 2 m/s of wind, 9.0 to 7.5 mg/L in 3 h, dawn 11.5 h after the first: 4.04 mg/L.
TEST(DawnOutlook, TwoReadingsAfterSunsetGiveTheWorkedCase) {
  Nights nights;
  nights.read(nights.sunrise(0).plus_h(-11.5), 9.0, 29);
  nights.read(nights.sunrise(0).plus_h(-8.5), 7.5, 29);
  const auto dawn = nights.look(8);
  ASSERT_TRUE(dawn) << dawn.error().message.id;
  EXPECT_EQ(dawn->way, DawnWay::two_dusk);
  EXPECT_EQ(dawn->dawn, nights.sunrise(0));
  EXPECT_NEAR(dawn->middle_mg_l, 4.0375, 0.005);
  // A mean error of 0.40 mg/L is an sd of 1.2533 * 0.40 = 0.501; with the reading's 0.15 it is 0.523.
  EXPECT_NEAR(dawn->high_mg_l - dawn->middle_mg_l, kPerSd * 0.523, 0.001);
  EXPECT_NEAR(dawn->middle_mg_l - dawn->low_mg_l, kPerSd * 0.523, 0.001);
  // The floor of 4 lies 0.0375 / 0.523 = 0.07 sd under it: a chance of 0.47.
  EXPECT_EQ(dawn->floor_mg_l, 4);
  EXPECT_NEAR(dawn->under_floor, 0.47, 0.01);
  EXPECT_EQ(dawn->evidence.size(), 2U);
}

TEST(DawnOutlook, TwoReadingsWithinTheHourAreOne) {
  Nights nights;
  nights.read(nights.sunrise(0).plus_h(-11), 9.0);
  nights.read(nights.sunrise(0).plus_h(-10.5), 8.8);
  EXPECT_FALSE(nights.look(8));
  nights.night(-1, 0.4);
  ASSERT_TRUE(nights.look(8));
  EXPECT_EQ(nights.look(8)->way, DawnWay::last_pair);
}

// Losses of 0.30, 0.50, 0.40, 0.35 and 0.60 mg/L an hour: median 0.40, distances 0.10 0.10 0 0.05 0.20, their
// median 0.10. From 8.0 mg/L ten hours before sunrise: 8 - 4 = 4. The sd is 1.4826 * 0.10 * 10 = 1.483, with
// the way's own 0.30 and the reading's 0.15: 1.520.
TEST(DawnOutlook, OneReadingLosesWhatThePondsOwnNightsLost) {
  Nights nights;
  int day = -1;
  for (const double loss : {0.30, 0.50, 0.40, 0.35, 0.60}) nights.night(day--, loss);
  nights.read(nights.sunrise(0).plus_h(-10), 8);
  const auto dawn = nights.look(9);
  ASSERT_TRUE(dawn) << dawn.error().message.id;
  EXPECT_EQ(dawn->way, DawnWay::own_nights);
  EXPECT_EQ(dawn->nights, 5U);
  EXPECT_NEAR(dawn->middle_mg_l, 4, 1e-9);
  EXPECT_NEAR(dawn->high_mg_l, 4 + kPerSd * 1.520, 0.001);
  EXPECT_NEAR(dawn->low_mg_l, 4 - kPerSd * 1.520, 0.001);
  EXPECT_NEAR(dawn->under_floor, 0.5, 1e-9);
  EXPECT_EQ(dawn->evidence.size(), 11U);
}

// A loss of 0.40 at 27 C is 0.40 * 2^(3/10) = 0.4925 at 30 C: 8 - 4.925 = 3.075.
TEST(DawnOutlook, AWarmerNightLosesMore) {
  Nights nights;
  for (int day = -1; day >= -4; --day) nights.night(day, 0.40, 27);
  nights.read(nights.sunrise(0).plus_h(-10), 8, 30);
  EXPECT_NEAR(nights.look(9)->middle_mg_l, 3.075, 0.001);
}

// 0.50 in an hour over eight hours: 7 - 4 = 3. The sd is 0.35 * 0.50 * 8 = 1.4, with 0.30 and 0.15: 1.4396. One
// mg/L under the floor of 4 is 0.6946 sd: normal table, 0.7563.
TEST(DawnOutlook, OneNightKnownStandsForTonightWithAWideRange) {
  Nights nights;
  nights.night(-2, 0.50);
  nights.read(nights.sunrise(0).plus_h(-8), 7);
  const auto dawn = nights.look(7);
  ASSERT_TRUE(dawn) << dawn.error().message.id;
  EXPECT_EQ(dawn->way, DawnWay::last_pair);
  EXPECT_EQ(dawn->nights, 1U);
  EXPECT_NEAR(dawn->middle_mg_l, 3, 1e-9);
  EXPECT_NEAR(dawn->high_mg_l - 3, kPerSd * 1.4396, 0.001);
  EXPECT_NEAR(dawn->under_floor, 0.7563, 0.0005);
}

TEST(DawnOutlook, NothingUnderNothing) {
  Nights nights;
  nights.night(-1, 0.8);
  nights.read(nights.sunrise(0).plus_h(-10), 5);
  const auto dawn = nights.look(9);
  ASSERT_TRUE(dawn);
  EXPECT_EQ(dawn->middle_mg_l, 0);
  EXPECT_EQ(dawn->low_mg_l, 0);
  EXPECT_GT(dawn->under_floor, 0.9);
}

TEST(DawnOutlook, KnowsNothingThatWasReadLater) {
  Nights nights;
  for (int day = -1; day >= -3; --day) nights.night(day, 0.40);
  nights.read(nights.sunrise(0).plus_h(-10), 8);
  const double before = nights.look(9)->middle_mg_l;
  nights.read(nights.sunrise(0).plus_h(-5), 1);
  nights.read(nights.sunrise(0).plus_h(1), 1);
  EXPECT_EQ(nights.look(9)->middle_mg_l, before);
}

TEST(DawnOutlook, PassesByWhatNoMeterShows) {
  Nights nights;
  for (int day = -1; day >= -3; --day) nights.night(day, 0.40, 29);
  nights.read(nights.sunrise(0).plus_h(-10), 8, 29);
  const double before = nights.look(9)->middle_mg_l;
  nights.read(nights.sunrise(0).plus_h(-9.5), 8e9, 29);
  nights.read(nights.sunrise(-1).plus_h(0.5), -3, 29);
  EXPECT_EQ(nights.look(9)->middle_mg_l, before);
}

TEST(DawnOutlook, SaysWhatIsMissing) {
  Nights nights;
  ASSERT_FALSE(nights.look(9));
  EXPECT_EQ(nights.look(9).error().message.id, "outlook.missing.evening");
  nights.read(nights.sunrise(0).plus_h(-10), 8);
  ASSERT_FALSE(nights.look(9));
  EXPECT_EQ(nights.look(9).error().message.id, "outlook.missing.night");
}

// The night belongs to the evening before it: an hour before sunrise the coming one is the same as at dusk.
TEST(DawnOutlook, BeforeSunriseItIsStillTheEveningBefore) {
  Nights nights;
  for (int day = -1; day >= -3; --day) nights.night(day, 0.40);
  nights.read(nights.sunrise(0).plus_h(-10), 8);
  EXPECT_EQ(nights.look(1)->dawn, nights.look(9)->dawn);
  EXPECT_EQ(nights.look(1)->middle_mg_l, nights.look(9)->middle_mg_l);
  // After it, this evening is yet to come.
  EXPECT_FALSE(nights.look(-1));
}

}  // namespace
}  // namespace tawny
