// Looking ahead on the screens: what a forecast shows and says, whose rule goes first, and how its work is
// shared out over the frames.
#include <gtest/gtest.h>

#include <memory>

#include "assets.h"
#include "office/finished_blooms.h"
#include "office/needs.h"
#include "outlook/outlook_says.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795707600};
constexpr std::string_view kDosed = "p5";      // over its band: a dose is advised
constexpr std::string_view kInBand = "p6";     // in its band: no dose is allowed
constexpr std::string_view kYoung = "p4";      // one measured Secchi so far
constexpr std::string_view kFirstDose = "p3";  // no Secchi yet
constexpr std::string_view kBottom = "p1";     // no water yet

class OutlookScreens : public ::testing::Test {
 protected:
  OutlookScreens() : bench(kMorning) { bench.open_demo(); }

  void open(std::string_view pond, int frames = 3) {
    bench.app->open_tab(Tab::ponds);
    bench.app->open(make_pond_screen(std::string(pond)));
    bench.frames(frames);
  }
  std::string said(std::string_view id) const {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string() : node->name;
  }
  const FarmPond& pond(std::string_view id) const { return *bench.app->farm().pond(id); }
  std::string in_words(const Message& message) const { return bench.app->ui().words()(message); }

  // The same forecast in one go, without a desk.
  Outlook at_once(std::string_view id, std::size_t* steps = nullptr) const {
    const OutlookPriors published = *parse_outlook_priors(assets::find("outlook.json"));
    std::vector<CycleLesson> lessons;
    std::size_t taken = 2;  // the cycles gathered, and the last step of the forecast
    for (const BloomRecord& record : finished_blooms(
             all_cycles(bench.app->logbook(), bench.app->farm(), bench.app->protocol(), bench.app->now()),
             bench.app->farm().place, bench.app->products(), published)) {
      lessons.push_back(lesson_of(record, published));
      taken += record.days.size() + 1;
    }
    EXPECT_FALSE(lessons.empty());
    const OutlookPriors priors = priors_of_farm(published, lessons);
    auto asked = pond_outlook(bench.app->farm(), pond(id), bench.app->protocol(), bench.app->products(), priors,
                              {}, bench.app->now());
    OutlookRun run(asked->record, asked->rules, priors, bench.app->farm().place, {});
    while (!run.step()) ++taken;
    if (steps != nullptr) *steps = taken;
    return run.outlook();
  }

  AppBench bench;
};

TEST_F(OutlookScreens, FewReadingsGiveNoAdviceAndNameTheReadingThatHelps) {
  open(kYoung);
  EXPECT_EQ(said("outlook/no_advice"), "No advice");
  EXPECT_EQ(said("outlook/why"), "Secchi was measured on 1 day so far; 3 days are needed.");
  EXPECT_NE(said("outlook/helps"), "");
  EXPECT_EQ(bench.find("outlook/chart"), nullptr);
  EXPECT_EQ(bench.find("outlook/suggestion"), nullptr);
}

TEST_F(OutlookScreens, ADryPondIsNotLookedAheadAt) {
  open(kBottom);
  EXPECT_EQ(bench.find("outlook"), nullptr);
  EXPECT_EQ(bench.app->frames_wanted(), 0);
}

TEST_F(OutlookScreens, TheChosenDoseChangesWhatTheChartSays) {
  open(kDosed);
  const Outlook outlook = at_once(kDosed);
  ASSERT_EQ(outlook.doses.size(), 3U);
  std::string before;
  for (std::size_t i = 0; i < outlook.doses.size(); ++i) {
    ASSERT_TRUE(bench.press("outlook/dose/" + std::to_string(i)));
    const std::string chart = said("outlook/chart");
    EXPECT_NE(chart, before);
    before = chart;
    for (const SecchiForecast& day : outlook.doses[i].days) {
      EXPECT_NE(chart.find(in_words(day_message(day))), std::string::npos) << i << ": " << chart;
    }
  }
}

TEST_F(OutlookScreens, TheDaysUnfoldWithTheirRangeAndChance) {
  open(kDosed);
  const SecchiForecast tomorrow = at_once(kDosed).doses[0].days[0];
  const std::string id = "outlook/day/" + to_iso(tomorrow.day);
  EXPECT_EQ(bench.find(id), nullptr);
  ASSERT_TRUE(bench.press("outlook/days"));
  ASSERT_NE(bench.find(id), nullptr);
  EXPECT_EQ(bench.find(id)->value, in_words(day_message(tomorrow)));
}

