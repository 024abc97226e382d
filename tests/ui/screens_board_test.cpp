// The board on a laptop and on a phone: what it draws of 200 ponds, sorting, filtering, one decision for
// several.
#include <gtest/gtest.h>

#include <algorithm>

#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/many_ponds.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795605000};  // 2026-11-25 06:10 at the demo farm

class Board : public ::testing::Test {
 protected:
  Board() : bench_(kMorning, 1366, 768) {}

  void open_many(int count) {
    Boot boot;
    boot.store = "own";
    boot.device = "office";
    boot.languages = {"en"};
    bench_.app->start(boot);
    bench_.app->load_lines(many_ponds(count, kMorning));
    bench_.app->ready();
    bench_.frames(2);
    bench_.app->open_tab(Tab::office);
    bench_.frames(3);
  }

  // Ids of the rows that were drawn, in their order.
  std::vector<std::string> rows() const {
    std::vector<std::string> ids;
    for (const Node& node : bench_.model().nodes()) {
      const std::string start = "board/row/";
      if (node.id.rfind(start, 0) != 0 || node.id.find('/', start.size()) != std::string::npos) continue;
      ids.push_back(node.id.substr(start.size()));
    }
    return ids;
  }

  std::vector<std::string> kinds_saved() const {
    std::vector<std::string> kinds;
    for (const Entry* entry : bench_.app->logbook().all()) kinds.push_back(entry->kind);
    return kinds;
  }

  AppBench bench_;
};

TEST_F(Board, OnALaptopTheOfficeOpensWithItAndTheRestIsOneTapAway) {
  bench_.set_size(1366, 1600);
  bench_.open_demo();
  bench_.app->open_tab(Tab::office);
  bench_.frames(3);
  EXPECT_EQ(rows().size(), 7U);
  EXPECT_EQ(bench_.find("office/out/share"), nullptr);
  ASSERT_TRUE(bench_.press("office/things"));
  EXPECT_NE(bench_.find("office/out/share"), nullptr);
}

TEST_F(Board, OnAPhoneItIsReachedFromTheOffice) {
  bench_.set_size(390, 844);
  bench_.open_demo();
  bench_.app->open_tab(Tab::office);
  bench_.frames(3);
  EXPECT_NE(bench_.find("office/out/share"), nullptr);
  ASSERT_TRUE(bench_.press("office/board"));
  EXPECT_FALSE(rows().empty());
}

TEST_F(Board, AFileThatComesIsAskedAboutAmongTheThingsOfTheDevice) {
  bench_.open_demo();
  bench_.app->open_tab(Tab::office);
  bench_.frames(2);
  bench_.app->on_file("logbook.txt", bench_.app->logbook().to_lines());
  bench_.frames(4);
  EXPECT_NE(bench_.find("incoming/drop"), nullptr);
}

// 768 px show some eight rows at most, and the frame draws a few more for the keyboard's way on.
TEST_F(Board, DrawsOfTwoHundredPondsOnlyThoseInSight) {
  open_many(200);
  EXPECT_TRUE(bench_.shows("200 ponds"));
  EXPECT_LT(rows().size(), 20U);
  EXPECT_GE(rows().size(), 5U);
  EXPECT_LT(bench_.model().nodes().size(), 400U);
  EXPECT_EQ(rows().front(), "p001");
  // With the keyboard from row to row down to the last.
  for (int step = 0; step < 200 && rows().back() != "p200"; ++step) {
    bench_.app->on_reveal("board/row/" + rows().back());
    bench_.frames(3);
    EXPECT_LT(rows().size(), 24U);
  }
  EXPECT_EQ(rows().back(), "p200");
  // The heads are still there, at the top of the view.
  const Node* head = bench_.find("board/column/pond");
  ASSERT_NE(head, nullptr);
  EXPECT_GE(head->rect.y, 0);
  EXPECT_LT(head->rect.y, 120);
}

TEST_F(Board, OnAPhoneTooDrawsOnlyTheCardsInSight) {
  bench_.set_size(390, 844);
  open_many(200);
  ASSERT_TRUE(bench_.press("office/board"));
  bench_.frames(2);
  EXPECT_LT(rows().size(), 12U);
  for (int step = 0; step < 400 && rows().back() != "p200"; ++step) {
    bench_.app->on_reveal("board/row/" + rows().back());
    bench_.frames(3);
  }
  EXPECT_EQ(rows().back(), "p200");
}

