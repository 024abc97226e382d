#include <gtest/gtest.h>

#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

// The demo farm lies at UTC-5; sunrise is about 06:09 there.
const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the farm

// A pond of the demo farm at which the given act is due now.
std::string pond_with(const App& app, Act act) {
  for (const DueItem& item : app.rounds()->items) {
    if (item.act == act && (item.state == DueState::now || item.state == DueState::overdue)) return item.pond;
  }
  return {};
}

class EntryScreens : public ::testing::Test {
 protected:
  EntryScreens() : bench(kDawn) { bench.open_demo(); }

  std::size_t effective_of(std::string_view kind) const {
    std::size_t count = 0;
    for (const Entry* entry : bench.app->logbook().effective()) count += entry->kind == kind ? 1 : 0;
    return count;
  }
  // The screen for oxygen at a pond where it is due.
  void open_water_reading() {
    pond = pond_with(*bench.app, Act::water_reading);
    ASSERT_FALSE(pond.empty());
    ASSERT_TRUE(bench.press("due/" + pond + "/water_reading/dawn"));
  }

  // The values of these tests may be unlikely at that pond on that day.
  void say_yes_when_asked() {
    if (bench.find("entry/sure") != nullptr) bench.press("save");
  }

  AppBench bench;
  std::string pond;
};

TEST_F(EntryScreens, ACardOfRoundsOpensTheEntryWithThePondSet) {
  open_water_reading();
  EXPECT_TRUE(bench.shows(bench.app->farm().pond(pond)->history.pond.name));
  ASSERT_NE(bench.find("entry/value"), nullptr);
  EXPECT_NE(bench.find("keys/5"), nullptr);
}

TEST_F(EntryScreens, SavedIsSaidOnlyAfterTheStoreHasAnswered) {
  open_water_reading();
  const std::size_t before = effective_of(kind::kWaterReading);
  ASSERT_TRUE(bench.type("keys", "4.7"));
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.waiting.size(), 1u);
  EXPECT_NE(bench.find("save/saving"), nullptr);
  EXPECT_EQ(bench.find("entry/saved"), nullptr);
  EXPECT_EQ(effective_of(kind::kWaterReading), before);

  bench.answer(SaveOutcome::saved);
  EXPECT_NE(bench.find("entry/saved"), nullptr);
  EXPECT_EQ(effective_of(kind::kWaterReading), before + 1);
  const Entry* last = bench.app->farm().pond(pond)->history.water.back().entry;
  ASSERT_NE(last->number("do_mg_l"), nullptr);
  EXPECT_DOUBLE_EQ(*last->number("do_mg_l"), 4.7);
  EXPECT_EQ(last->observed, kDawn);
}

TEST_F(EntryScreens, AnEntryThatWasJustSavedCanBeTakenBack) {
  open_water_reading();
  const std::size_t before = effective_of(kind::kWaterReading);
  ASSERT_TRUE(bench.type("keys", "4.7"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  ASSERT_TRUE(bench.press("entry/take_back"));
  bench.answer(SaveOutcome::saved);
  EXPECT_NE(bench.find("entry/taken"), nullptr);
  EXPECT_EQ(effective_of(kind::kWaterReading), before);
}

TEST_F(EntryScreens, AFailedSaveKeepsTheEntryAndOffersTheWaysOn) {
  open_water_reading();
  ASSERT_TRUE(bench.type("keys", "4.7"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::full);
  EXPECT_NE(bench.find("save/failed"), nullptr);
  EXPECT_TRUE(bench.shows("4.7"));
  EXPECT_TRUE(bench.app->holds_unsaved());
  ASSERT_TRUE(bench.press("save/take_out"));
  EXPECT_FALSE(bench.platform.shared_text.empty());

  ASSERT_TRUE(bench.press("save/retry"));
  bench.answer(SaveOutcome::saved);
  EXPECT_NE(bench.find("entry/saved"), nullptr);
}

TEST_F(EntryScreens, LeftUnsavedTheEntryCanBeChanged) {
  open_water_reading();
  ASSERT_TRUE(bench.type("keys", "4.7"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::failed, "why");
  ASSERT_TRUE(bench.press("save/give_up"));
  EXPECT_NE(bench.find("keys/5"), nullptr);
  EXPECT_TRUE(bench.shows("4.7"));
  EXPECT_TRUE(bench.platform.stored.size() > 0);
}

TEST_F(EntryScreens, WhatCannotBeIsRefusedAndNothingIsHandedOver) {
  open_water_reading();
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.type("keys", "55"));
  ASSERT_TRUE(bench.press("save"));
  EXPECT_NE(bench.find("entry/refused/1"), nullptr);
  EXPECT_EQ(bench.platform.saves, saves);
  // Another value takes the refusal away.
  ASSERT_TRUE(bench.press("keys/delete"));
  EXPECT_EQ(bench.find("entry/refused/1"), nullptr);
}

TEST_F(EntryScreens, WhatIsUnlikelyIsAskedAboutAndSavedOnYes) {
  open_water_reading();
  ASSERT_TRUE(bench.press("entry/fields/ph"));
  ASSERT_TRUE(bench.type("keys", "10.4"));
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.press("save"));
  EXPECT_NE(bench.find("entry/sure"), nullptr);
  EXPECT_NE(bench.find("entry/questioned/1"), nullptr);
  EXPECT_EQ(bench.platform.saves, saves);
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.saves, saves + 1);
  bench.answer(SaveOutcome::saved);
  EXPECT_NE(bench.find("entry/saved"), nullptr);
}

TEST_F(EntryScreens, AnEmptyEntryIsNotSaved) {
  open_water_reading();
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.press("save"));
  EXPECT_NE(bench.find("entry/refused/1"), nullptr);
  EXPECT_EQ(bench.platform.saves, saves);
}