TEST_F(OutlookScreens, ADoseThatTheProtocolForbidsIsNeitherAChoiceNorSuggested) {
  ASSERT_FALSE(pond(kInBand).state.dose.allowed);
  open(kInBand);
  ASSERT_NE(bench.find("outlook/chart"), nullptr);
  EXPECT_EQ(bench.find("outlook/dose/1"), nullptr);
  EXPECT_EQ(bench.find("outlook/suggestion"), nullptr);
  EXPECT_EQ(said("outlook/protocol"), "The protocol allows no dose now, and goes first.");
}

TEST_F(OutlookScreens, TheProtocolsOwnRateStandsBesideASuggestion) {
  ASSERT_TRUE(pond(kDosed).state.dose.advised);
  open(kDosed);
  EXPECT_EQ(said("outlook/suggestion"), in_words(*suggestion_message(at_once(kDosed))));
  EXPECT_EQ(said("outlook/protocol"), "The protocol advises 10 kg/ha now, and goes first.");
}

TEST_F(OutlookScreens, TheTallyOfEarlierForecastsIsToldInOneLine) {
  open(kDosed);
  const OutlookScore score = at_once(kDosed).score;
  ASSERT_GT(score.judged, 20);
  EXPECT_EQ(said("outlook/tally"), in_words(tally_message(score)));
}

// The desk looks at the watch once when it begins and once after each step.
TEST_F(OutlookScreens, AFrameWorksNoLongerThanItsSlice) {
  open(kDosed, 1);
  std::size_t steps = 0;
  at_once(kDosed, &steps);
  ASSERT_GT(steps, 20U);
  bench.platform.ms_per_look = OutlookDesk::kSliceMs * 0.6;
  bench.app->outlooks().forget();
  std::size_t frames = 0;
  while (bench.find("outlook/chart") == nullptr && frames < 2 * steps) {
    const double before_ms = bench.platform.watch_ms;
    bench.frames(1);
    ++frames;
    // Two steps: after the first 0.6 of the slice is over, after the second 1.2.
    EXPECT_LE(bench.platform.watch_ms - before_ms, OutlookDesk::kSliceMs * 0.6 * 3 + 1e-9);
    if (bench.find("outlook/chart") == nullptr) {
      EXPECT_GE(bench.app->frames_wanted(), 1);
      EXPECT_EQ(said("outlook/working"), "Reckoning the next days.");
    }
  }
  EXPECT_GE(frames, steps / 2);
  EXPECT_LE(frames, steps / 2 + 3);
}

TEST_F(OutlookScreens, AForecastIsTheSameHoweverItIsSliced) {
  bench.platform.ms_per_look = 2 * OutlookDesk::kSliceMs;
  open(kDosed, 400);
  const Outlook once = at_once(kDosed);
  const OutlookDesk::Look& look = bench.app->outlooks().look(*bench.app, pond(kDosed));
  ASSERT_TRUE(look.outlook);
  for (std::size_t i = 0; i < once.doses.size(); ++i) {
    for (std::size_t day = 0; day < once.doses[i].days.size(); ++day) {
      EXPECT_EQ(look.outlook->doses[i].days[day].median_cm, once.doses[i].days[day].median_cm);
      EXPECT_EQ(look.outlook->doses[i].days[day].in_band, once.doses[i].days[day].in_band);
    }
  }
  EXPECT_EQ(look.outlook->score.crps_cm, once.score.crps_cm);
}

TEST_F(OutlookScreens, OnceShownTheAppRestsAndTheForecastIsKept) {
  open(kDosed, 10);
  ASSERT_NE(bench.find("outlook/chart"), nullptr);
  EXPECT_EQ(bench.app->frames_wanted(), 0);
  bench.app->open_tab(Tab::logbook);
  bench.frames(5);
  EXPECT_EQ(bench.app->frames_wanted(), 0);
  bench.app->open(make_pond_screen(std::string(kDosed)));
  bench.frames(1);
  EXPECT_NE(bench.find("outlook/chart"), nullptr);
  // A minute later the farm is folded anew; the logbook and the day are the same.
  bench.platform.clock = bench.platform.clock.plus_min(2);
  bench.frames(1);
  EXPECT_NE(bench.find("outlook/chart"), nullptr);
}

TEST_F(OutlookScreens, NothingIsReckonedForAScreenThatDoesNotAsk) {
  bench.platform.ms_per_look = 1;
  bench.platform.watch_ms = 0;
  for (const Tab tab : {Tab::ponds, Tab::logbook, Tab::office}) {
    bench.app->open_tab(tab);
    bench.frames(10);
    EXPECT_FALSE(bench.app->outlooks().is_working());
  }
}