TEST_F(Board, AHeadSortsAndPressedAgainTurnsTheOrder) {
  bench_.set_size(1366, 1600);
  open_many(9);
  EXPECT_EQ(rows().front(), "p001");
  ASSERT_TRUE(bench_.press("board/column/pond"));
  EXPECT_EQ(rows().front(), "p009");
  ASSERT_TRUE(bench_.press("board/column/gate"));
  // Bottom, then rest, then those without a cycle, each in walking order.
  EXPECT_EQ(rows(),
            (std::vector<std::string>{"p001", "p004", "p007", "p002", "p005", "p008", "p003", "p006", "p009"}));
  EXPECT_EQ(bench_.platform.settings["board.sort"], "stage");
}

TEST_F(Board, OnAPhoneStagesAndOrderWaitBehindOneChip) {
  bench_.set_size(390, 1600);
  open_many(9);
  ASSERT_TRUE(bench_.press("office/board"));
  EXPECT_EQ(bench_.find("board/sort/stage"), nullptr);
  ASSERT_TRUE(bench_.press("board/chip/more"));
  ASSERT_TRUE(bench_.press("board/chip/stage/rest"));
  EXPECT_EQ(rows().size(), 3U);
  ASSERT_TRUE(bench_.press("board/chip/more"));
  EXPECT_EQ(rows().size(), 3U) << "what was asked for still holds";
  EXPECT_NE(bench_.find("board/chip/stage/rest"), nullptr) << "and is seen";
  EXPECT_EQ(bench_.find("board/chip/stage/bottom"), nullptr);
}

TEST_F(Board, ChipsAndTheNameFilter) {
  bench_.set_size(1366, 1600);
  open_many(30);
  ASSERT_TRUE(bench_.press("board/chip/stage/rest"));
  EXPECT_EQ(rows().size(), 10U);
  EXPECT_TRUE(bench_.shows("10 of 30 shown"));
  bench_.app->on_text("board/name", "pond 02");
  bench_.frames(2);
  EXPECT_EQ(rows(), (std::vector<std::string>{"p020", "p023", "p026", "p029"}));
  ASSERT_TRUE(bench_.press("board/chip/stage/rest"));
  bench_.app->on_text("board/name", "nowhere");
  bench_.frames(2);
  EXPECT_TRUE(rows().empty());
  EXPECT_NE(bench_.find("board/nothing"), nullptr);
}

TEST_F(Board, APressOnARowOpensThePond) {
  open_many(9);
  ASSERT_TRUE(bench_.press("board/row/p004"));
  EXPECT_TRUE(bench_.shows("Pond 004"));
  EXPECT_TRUE(rows().empty());
}

class Decide : public Board {
 protected:
  void choose_and_open(std::initializer_list<const char*> ponds) {
    open_many(9);
    for (const char* pond : ponds) ASSERT_TRUE(bench_.press("board/tick/" + std::string(pond)));
    bench_.frames(2);
    ASSERT_TRUE(bench_.press("board/decide"));
  }
  Stage stage(std::string_view pond) const { return bench_.app->farm().pond(pond)->state.stage; }
};

TEST_F(Decide, NamesEachPondAndWhatDoesNotHoldThere) {
  choose_and_open({"p001", "p002", "p003"});
  EXPECT_NE(bench_.find("decide/pond/p001/bottom.sludge"), nullptr);
  EXPECT_NE(bench_.find("decide/pond/p002/name"), nullptr);
  EXPECT_EQ(bench_.find("decide/pond/p003/name"), nullptr);  // no cycle, no gate
  EXPECT_NE(bench_.find("decide/left_out"), nullptr);
  EXPECT_FALSE(bench_.press("decide/pass"));  // without a reason
}

