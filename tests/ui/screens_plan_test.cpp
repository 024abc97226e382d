// The plan: what a manager books, drags, changes and cancels, and what a phone shows of it.
#include <gtest/gtest.h>

#include "logbook/kinds.h"
#include "office/bookings.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr Instant kMorning{1795707600};  // 26 November 2026, 10:40 at the farm
constexpr const char* kMark = "plan/mark/d-long-pond";

class PlanScreens : public testing::Test {
 protected:
  explicit PlanScreens(float width = 1366, float height = 768) : bench(kMorning, width, height) {
    bench.open_demo();
    bench.app->open_tab(Tab::office);
    bench.frames(2);
    EXPECT_TRUE(bench.press("office/plan"));
  }

  Bookings bookings() const { return bookings_of(bench.app->logbook(), bench.app->protocol()); }
  Booking booking(std::string_view name) const {
    for (const Booking& one : bookings().all) {
      if (one.booking == name) return one;
    }
    ADD_FAILURE() << name << " is not booked";
    return {};
  }

  void drag(std::string_view id, float px) { ASSERT_TRUE(bench.drag(AppBench::Hand::mouse, id, px)) << id; }
  int count_of(std::string_view prefix) const {
    int count = 0;
    for (const Node& node : bench.model().nodes()) count += node.id.substr(0, prefix.size()) == prefix;
    return count;
  }
  std::string name_of(std::string_view id) const {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string() : node->name;
  }

  AppBench bench;
};

class PlanOnAPhone : public PlanScreens {
 protected:
  PlanOnAPhone() : PlanScreens(390, 844) {}
};

TEST_F(PlanScreens, ShowsEveryDeliveryAsAMarkAndALine) {
  EXPECT_EQ(count_of("plan/mark/"), 4);
  EXPECT_EQ(count_of("plan/booking/"), 4);
  EXPECT_NE(name_of(kMark).find("Long Pond"), std::string::npos);
  EXPECT_NE(name_of(kMark).find("Thu 3 Dec"), std::string::npos);
  EXPECT_NE(name_of(kMark).find("chance of being ready"), std::string::npos);
}

TEST_F(PlanScreens, ADraggedMarkIsMovedOnlyWhenThatIsSaved) {
  drag(kMark, 100);
  const std::string while_dragged = name_of("save");
  EXPECT_NE(while_dragged.find("Move to "), std::string::npos) << "told while the finger is down";
  bench.up();
  EXPECT_EQ(booking("d-long-pond").deliver_on, *civil_day_of({2026, 12, 3}));
  EXPECT_EQ(bench.platform.saves, 1) << "only the demo itself";
  ASSERT_TRUE(bench.press("save"));
  ASSERT_EQ(bench.platform.waiting.size(), 1U);
  bench.answer(SaveOutcome::saved);
  const CivilDay now = booking("d-long-pond").deliver_on;
  EXPECT_GT(now, civil_day_of({2026, 12, 3})->plus(3));
  EXPECT_LT(now, civil_day_of({2026, 12, 3})->plus(9));
  EXPECT_EQ(booking("d-long-pond").pl_count, 270000);
  EXPECT_EQ(bench.find("move/give_up"), nullptr) << "nothing is being moved any more";
}

TEST_F(PlanScreens, LeavingItPutsAMarkBack) {
  const std::string before = name_of(kMark);
  drag(kMark, 100);
  bench.up();
  EXPECT_NE(name_of(kMark), before);
  ASSERT_TRUE(bench.press("move/give_up"));
  EXPECT_EQ(name_of(kMark), before);
  EXPECT_EQ(bench.platform.saves, 1);
}

TEST_F(PlanScreens, ATapElsewhereGivesUp) {
  const std::string before = name_of(kMark);
  drag(kMark, 100);
  bench.up();
  const Node* calendar = bench.find("plan/calendar");
  ASSERT_NE(calendar, nullptr);
  bench.point(AppBench::Hand::mouse, calendar->rect.x + 30, calendar->rect.y + calendar->rect.h - 20);
  bench.down();
  bench.up();
  EXPECT_EQ(name_of(kMark), before);
  EXPECT_EQ(bench.find("move/give_up"), nullptr);
}

TEST_F(PlanScreens, DraggingShowsWhatWouldBeInTheWay) {
  ASSERT_EQ(bench.find("plan/conflict/none") != nullptr, false) << "two ponds of the demo share a pump";
  const int before = count_of("plan/conflict/");
  drag(kMark, -90);
  EXPECT_TRUE(bench.shows("New: Long Pond is too late"));
  EXPECT_GT(count_of("plan/conflict/"), before);
  bench.up();
}

TEST_F(PlanScreens, NothingIsDraggedBeforeToday) {
  drag(kMark, -700);
  bench.up();
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(booking("d-long-pond").deliver_on, *civil_day_of({2026, 11, 26}));
}