TEST_F(OutlookScreens, ANewDayIsForecastAnew) {
  open(kDosed, 5);
  const std::string before = said("outlook/chart");
  bench.platform.clock = bench.platform.clock.plus_h(24);
  bench.frames(5);
  EXPECT_NE(said("outlook/chart"), before);
}

const Instant kEvening{1795736400};  // 18:20 at the demo farm

class DawnAhead : public ::testing::Test {
 protected:
  void open(Instant now) {
    bench = std::make_unique<AppBench>(now);
    bench->open_demo();
  }
  // Oxygen read at p6, as a technician would enter it.
  void read(Instant at, double do_mg_l) {
    Draft draft;
    draft.kind = "water_reading";
    draft.pond = "p6";
    draft.observed = at;
    draft.values = {{"do_mg_l", do_mg_l}, {"temperature_c", 29.0}};
    bench->app->put({std::move(draft)});
    bench->answer(SaveOutcome::saved);
    bench->frames(2);
  }
  const DawnOutlook* dawn(std::string_view pond) const {
    const auto& dawns = bench->app->outlooks().dawns(*bench->app);
    const auto found = dawns.find(pond);
    return found == dawns.end() ? nullptr : &found->second;
  }
  std::string said(std::string_view id) const {
    const Node* node = bench->find(id);
    return node == nullptr ? std::string() : node->name;
  }
  std::unique_ptr<AppBench> bench;
};

TEST_F(DawnAhead, NothingIsToldBeforeAnythingWasReadThisEvening) {
  open(kMorning);
  EXPECT_EQ(dawn("p5"), nullptr);
  EXPECT_EQ(bench->find("rounds/dawn"), nullptr);
}

TEST_F(DawnAhead, APondOverTheLimitStandsInTheRoundsWithChanceRangeAndSunrise) {
  open(kEvening);
  const DawnOutlook* risky = dawn("p5");
  ASSERT_NE(risky, nullptr);
  const OutlookPriors& priors = bench->app->outlooks().priors();
  ASSERT_GT(risky->under_floor, priors.dawn.risk_high);
  const Words& words = bench->app->ui().words();
  const std::string row = said("rounds/dawn/p5");
  EXPECT_NE(row.find(words(dawn_risk_message(*risky))), std::string::npos) << row;
  EXPECT_NE(row.find(words(dawn_message(*risky))), std::string::npos) << row;
  EXPECT_NE(row.find("06:06"), std::string::npos) << row;
  for (const auto& [pond, told] : bench->app->outlooks().dawns(*bench->app)) {
    EXPECT_EQ(bench->find("rounds/dawn/" + pond) != nullptr, told.under_floor > priors.dawn.risk_high) << pond;
  }
}

TEST_F(DawnAhead, EverybodySeesItWhoeversWorkIsShown) {
  open(kEvening);
  for (const char* whose : {"mine", "all"}) {
    ASSERT_TRUE(bench->press("rounds/whose/" + std::string(whose)));
    EXPECT_NE(bench->find("rounds/dawn/p5"), nullptr);
  }
}

// protocol.md, "crash": dusk pair tonight, aeration ready.
TEST_F(DawnAhead, TheProtocolsOwnChecksStandUnderIt) {
  open(kEvening);
  EXPECT_EQ(said("rounds/dawn/check/1"), "Read oxygen twice after sunset tonight: it tells the coming dawn.");
  EXPECT_EQ(said("rounds/dawn/check/2"), "Have aeration ready.");
  EXPECT_EQ(bench->find("rounds/dawn/check/3"), nullptr);
}

TEST_F(DawnAhead, APairAfterSunsetThatFallsFastPutsItsPondFirst) {
  open(kEvening.plus_h(4));
  ASSERT_EQ(bench->find("rounds/dawn/p6"), nullptr);
  read(kEvening.plus_h(1), 6.0);
  read(kEvening.plus_h(3), 4.6);
  ASSERT_NE(dawn("p6"), nullptr);
  EXPECT_EQ(dawn("p6")->way, DawnWay::two_dusk);
  const Node* p6 = bench->find("rounds/dawn/p6");
  const Node* p5 = bench->find("rounds/dawn/p5");
  ASSERT_NE(p6, nullptr);
  ASSERT_NE(p5, nullptr);
  EXPECT_LT(p6->rect.y, p5->rect.y);
}

TEST_F(DawnAhead, ThePondsPageTellsItToo) {
  open(kEvening);
  ASSERT_TRUE(bench->press("rounds/dawn/p5"));
  EXPECT_EQ(said("outlook/dawn/oxygen"), bench->app->ui().words()(dawn_message(*dawn("p5"))));
  EXPECT_NE(said("outlook/dawn/risk"), "");
}