TEST_F(Decide, PassesSeveralGatesInOneSaveAndTakesAllOfItBack) {
  choose_and_open({"p001", "p002"});
  bench_.app->on_text("decide/reason", "Walked them this morning");
  bench_.frames(2);
  ASSERT_TRUE(bench_.press("decide/pass"));
  EXPECT_TRUE(bench_.shows("Pond 001"));
  const int saves = bench_.platform.saves;
  ASSERT_TRUE(bench_.press("save"));
  EXPECT_EQ(bench_.platform.saves, saves + 1);
  EXPECT_EQ(bench_.platform.waiting.size(), 2U);
  bench_.answer(SaveOutcome::saved);
  EXPECT_EQ(stage("p001"), Stage::first_fill);
  EXPECT_EQ(stage("p002"), Stage::second_fill);
  EXPECT_EQ(stage("p004"), Stage::bottom);
  ASSERT_TRUE(bench_.press("decide/take_back"));
  EXPECT_EQ(bench_.platform.waiting.size(), 2U);
  bench_.answer(SaveOutcome::saved);
  EXPECT_EQ(stage("p001"), Stage::bottom);
  EXPECT_EQ(stage("p002"), Stage::rest);
  EXPECT_EQ(bench_.find("decide/take_back"), nullptr);
}

TEST_F(Decide, HoldsSeveralGatesShut) {
  choose_and_open({"p001", "p004"});
  bench_.app->on_text("decide/reason", "Soil too wet");
  bench_.frames(2);
  ASSERT_TRUE(bench_.press("decide/refuse"));
  ASSERT_TRUE(bench_.press("save"));
  bench_.answer(SaveOutcome::saved);
  EXPECT_TRUE(bench_.app->farm().pond("p001")->state.refused);
  EXPECT_TRUE(bench_.app->farm().pond("p004")->state.refused);
}

TEST_F(Decide, WhatCouldNotBeSavedIsSaidAndNothingStands) {
  choose_and_open({"p001", "p004"});
  bench_.app->on_text("decide/reason", "Dry enough");
  bench_.frames(2);
  ASSERT_TRUE(bench_.press("decide/pass"));
  ASSERT_TRUE(bench_.press("save"));
  bench_.answer(SaveOutcome::full);
  EXPECT_NE(bench_.find("save/failed"), nullptr);
  EXPECT_EQ(stage("p001"), Stage::bottom);
  ASSERT_TRUE(bench_.press("save/give_up"));
  EXPECT_EQ(stage("p004"), Stage::bottom);
}

TEST_F(Decide, AllShownAreChosenByOneBox) {
  open_many(9);
  ASSERT_TRUE(bench_.press("board/chip/stage/rest"));
  ASSERT_TRUE(bench_.press("board/column/tick"));
  bench_.frames(2);
  EXPECT_TRUE(bench_.shows("Decide for 3 ponds"));
  ASSERT_TRUE(bench_.press("board/column/tick"));
  bench_.frames(2);
  EXPECT_EQ(bench_.find("board/decide"), nullptr);
}

TEST_F(Decide, WithShiftAllFromTheLastOneAreTicked) {
  open_many(9);
  ASSERT_TRUE(bench_.press("board/tick/p002"));
  ImGui::GetIO().AddKeyEvent(ImGuiMod_Shift, true);
  bench_.frames(1);
  ASSERT_TRUE(bench_.press("board/tick/p005"));
  ImGui::GetIO().AddKeyEvent(ImGuiMod_Shift, false);
  bench_.frames(2);
  EXPECT_TRUE(bench_.shows("Decide for 4 ponds"));
}

TEST_F(Decide, IsForTheManagerOnly) {
  open_many(9);
  Draft technician;
  technician.kind = kind::kDeviceSetup;
  technician.values = {{"person", std::string("Ana")}, {"role", std::string("technician")}};
  bench_.app->put({technician});
  bench_.answer(SaveOutcome::saved);
  EXPECT_EQ(bench_.find("board/tick/p001"), nullptr);
  EXPECT_EQ(bench_.find("board/column/tick"), nullptr);
  bench_.app->open(make_decide_screen({"p001"}));
  bench_.frames(3);
  EXPECT_EQ(bench_.find("decide/pass"), nullptr);
  EXPECT_NE(bench_.find("decide/manager_only"), nullptr);
}

}  // namespace
}  // namespace tawny::ui
