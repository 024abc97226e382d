// Two hundred ponds on Rounds, Plan, Ponds and Dose bin: only what is in view is drawn, and all of it is reached.
#include <gtest/gtest.h>

#include "office/bookings.h"
#include "ui/app_bench.h"
#include "ui/many_ponds.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795605000};  // 2026-11-25 06:10 at the farm

class Many : public ::testing::TestWithParam<std::pair<float, float>> {
 protected:
  Many() : bench(kMorning, GetParam().first, GetParam().second) {
    Boot boot;
    boot.store = "own";
    boot.device = "office";
    boot.languages = {"en"};
    bench.app->start(boot);
    bench.app->load_lines(many_ponds(200, kMorning));
    bench.app->ready();
    bench.frames(2);
  }

  std::vector<std::string> drawn(std::string_view start) const {
    std::vector<std::string> ids;
    for (const Node& node : bench.model().nodes()) {
      if (node.id.rfind(start, 0) == 0) ids.push_back(node.id);
    }
    return ids;
  }
  // The lowest of those; of what is due in the left half, where on a laptop that stands which is due now.
  std::string lowest(std::string_view start) const {
    const Node* low = nullptr;
    for (const Node& node : bench.model().nodes()) {
      const bool beside = start == "due/" && node.rect.x > GetParam().first / 2;
      if (node.id.rfind(start, 0) != 0 || beside) continue;
      if (low == nullptr || node.rect.y > low->rect.y) low = &node;
    }
    return low == nullptr ? std::string() : low->id;
  }
  // From control to control downwards, as a keyboard goes, until `last` is there.
  void walk_down(std::string_view start, const std::string& last, std::size_t most) {
    for (int step = 0; step < 400 && bench.find(last) == nullptr; ++step) {
      const std::string next = lowest(start);
      ASSERT_FALSE(next.empty());
      bench.app->on_reveal(next);
      bench.frames(3);
      EXPECT_LT(drawn(start).size(), most);
    }
    EXPECT_NE(bench.find(last), nullptr) << last;
  }

  AppBench bench;
};

TEST_P(Many, RoundsDrawTheTilesInView) {
  bench.app->open_tab(Tab::rounds);
  bench.frames(4);
  EXPECT_GT(bench.app->rounds()->items.size(), 400U);
  EXPECT_LT(drawn("due/").size(), 120U);
  std::string last;
  for (const DueItem& item : bench.app->rounds()->items) {
    if (item.state == DueState::now && item.act == Act::start_cycle) last = "due/" + item.pond + "/start_cycle";
  }
  walk_down("due/", last, 160);
}

TEST_P(Many, ThePlanDrawsTheDeliveriesInView) {
  std::vector<Draft> drafts;
  for (const FarmPond& pond : bench.app->farm().ponds) {
    Booking booking;
    booking.booking = "of " + pond.history.pond.id;
    booking.pond = pond.history.pond.id;
    booking.deliver_on = civil_day(kMorning, bench.app->farm().place.offset).plus(60);
    booking.pl_count = 200000;
    Draft draft;
    draft.kind = std::string(kind::kPlBooking);
    draft.pond = booking.pond;
    draft.values = booking_values(booking);
    drafts.push_back(std::move(draft));
  }
  bench.app->put(std::move(drafts));
  bench.answer(SaveOutcome::saved);
  bench.app->open(make_plan_screen());
  bench.frames(4);
  EXPECT_LT(drawn("plan/").size(), 120U);
  // On a laptop the lines stand under the calendar.
  if (bench.find("plan/calendar") != nullptr) walk_down("plan/mark/", "plan/mark/of p200", 60);
  walk_down("plan/booking/", "plan/booking/of p200", 60);
}

TEST_P(Many, PondsAndTheDoseBinDrawTheCardsInView) {
  for (const auto& [tab, start] : {std::pair(Tab::ponds, "pond/"), std::pair(Tab::dose, "dose/pond/")}) {
    bench.app->open_tab(tab);
    bench.frames(4);
    EXPECT_LT(drawn(start).size(), 120U);
    walk_down(start, std::string(start) + "p200", 160);
  }
}

INSTANTIATE_TEST_SUITE_P(Sizes, Many, ::testing::Values(std::pair(390.0f, 844.0f), std::pair(1366.0f, 768.0f)));

// A screen reader goes through a list of a hundred as a whole; what of it is out of view costs no picture.
TEST(ManyPonds, OutOfViewStandInTheScreenModelAndAreNotPainted) {
  std::vector<int> vertices;
  for (const int ponds : {30, 100}) {
    AppBench bench(kMorning, 390, 844);
    Boot boot;
    boot.store = "own";
    boot.device = "office";
    boot.languages = {"en"};
    bench.app->start(boot);
    bench.app->load_lines(many_ponds(ponds, kMorning));
    bench.app->ready();
    bench.frames(2);
    bench.app->open_tab(Tab::ponds);
    bench.frames(4);
    for (int number = 1; number <= ponds; ++number) {
      const std::string pond = "pond/p" + std::to_string(1000 + number).substr(1);
      EXPECT_NE(bench.find(pond), nullptr) << pond;
    }
    vertices.push_back(ImGui::GetDrawData()->TotalVtxCount);
  }
  EXPECT_GT(vertices[0], 1000);
  EXPECT_EQ(vertices[0], vertices[1]);
}

}  // namespace
}  // namespace tawny::ui
