#include "farm/demo.h"

#include <gmock/gmock.h>

#include <deque>

#include "core/farm/parts.h"
#include "farm/rounds.h"
#include "logbook/kinds.h"
#include "office/stock.h"
#include "protocol/check_entry.h"

namespace tawny {
namespace {

using testing::IsEmpty;

std::string_view script() { return assets::find("demo-farm.json"); }

Result<std::vector<Draft>> drafts_at(Instant now) { return demo_drafts(script(), farm_test::protocol(), now); }

// Every few hours of one day, and the turning points of days over the year, any day of the week among them.
std::vector<Instant> instants() {
  std::vector<Instant> all;
  const auto add = [&](YearMonthDay date, double hour) {
    all.push_back(instant_at(*civil_day_of(date), 0, farm_test::place().offset).plus_h(hour));
  };
  for (const double hour : {0.2, 4.0, 5.9, 6.6, 7.5, 9.5, 11.0, 12.5, 15.0, 17.5, 20.0, 23.9}) {
    add({2026, 3, 21}, hour);
  }
  for (const YearMonthDay date : {YearMonthDay{2026, 1, 1}, YearMonthDay{2026, 6, 19},
                                  YearMonthDay{2027, 11, 28}, YearMonthDay{2028, 2, 29}}) {
    for (const double hour : {6.3, 12.5, 21.0}) add(date, hour);
  }
  return all;
}

Logbook sealed(const std::vector<Draft>& drafts) {
  DeviceChain chain;
  chain.farm = "demo";
  chain.device = "demo";
  Logbook logbook;
  for (const Draft& draft : drafts) {
    auto entry = seal(draft, draft.observed, chain);
    EXPECT_TRUE(entry) << draft.kind;
    if (entry) logbook.add(*std::move(entry));
  }
  return logbook;
}

struct Season {
  explicit Season(Instant when)
      : now(when), logbook(sealed(*drafts_at(when))), farm(fold_farm(logbook, farm_test::protocol(), when)) {}
  Instant now;
  Logbook logbook;
  Farm farm;
};

// Told once: sealing a season takes longer than looking at it.
const std::deque<Season>& seasons() {
  static const std::deque<Season> kTold = [] {
    std::deque<Season> told;
    for (const Instant now : instants()) told.emplace_back(now);
    return told;
  }();
  return kTold;
}

std::string said(Instant now, std::string_view pond = {}) {
  return to_iso(now) + " (" + to_hh_mm(now, farm_test::place().offset) + " there) " + std::string(pond);
}

TEST(Demo, EveryPondStandsWhereTheStoryPutsIt) {
  const std::pair<std::string_view, Stage> expected[] = {
      {"p1", Stage::bottom},    {"p2", Stage::rest},    {"p3", Stage::first_dose}, {"p4", Stage::bloom},
      {"p5", Stage::hold_band}, {"p6", Stage::release}, {"p7", Stage::bloom}};
  for (const Season& season : seasons()) {
    const Instant now = season.now;
    ASSERT_EQ(season.farm.ponds.size(), std::size(expected)) << said(now);
    for (const auto& [id, stage] : expected) {
      const FarmPond* pond = season.farm.pond(id);
      ASSERT_NE(pond, nullptr) << said(now, id);
      EXPECT_TRUE(pond->state.in_cycle) << said(now, id);
      EXPECT_EQ(name_of(pond->state.stage), name_of(stage)) << said(now, id);
      EXPECT_THAT(pond->history.unreadable, IsEmpty()) << said(now, id);
      EXPECT_EQ(pond->state.questions.size(), id == "p4" ? 1U : 0U) << said(now, id);
    }
    EXPECT_THAT(season.farm.problems, IsEmpty()) << said(now);
    EXPECT_TRUE(season.farm.demo);
    EXPECT_TRUE(season.farm.bin_set_up);
    EXPECT_EQ(season.farm.people.at("demo").second, "manager");
    EXPECT_FALSE(season.farm.products.empty());
  }
}

TEST(Demo, TheManagerIsAskedWhetherTwoDosesAreOneAndWaitsForAnOrder) {
  for (const Season& season : seasons()) {
    const std::vector<Question>& questions = season.farm.pond("p4")->state.questions;
    ASSERT_EQ(questions.size(), 1U) << said(season.now);
    EXPECT_EQ(questions[0].id, "double_dose") << said(season.now);
    const StockBook book = read_stock(season.logbook, season.farm, season.now);
    ASSERT_EQ(book.orders.size(), 1U) << said(season.now);
    EXPECT_GT(book.orders[0].open_kg(), 0) << said(season.now);
    EXPECT_GT(book.orders[0].expected_on, civil_day(season.now, season.farm.place.offset)) << said(season.now);
  }
}

TEST(Demo, OnePondIsReadyForItsFirstDoseAndOneForItsNext) {
  for (const Season& season : seasons()) {
    const Instant now = season.now;
    const DoseAdvice& first = season.farm.pond("p3")->state.dose;
    EXPECT_TRUE(first.advised) << said(now, "p3");
    EXPECT_DOUBLE_EQ(first.rate_kg_ha, 25);
    const DoseAdvice& next = season.farm.pond("p5")->state.dose;
    EXPECT_TRUE(next.advised) << said(now, "p5");
    EXPECT_DOUBLE_EQ(next.rate_kg_ha, 10);
    for (const std::string_view id : {"p1", "p2", "p4", "p6", "p7"}) {
      EXPECT_FALSE(season.farm.pond(id)->state.dose.advised) << said(now, id);
    }
  }
}

TEST(Demo, OnePondIsClearAndFlatAndNoOtherIsInTrouble) {
  for (const Season& season : seasons()) {
    const Instant now = season.now;
    for (const FarmPond& pond : season.farm.ponds) {
      const std::string& id = pond.history.pond.id;
      std::vector<std::string> troubles;
      for (const Trouble& trouble : pond.state.troubles) troubles.push_back(trouble.id);
      if (id == "p7") {
        EXPECT_THAT(troubles, testing::ElementsAre("clear_and_flat")) << said(now, id);
      } else {
        EXPECT_THAT(troubles, IsEmpty()) << said(now, id);
      }
    }
  }
}

TEST(Demo, RoundsAlwaysHasSomethingDue) {
  for (const Season& season : seasons()) {
    const Instant now = season.now;
    const auto today = rounds(season.farm, farm_test::protocol(), now);
    ASSERT_TRUE(today) << said(now);
    std::size_t due = 0;
    for (const DueItem& item : today->items) {
      if (item.state == DueState::now || item.state == DueState::overdue) ++due;
    }
    EXPECT_GE(due, 3u) << said(now);
  }
}

TEST(Demo, DraftsAreInOrderNoneLaterThanNowAndTheDeviceComesLast) {
  for (const Instant now : instants()) {
    const auto drafts = drafts_at(now);
    ASSERT_TRUE(drafts);
    for (std::size_t i = 1; i < drafts->size(); ++i) {
      EXPECT_LE((*drafts)[i - 1].observed, (*drafts)[i].observed) << said(now, (*drafts)[i].kind);
    }
    EXPECT_EQ(drafts->front().kind, kind::kFarmSetup);
    EXPECT_EQ(drafts->back().kind, kind::kDeviceSetup);
    EXPECT_EQ(drafts->back().observed, now);
  }
}

// But for the second of the two doses that the manager is asked about: the phone it was entered on knew nothing
// of the first.
TEST(Demo, NoEntryIsOneThatTheAppWouldRefuseOrQuestion) {
  for (const Season* told : {&seasons()[6], &seasons().back()}) {
    const Season& season = *told;
    std::vector<const Entry*> before;
    for (const Entry* entry : season.logbook.effective()) {
      Draft draft;
      draft.kind = entry->kind;
      draft.pond = entry->pond;
      draft.who = entry->who;
      draft.observed = entry->observed;
      draft.values = entry->values;
      const FarmPond* pond = season.farm.pond(entry->pond);
      const PondHistory history = pond == nullptr ? PondHistory{} : build_history(pond->history.pond, before);
      for (const Finding& finding :
           check_entry(draft, history, farm_test::protocol(), season.farm.place, entry->observed)) {
        if (entry->kind == kind::kDose && entry->who == "Jun") continue;
        ADD_FAILURE() << said(entry->observed, entry->pond) << " " << entry->kind << " " << finding.key << " "
                      << finding.message.id;
      }
      before.push_back(entry);
    }
  }
}

TEST(Demo, DosesAreOfTheRateTheySay) {
  for (const FarmPond& pond : seasons().back().farm.ponds) {
    for (const DoseRecord& dose : pond.history.doses) {
      EXPECT_NEAR(dose.product_kg, dose.rate_kg_ha * pond.history.pond.nominal_area_ha, 0.05)
          << pond.history.pond.id;
    }
  }
}

TEST(Demo, TheScriptStaysSmall) { EXPECT_LT(script().size(), 40000u); }

TEST(Demo, RefusesAScriptThatCannotBeTold) {
  const std::string farm =
      R"("people":{"a":"Ada"},"farm":{"day":-3,"at":"noon","who":"a","values":{"name":"F","latitude_deg":1,)"
      R"("longitude_deg":2,"utc_offset_min":0}},"device":{"person":"Ada","role":"manager"})";
  const Instant now = *parse_instant("2026-03-10T12:00:00Z");
  const auto told = [&](const std::string& set_up) {
    return demo_drafts("{" + farm + R"(,"ponds":[],"set_up":[)" + set_up + "]}", farm_test::protocol(), now)
        .has_value();
  };
  EXPECT_TRUE(told(R"({"kind":"sky","who":"a","day":-1,"at":"noon","values":{"sky":"bright"}})"));
  const char* const kBroken[] = {
      R"({"who":"a","day":-1,"at":"noon"})",                                                 // no kind
      R"({"kind":"sky","who":"b","day":-1,"at":"noon"})",                                    // nobody
      R"({"kind":"sky","who":"a","day":1,"at":"noon"})",                                     // tomorrow
      R"({"kind":"sky","who":"a","at":"noon"})",                                             // no day
      R"({"kind":"sky","who":"a","day":-1,"at":"teatime"})",                                 // no such hour
      R"({"kind":"sky","who":"a","day":-1,"at":"noon+x"})",                                  // no such minute
      R"({"kind":"sky","who":"a","days":[-2,-1],"every":0,"at":"noon"})",                    // standing still
      R"({"kind":"sky","who":"a","days":[-2,-1],"at":"noon","series":{"sky":["bright"]}})",  // a day short
      R"({"kind":"sky","who":"a","day":-1,"at":"noon","values":{"sky":null}})",              // no value
      R"({"block":"nowhere","day":-1})",                                                     // no such block
  };
  for (const char* entry : kBroken) EXPECT_FALSE(told(entry)) << entry;
  EXPECT_FALSE(demo_drafts("[]", farm_test::protocol(), now));
  EXPECT_FALSE(demo_drafts("{", farm_test::protocol(), now));
  EXPECT_FALSE(demo_drafts("{" + farm + "}", farm_test::protocol(), now));  // no ponds
}

}  // namespace
}  // namespace tawny