TEST_F(OutlookScreens, TheDoseToBeGivenIsToldWithItsEffectAndRiskBesideTheProtocol) {
  bench.app->open(make_dose_walk_screen(std::string(kDosed)));
  bench.frames(5);
  // The pond's forecast is of the product that it had last.
  ASSERT_TRUE(bench.press("plan/product/" + product_of_pond(bench.app->farm(), pond(kDosed))));
  bench.frames(2);
  // 10 kg/ha is the advised rate, and the least of the pond's own forecast.
  const Outlook outlook = at_once(kDosed);
  ASSERT_EQ(outlook.doses[1].rate_kg_ha, 10);
  EXPECT_EQ(said("plan/outlook/effect"), in_words(effect_message(outlook.doses[1], outlook.doses[0])));
  EXPECT_NE(said("plan/outlook/risk"), "");
  EXPECT_EQ(said("plan/outlook/protocol"), "The protocol advises 10 kg/ha now, and goes first.");
  EXPECT_EQ(bench.app->frames_wanted(), 0);
}

TEST_F(OutlookScreens, AnUnfinishedForecastDoesNotHoldUpTheWalk) {
  bench.platform.ms_per_look = 2 * OutlookDesk::kSliceMs;
  bench.app->open(make_dose_walk_screen(std::string(kDosed)));
  bench.frames(2);
  ASSERT_EQ(said("plan/outlook/working"), "Reckoning the next days.");
  ASSERT_TRUE(bench.press("plan/sky/bright"));
  ASSERT_TRUE(bench.press("plan/confirm"));
  EXPECT_EQ(bench.find("save")->state.find("disabled"), std::string::npos);
}

TEST_F(OutlookScreens, ADoseThatTheProtocolForbidsIsNotForecast) {
  bench.app->open(make_dose_walk_screen(std::string(kInBand)));
  bench.frames(5);
  EXPECT_EQ(bench.find("plan/outlook/effect"), nullptr);
  EXPECT_EQ(said("plan/outlook/none"), "No forecast of this dose: the protocol does not allow it now.");
  EXPECT_EQ(said("plan/outlook/protocol"), "The protocol allows no dose now, and goes first.");
  EXPECT_EQ(bench.app->frames_wanted(), 0);
}

TEST_F(OutlookScreens, BeforeTheFirstReadingsTheWalkSaysNothingOfWhatToExpect) {
  ASSERT_TRUE(pond(kFirstDose).state.dose.advised);
  bench.app->open(make_dose_walk_screen(std::string(kFirstDose)));
  bench.frames(5);
  ASSERT_NE(bench.find("plan/confirm"), nullptr);
  EXPECT_EQ(bench.find("plan/outlook"), nullptr);
  EXPECT_EQ(bench.app->frames_wanted(), 0);
}

class BookedAhead : public OutlookScreens {
 protected:
  void book(int days_ahead) {
    const CivilDay today = civil_day(bench.app->now(), bench.app->farm().place.offset);
    Draft draft;
    draft.kind = "pl_booking";
    draft.pond = kInBand;
    draft.observed = bench.app->now();
    draft.values = {{"booking", std::string("soon")},
                    {"deliver_on", to_iso(today.plus(days_ahead))},
                    {"pl_count", 200000.0}};
    bench.app->put({std::move(draft)});
    bench.answer(SaveOutcome::saved);
    bench.app->open(make_plan_screen());
    bench.frames(3);
    ASSERT_TRUE(bench.press("plan/booking/soon"));
    bench.frames(3);
  }
};

TEST_F(BookedAhead, WithinFiveDaysTheWaterHasItsOwnChanceBesideThePlans) {
  book(4);
  const CivilDay day = civil_day(bench.app->now(), bench.app->farm().place.offset).plus(4);
  EXPECT_NE(said("plan/picked/chance"), "");
  EXPECT_EQ(said("plan/picked/outlook"), in_words(*booked_day_message(at_once(kInBand), day)));
  EXPECT_EQ(said("plan/picked/outlook/about"),
            "The first chance counts the days that the stages take; the second looks at the water.");
}

TEST_F(BookedAhead, FartherAwayOnlyThePlanSpeaks) {
  book(6);
  EXPECT_NE(said("plan/picked/chance"), "");
  EXPECT_EQ(bench.find("plan/picked/outlook"), nullptr);
  EXPECT_EQ(bench.app->frames_wanted(), 0);
}

}  // namespace
}  // namespace tawny::ui
