// Stock and cost, products, and the protocol, as the manager uses them.
#include <gtest/gtest.h>

#include "logbook/kinds.h"
#include "office/protocol_edit.h"
#include "office/stock.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"
#include "ui/screens/stock.h"

namespace tawny::ui {
namespace {

const Instant kEvening{1795647600};  // 2026-11-25 18:00 at the demo farm
constexpr const char* kNitrate = "sodium_nitrate";
constexpr const char* kLow = "stage.hold_band.secchi_low_cm";

class OfficeScreens : public ::testing::Test {
 protected:
  OfficeScreens() : bench(kEvening, 1366, 768) { bench.open_demo(); }

  void open(std::unique_ptr<Screen> screen) {
    bench.app->open(std::move(screen));
    bench.frames(2);
  }
  double on_hand() const {
    const App& app = *bench.app;
    return read_stock(app.logbook(), app.farm(), app.now()).product(kNitrate)->on_hand_kg;
  }
  void type_number(const std::string& field, const std::string& number) {
    ASSERT_TRUE(bench.press(field)) << field;
    ASSERT_TRUE(bench.type("number/keys", number)) << field;
    ASSERT_TRUE(bench.press("number/accept")) << field;
  }
  void deliver() {
    open(make_stock_screen());
    ASSERT_TRUE(bench.press("stock/deliver"));
    type_number("delivery/product_kg", "250");
    type_number("delivery/price_per_kg", "0.95");
    type_text("stock/lot", "N-140");
    save();
  }
  void type_text(std::string_view field, std::string_view text) {
    bench.app->on_text(field, text);
    bench.frames(2);
  }
  void save() {
    ASSERT_TRUE(bench.press("save"));
    ASSERT_FALSE(bench.platform.waiting.empty());
    bench.answer(SaveOutcome::saved);
  }
  void be(Role role) {
    Draft draft;
    draft.kind = kind::kDeviceSetup;
    draft.values = {{"person", std::string("Ines")}, {"role", std::string(name_of(role))}};
    bench.app->put({std::move(draft)});
    bench.answer(SaveOutcome::saved);
  }
  double limit(const std::string& path, const std::string& pond) const {
    return protocol_of(*bench.app->farm().pond(pond), bench.app->protocol(), bench.app->now()).number(path);
  }
  AppBench bench;
};

TEST_F(OfficeScreens, ABookedCycleIsAmongWhatThePondsNeed) {
  const auto needed_kg = [&](const char* pond) {
    StockView view;
    view.refresh(*bench.app);
    double sum_kg = 0;
    for (const StockNeed& need : view.needs()) sum_kg += need.pond == pond ? need.expected_kg : 0;
    return sum_kg;
  };
  const double before_kg = needed_kg("p1");
  Draft booking;
  booking.kind = kind::kPlBooking;
  booking.pond = "p1";
  booking.values = {{"booking", std::string("next season")},
                    {"deliver_on", std::string("2027-06-20")},
                    {"pl_count", 150000.0}};
  bench.app->put({std::move(booking)});
  bench.answer(SaveOutcome::saved);
  // At least its soil and its first dose, 25 kg/ha each, on the pond's hectare.
  EXPECT_GT(needed_kg("p1"), before_kg + 50 - 1e-9);
}

TEST_F(OfficeScreens, StockIsReachedFromTheOfficeAndTellsWhatIsOnHand) {
  bench.app->open_tab(Tab::office);
  bench.frames(2);
  ASSERT_TRUE(bench.press("office/stock"));
  const Node* number = bench.find("stock/product/sodium_nitrate/kg");
  ASSERT_NE(number, nullptr);
  EXPECT_NE(bench.find("stock/product/sodium_nitrate/counted"), nullptr);
  EXPECT_NE(bench.find("stock/product/sodium_nitrate/advice"), nullptr);
  for (const FarmPond& pond : bench.app->farm().ponds) {
    const bool in_cycle = !pond.history.cycle.empty() && !pond.history.cycle_ended;
    EXPECT_EQ(bench.find("stock/cost/" + pond.history.pond.id) != nullptr, in_cycle);
  }
}

TEST_F(OfficeScreens, ADeliveryGoesIn) {
  const double before_kg = on_hand();
  deliver();
  EXPECT_NEAR(on_hand(), before_kg + 250, 1e-6);
  const App& app = *bench.app;
  const StockBook book = read_stock(app.logbook(), app.farm(), app.now());
  EXPECT_EQ(book.product(kNitrate)->lots.back().lot, "N-140");
  EXPECT_NE(bench.find("stock/on_hand"), nullptr) << "back on the stock screen";
}

// The logbook's page of the last entry of a kind, as its "correct" opens it.
const Entry& last_of_kind(const App& app, std::string_view kind) {
  const Entry* last = nullptr;
  for (const Entry* entry : app.logbook().effective()) {
    if (entry->kind == kind) last = entry;
  }
  return *last;
}

TEST_F(OfficeScreens, ADeliveryIsCorrectedFromTheLogbook) {
  const double before_kg = on_hand();
  deliver();
  const Entry wrong = last_of_kind(*bench.app, kind::kStockDelivery);
  open(make_logbook_entry_screen(to_reference(wrong.id)));
  ASSERT_TRUE(bench.press("entry/correct"));
  type_number("delivery/product_kg", "25");
  save();
  EXPECT_NEAR(on_hand(), before_kg + 25, 1e-6);
  const Entry right = last_of_kind(*bench.app, kind::kStockDelivery);
  EXPECT_EQ(right.corrects, to_reference(wrong.id));
  EXPECT_EQ(right.observed, wrong.observed);
  EXPECT_EQ(*right.number("price_per_kg"), 0.95);
  EXPECT_EQ(*right.text("lot"), "N-140");
  EXPECT_EQ(bench.app->logbook().standing(wrong.id), Logbook::Standing::corrected);
}

TEST_F(OfficeScreens, ACountIsCorrectedFromTheLogbook) {
  open(make_stock_screen());
  ASSERT_TRUE(bench.press("stock/count"));
  type_number("count/product_kg", "90");
  save();
  open(make_logbook_entry_screen(to_reference(last_of_kind(*bench.app, kind::kStockCount).id)));
  ASSERT_TRUE(bench.press("entry/correct"));
  EXPECT_EQ(bench.find("stock/count/difference"), nullptr);
  type_number("count/product_kg", "9");
  save();
  EXPECT_NEAR(on_hand(), 9, 1e-6);
}

TEST_F(OfficeScreens, AnOrderIsCorrectedFromTheLogbookAndKeepsItsName) {
  open(make_order_screen());
  type_number("order/product_kg", "500");
  type_number("order/in_days", "6");
  save();
  const Entry wrong = last_of_kind(*bench.app, kind::kStockOrder);
  open(make_logbook_entry_screen(to_reference(wrong.id)));
  ASSERT_TRUE(bench.press("entry/correct"));
  EXPECT_EQ(bench.find("stock/order/cancel"), nullptr);
  type_number("order/product_kg", "50");
  save();
  const Entry right = last_of_kind(*bench.app, kind::kStockOrder);
  EXPECT_EQ(right.corrects, to_reference(wrong.id));
  EXPECT_EQ(*right.text("order"), *wrong.text("order"));
  EXPECT_EQ(*right.text("expected_on"), *wrong.text("expected_on"));
  EXPECT_EQ(*right.number("product_kg"), 50);
}

TEST_F(OfficeScreens, ACountTellsTheDifferenceBeforeItIsSaved) {
  const double before_kg = on_hand();
  open(make_stock_screen());
  ASSERT_TRUE(bench.press("stock/count"));
  type_number("count/product_kg", "12");
  EXPECT_NE(bench.find("stock/count/difference"), nullptr);
  EXPECT_TRUE(bench.shows("less than reckoned"));
  save();
  EXPECT_NEAR(on_hand(), 12, 1e-6);
  const App& app = *bench.app;
  EXPECT_NEAR(read_stock(app.logbook(), app.farm(), app.now()).moves.back().change_kg, 12 - before_kg, 1e-6);
}

TEST_F(OfficeScreens, AnOrderIsMadeFromTheAdviceAndComes) {
  const App& app = *bench.app;
  StockBook book = read_stock(app.logbook(), app.farm(), app.now());
  const double on_order_kg = book.product(kNitrate)->on_order_kg;
  open(make_stock_screen());
  ASSERT_TRUE(bench.press("stock/order"));
  type_number("order/product_kg", "500");
  save();
  book = read_stock(app.logbook(), app.farm(), app.now());
  EXPECT_NEAR(book.product(kNitrate)->on_order_kg, on_order_kg + 500, 1e-6);
  const double before_kg = on_hand();
  ASSERT_TRUE(bench.press("stock/order/" + book.orders.back().order));
  ASSERT_TRUE(bench.press("stock/order/came"));
  save();
  book = read_stock(app.logbook(), app.farm(), app.now());
  EXPECT_NEAR(book.product(kNitrate)->on_order_kg, on_order_kg, 1e-6);
  EXPECT_NEAR(on_hand(), before_kg + 500, 1e-6);
}

TEST_F(OfficeScreens, AProductOutOfUseIsNotOfferedForADose) {
  open(make_products_screen());
  ASSERT_TRUE(bench.press("products/calcium_nitrate_fertilizer"));
  ASSERT_TRUE(bench.press("product/in_use"));
  save();
  std::string pond;
  for (const FarmPond& each : bench.app->farm().ponds) {
    if (each.state.dose.least_kg_ha) pond = each.history.pond.id;
  }
  ASSERT_FALSE(pond.empty());
  open(make_dose_walk_screen(pond));
  EXPECT_NE(bench.find("plan/product/sodium_nitrate"), nullptr);
  EXPECT_EQ(bench.find("plan/product/calcium_nitrate_fertilizer"), nullptr);
}

TEST_F(OfficeScreens, TheBinsSetUpKeepsThePrices) {
  open(make_bin_setup_screen());
  save();
  for (const FarmProduct& product : bench.app->farm().products) {
    EXPECT_TRUE(product.price_per_kg) << product.product;
  }
}

TEST_F(OfficeScreens, EveryValueOfTheProtocolIsShownWithItsMark) {
  open(make_protocol_screen());
  for (const std::string& group : protocol_groups(bench.app->protocol())) {
    ASSERT_TRUE(bench.press("protocol/" + group)) << group;
    for (const auto& [path, value] : bench.app->protocol().values()) {
      EXPECT_EQ(bench.find("protocol/value/" + path) != nullptr, group_of(path) == group) << path;
    }
  }
}

TEST_F(OfficeScreens, TheManagerChangesALimitForOnePondWithAReasonAndTakesItBack) {
  open(make_protocol_value_screen(kLow, "p5"));
  ASSERT_TRUE(bench.press("value/change"));
  type_number("value/protocol_value", "40");
  ASSERT_TRUE(bench.press("save"));
  EXPECT_NE(bench.find("value/problem"), nullptr) << "no reason was given";
  EXPECT_TRUE(bench.platform.waiting.empty());
  type_text("value/reason", "clay water");
  save();
  EXPECT_EQ(limit(kLow, "p5"), 40);
  EXPECT_EQ(limit(kLow, "p6"), 45);
  EXPECT_TRUE(bench.shows("clay water"));
  ASSERT_TRUE(bench.press("value/take_back"));
  type_text("value/reason", "as before");
  bench.platform.clock = bench.platform.clock.plus_min(2);
  bench.frames(2);
  save();
  EXPECT_EQ(limit(kLow, "p5"), 45);
}

TEST_F(OfficeScreens, ALimitThatWouldCrossAnotherIsRefusedByName) {
  open(make_protocol_value_screen(kLow, {}));
  ASSERT_TRUE(bench.press("value/change"));
  type_number("value/protocol_value", "70");
  type_text("value/reason", "clay water");
  ASSERT_TRUE(bench.press("save"));
  EXPECT_TRUE(bench.shows("Band, Secchi, at most"));
  EXPECT_TRUE(bench.platform.waiting.empty());
}

TEST_F(OfficeScreens, ATimeOfDayIsChangedAsATimeOfDay) {
  open(make_protocol_value_screen("windows.dawn.clock_from_min", {}));
  EXPECT_TRUE(bench.shows("05:00"));
  ASSERT_TRUE(bench.press("value/change"));
  ASSERT_TRUE(bench.press("value/time"));
  ASSERT_TRUE(bench.type("moment/keys", "0515"));
  ASSERT_TRUE(bench.press("moment/accept"));
  type_text("value/reason", "early boats");
  save();
  EXPECT_EQ(limit("windows.dawn.clock_from_min", "p5"), 315);
}

TEST_F(OfficeScreens, OnlyTheManagerChanges) {
  be(Role::worker);
  open(make_protocol_value_screen(kLow, {}));
  EXPECT_EQ(bench.find("value/change"), nullptr);
  EXPECT_NE(bench.find("value/manager_only"), nullptr);
  open(make_stock_screen());
  EXPECT_EQ(bench.find("stock/figures/change"), nullptr);
  open(make_products_screen());
  EXPECT_FALSE(bench.press("products/sodium_nitrate"));
}

}  // namespace
}  // namespace tawny::ui