TEST_F(PlanScreens, WithoutADragTheKeysMoveByADay) {
  ASSERT_TRUE(bench.press(kMark));
  ASSERT_TRUE(bench.press("plan/later"));
  ASSERT_TRUE(bench.press("plan/later"));
  ASSERT_TRUE(bench.press("plan/earlier"));
  EXPECT_EQ(name_of("save"), "Move to Fri 4 Dec");
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(booking("d-long-pond").deliver_on, *civil_day_of({2026, 12, 4}));
}

TEST_F(PlanScreens, AMoveThatCannotBeStoredIsSaidAndKept) {
  ASSERT_TRUE(bench.press(kMark));
  ASSERT_TRUE(bench.press("plan/later"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::full);
  ASSERT_NE(bench.find("save/failed"), nullptr);
  ASSERT_TRUE(bench.press("save/retry"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(booking("d-long-pond").deliver_on, *civil_day_of({2026, 12, 4}));
}

TEST_F(PlanScreens, ABookingIsMadeChangedAndCancelled) {
  ASSERT_TRUE(bench.press("plan/add"));
  EXPECT_FALSE(bench.press("save")) << "without a number";
  ASSERT_TRUE(bench.press("booking/pond"));
  ASSERT_TRUE(bench.press("pick/p2"));
  ASSERT_TRUE(bench.press("booking/week_later"));
  ASSERT_TRUE(bench.press("booking/day_earlier"));
  ASSERT_TRUE(bench.press("booking/pl_count"));
  ASSERT_TRUE(bench.type("number/keys", "150000"));
  ASSERT_TRUE(bench.press("number/accept"));
  bench.app->on_text("booking/note", "Second truck");
  bench.frames(2);
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  Booking made;
  for (const Booking& one : bookings().all) {
    if (one.pond == "p2") made = one;
  }
  EXPECT_EQ(made.deliver_on, civil_day_of({2026, 11, 26})->plus(36));
  EXPECT_EQ(made.pl_count, 150000);
  EXPECT_EQ(made.note, "Second truck");

  ASSERT_TRUE(bench.press("plan/booking/" + made.booking));
  ASSERT_TRUE(bench.press("plan/change"));
  ASSERT_TRUE(bench.press("booking/day_later"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(booking(made.booking).deliver_on, made.deliver_on.plus(1));

  ASSERT_TRUE(bench.press("plan/change"));
  ASSERT_TRUE(bench.press("booking/cancel"));
  EXPECT_TRUE(bench.press("booking/keep"));
  ASSERT_TRUE(bench.press("booking/cancel"));
  ASSERT_TRUE(bench.press("booking/cancel_it"));
  bench.answer(SaveOutcome::saved);
  EXPECT_TRUE(booking(made.booking).cancelled);
  EXPECT_EQ(bench.find("plan/mark/" + made.booking), nullptr);
}

TEST_F(PlanScreens, TheCrewIsToldByForm) {
  ASSERT_TRUE(bench.press("plan/crew"));
  ASSERT_TRUE(bench.press("crew/people"));
  ASSERT_TRUE(bench.type("number/keys", "9"));
  ASSERT_TRUE(bench.press("number/accept"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bookings().set_up.people, 9);
  EXPECT_EQ(bookings().set_up.boats, 1);
}

TEST_F(PlanScreens, TomorrowsListIsShownAndCanBeShared) {
  ASSERT_TRUE(bench.press("plan/tomorrow"));
  EXPECT_TRUE(bench.shows("Fri 27 Nov"));
  EXPECT_GT(count_of("tomorrow/technician/"), 3);
  ASSERT_TRUE(bench.press("tomorrow/share"));
  EXPECT_EQ(bench.platform.shared_name, "tawny-2026-11-27.txt");
  const std::string& text = bench.platform.shared_text;
  EXPECT_NE(text.find("Heron Bend, Fri 27 Nov"), std::string::npos);
  EXPECT_NE(text.find("Technician"), std::string::npos);
  EXPECT_NE(text.find("- Long Pond: Read oxygen and pH"), std::string::npos);
  EXPECT_EQ(text.find('{'), std::string::npos);
}

TEST_F(PlanOnAPhone, DeliveriesStandInAColumnAndMoveByADay) {
  EXPECT_EQ(count_of("plan/mark/"), 0);
  EXPECT_EQ(count_of("plan/booking/"), 4);
  ASSERT_TRUE(bench.press("plan/booking/d-long-pond"));
  EXPECT_NE(bench.find("plan/picked/stage/release"), nullptr);
  ASSERT_TRUE(bench.press("plan/later"));
  EXPECT_EQ(name_of("save"), "Move to Fri 4 Dec");
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(booking("d-long-pond").deliver_on, *civil_day_of({2026, 12, 4}));
  ASSERT_TRUE(bench.press("plan/fold"));
  EXPECT_EQ(count_of("plan/booking/"), 4);
}

}  // namespace
}  // namespace tawny::ui