TEST_F(EntryScreens, TheNextValueAndTheNextPondAreOneTapAway) {
  open_water_reading();
  ASSERT_TRUE(bench.type("keys", "4.7"));
  ASSERT_TRUE(bench.press("entry/next_value"));
  ASSERT_TRUE(bench.type("keys", "7.8"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  const Node* next = bench.find("entry/next_place");
  ASSERT_NE(next, nullptr);
  const std::string other = pond_with(*bench.app, Act::water_reading);
  ASSERT_NE(other, pond);
  ASSERT_TRUE(bench.press("entry/next_place"));
  EXPECT_NE(bench.find("keys/5"), nullptr);
  EXPECT_FALSE(bench.shows("4.7"));
}

TEST_F(EntryScreens, ASecchiReadingNeedsBothDepths) {
  bench.app->open(make_entry_screen(Act::secchi_reading, "p5"));
  bench.frames(2);
  ASSERT_TRUE(bench.type("keys", "52"));
  ASSERT_TRUE(bench.press("save"));
  EXPECT_NE(bench.find("entry/refused/1"), nullptr);
  ASSERT_TRUE(bench.press("entry/next_value"));
  ASSERT_TRUE(bench.type("keys", "50"));
  EXPECT_TRUE(bench.shows("51"));
}

TEST_F(EntryScreens, SeenOnTheBottomIsADepthAndNotASecchiDepth) {
  bench.app->open(make_entry_screen(Act::secchi_reading, "p3"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("entry/fields/seen_on_bottom"));
  ASSERT_TRUE(bench.type("keys", "48"));
  ASSERT_TRUE(bench.press("save"));
  say_yes_when_asked();
  bench.answer(SaveOutcome::saved);
  const SecchiPair& pair = bench.app->farm().pond("p3")->history.secchi.back();
  EXPECT_TRUE(pair.seen_on_bottom);
  EXPECT_EQ(pair.depth_at_disc_cm, 48.0);
  EXPECT_FALSE(pair.vanish_cm.has_value());
}

TEST_F(EntryScreens, AReadingThatWasTypedLateKeepsItsOwnTime) {
  open_water_reading();
  ASSERT_TRUE(bench.press("when"));
  ASSERT_TRUE(bench.press("when/choice/30"));
  ASSERT_TRUE(bench.type("keys", "4.7"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  bool found = false;
  for (const WaterReading& reading : bench.app->farm().pond(pond)->history.water) {
    found = found || (reading.at == kDawn.plus_min(-30) && reading.do_mg_l == 4.7);
  }
  EXPECT_TRUE(found);
}

TEST_F(EntryScreens, ACorrectionStartsFromWhatWasEnteredAndStandsInItsPlace) {
  const Entry* wrong = bench.app->farm().pond("p3")->history.water.back().entry;
  const Instant observed = wrong->observed;
  const std::size_t before = effective_of(kind::kWaterReading);
  bench.app->open(make_correction_screen(*wrong));
  bench.frames(2);
  // The first key replaces what was filled in.
  ASSERT_TRUE(bench.type("keys", "6.1"));
  ASSERT_TRUE(bench.press("save"));
  say_yes_when_asked();
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(effective_of(kind::kWaterReading), before);
  const WaterReading& mended = bench.app->farm().pond("p3")->history.water.back();
  EXPECT_EQ(mended.at, observed);
  EXPECT_EQ(mended.do_mg_l, 6.1);
}

TEST_F(EntryScreens, OnePressTakesTheValueThatWasMostLikelyMeant) {
  bench.app->open(make_entry_screen(Act::water_reading, "p3"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("entry/fields/ph"));
  ASSERT_TRUE(bench.type("keys", "82"));
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.press("save"));
  bench.frames(2);
  EXPECT_EQ(bench.platform.saves, saves);
  ASSERT_TRUE(bench.press("entry/likely/ph"));
  bench.frames(2);
  EXPECT_EQ(bench.find("entry/refused/1"), nullptr);
  ASSERT_TRUE(bench.press("save"));
  say_yes_when_asked();
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bench.app->farm().pond("p3")->history.water.back().ph, 8.2);
}

TEST_F(EntryScreens, ANoteIsCorrectedFromTheLogbook) {
  bench.app->open(make_entry_screen_of_kind(kind::kNote, "p3"));
  bench.frames(2);
  bench.app->on_text("entry/text", "Otter on the bank");
  bench.frames(2);
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  const Entry* wrong = nullptr;
  for (const Entry* entry : bench.app->logbook().effective()) {
    if (entry->kind == kind::kNote) wrong = entry;
  }
  ASSERT_NE(wrong, nullptr);
  const std::size_t notes = effective_of(kind::kNote);
  bench.app->open(make_logbook_entry_screen(to_reference(wrong->id)));
  bench.frames(2);
  ASSERT_TRUE(bench.press("entry/correct"));
  bench.frames(2);
  bench.app->on_text("entry/text", "Heron on the bank");
  bench.frames(2);
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(effective_of(kind::kNote), notes);
}

TEST_F(EntryScreens, WhatTheProtocolForbidsIsRecordedOnlyByTheManagerWithAReason) {
  ASSERT_EQ(bench.app->role(), Role::manager);
  bench.app->open(make_entry_screen(Act::soil_broadcast, "p1"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("product/urea"));
  ASSERT_TRUE(bench.press("product_kg"));
  ASSERT_TRUE(bench.type("number/keys", "40"));
  ASSERT_TRUE(bench.press("number/accept"));
  bench.frames(2);
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.press("broadcast/confirm"));
  ASSERT_TRUE(bench.press("save"));
  EXPECT_NE(bench.find("entry/refused/1"), nullptr);
  ASSERT_TRUE(bench.press("broadcast/override"));
  bench.app->on_text("broadcast/reason", "Spread before we knew");
  bench.frames(2);
  ASSERT_TRUE(bench.press("save"));
  EXPECT_NE(bench.find("entry/sure"), nullptr);
  EXPECT_EQ(bench.platform.saves, saves);
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.saves, saves + 1);
}

TEST_F(EntryScreens, ABroadcastIsSavedOnceItsCautionsAreConfirmedAndCarriesThem) {
  const std::string pond = bench.app->farm().ponds.front().history.pond.id;
  const double area_ha = bench.app->farm().ponds.front().history.pond.nominal_area_ha;
  bench.app->open(make_entry_screen(Act::soil_broadcast, pond));
  bench.frames(2);
  if (bench.find("product/sodium_nitrate") != nullptr) {
    ASSERT_TRUE(bench.press("product/sodium_nitrate"));
  }
  ASSERT_TRUE(bench.press("product_kg"));
  ASSERT_TRUE(bench.type("number/keys", std::to_string(static_cast<int>(50 * area_ha))));
  ASSERT_TRUE(bench.press("number/accept"));
  bench.frames(2);
  EXPECT_NE(bench.find("broadcast/caution.dust"), nullptr);
  EXPECT_EQ(bench.find("broadcast/caution.salt_to_water"), nullptr);
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.saves, saves);
  EXPECT_TRUE(bench.shows("Read the cautions and confirm them first."));
  ASSERT_TRUE(bench.press("broadcast/confirm"));
  ASSERT_TRUE(bench.press("save"));
  if (bench.find("entry/sure") != nullptr) {
    ASSERT_TRUE(bench.press("save"));
  }
  ASSERT_EQ(bench.platform.saves, saves + 1);
  bench.answer(SaveOutcome::saved);
  const Entry* saved = bench.app->logbook().effective().back();
  for (const Entry* entry : bench.app->logbook().effective()) {
    if (entry->kind == kind::kSoilBroadcast && entry->id.number > saved->id.number) saved = entry;
  }
  ASSERT_EQ(saved->kind, kind::kSoilBroadcast);
  ASSERT_NE(saved->texts("cautions"), nullptr);
  EXPECT_EQ(saved->texts("cautions")->back(), "caution.law");
}

TEST_F(EntryScreens, TheNumberScreenRefusesWhatLiesOutsideAndGivesTheRestBack) {
  std::optional<double> given;
  NumberAsk ask;
  ask.title = "Mesh";
  ask.unit = "um";
  ask.decimals = 0;
  ask.low = 10;
  ask.high = 2000;
  bench.app->open(make_number_screen(ask, [&](App&, double value) { given = value; }));
  bench.frames(2);
  ASSERT_TRUE(bench.type("number/keys", "5"));
  ASSERT_TRUE(bench.press("number/accept"));
  EXPECT_NE(bench.find("number/refused"), nullptr);
  EXPECT_FALSE(given.has_value());
  ASSERT_TRUE(bench.type("number/keys", "00"));
  ASSERT_TRUE(bench.press("number/accept"));
  EXPECT_EQ(given, 500.0);
  EXPECT_TRUE(bench.app->at_root());
}

}  // namespace
}  // namespace tawny::ui
