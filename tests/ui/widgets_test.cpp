#include "ui/widgets.h"

#include <gtest/gtest.h>

#include "ui/bench.h"

namespace tawny::ui {
namespace {

Rect rect_of(Bench& bench, std::string_view id) {
  const Node* node = bench.ui().model().find(id);
  EXPECT_NE(node, nullptr) << id;
  return node ? node->rect : Rect{};
}

// A column of many buttons, counting presses of the one asked for.
struct Page {
  int presses = 0;
  int last = -1;
  int buttons = 30;
  void operator()(Ui& ui) {
    ui.top_bar("Page", true);
    ui.tab_bar({{"a", "First", "rounds", {}}, {"b", "Second", "ponds", {}}}, "a");
    ui.begin_content("page");
    for (int i = 0; i < buttons; ++i) {
      if (ui.button("b" + std::to_string(i), "Button " + std::to_string(i))) {
        ++presses;
        last = i;
      }
    }
    ui.end_content();
  }
};

TEST(Press, CountsWhenTheFingerLifts) {
  Bench bench;
  Page page;
  bench.frame(page);
  const Rect rect = rect_of(bench, "b2");
  bench.finger_at(rect.x + 20, rect.y + 20);
  bench.finger_down();
  for (int i = 0; i < 4; ++i) bench.frame(page);
  EXPECT_EQ(page.presses, 0);
  bench.finger_up();
  for (int i = 0; i < 4; ++i) bench.frame(page);
  EXPECT_EQ(page.presses, 1);
  EXPECT_EQ(page.last, 2);
}

TEST(Press, AFastTapCountsOnce) {
  Bench bench;
  Page page;
  bench.frame(page);
  const Rect rect = rect_of(bench, "b2");
  bench.finger_at(rect.x + 20, rect.y + 20);
  bench.finger_down();
  bench.finger_up();
  bench.finger_gone();
  for (int i = 0; i < 6; ++i) bench.frame(page);
  EXPECT_EQ(page.presses, 1);
}

TEST(Press, ACancelledTouchPressesNothing) {
  Bench bench;
  Page page;
  bench.frame(page);
  const Rect rect = rect_of(bench, "b2");
  bench.finger_at(rect.x + 20, rect.y + 20);
  bench.finger_down();
  for (int i = 0; i < 3; ++i) bench.frame(page);
  bench.finger_gone();
  bench.finger_up();
  for (int i = 0; i < 4; ++i) bench.frame(page);
  EXPECT_EQ(page.presses, 0);
}

TEST(Press, ADragScrollsAndPressesNothingAndComesToRest) {
  Bench bench;
  Page page;
  bench.frame(page);
  const Rect before = rect_of(bench, "b5");
  float y = before.y + 20;
  bench.finger_at(before.x + 20, y);
  bench.finger_down();
  bench.frame(page);
  for (int i = 0; i < 10; ++i) {
    y -= 15;
    bench.finger_at(before.x + 20, y);
    bench.frame(page);
  }
  bench.finger_up();
  bench.frame(page);
  bench.finger_gone();
  bench.frame(page);
  EXPECT_EQ(page.presses, 0);
  EXPECT_LT(rect_of(bench, "b5").y, before.y - 100);
  EXPECT_GT(bench.ui().frames_wanted(), 0) << "gliding";
  int frames = 0;
  while (bench.ui().frames_wanted() > 0 && frames < 600) {
    bench.frame(page);
    ++frames;
  }
  EXPECT_LT(frames, 300);
  EXPECT_EQ(bench.ui().frames_wanted(), 0);
  const float rest = rect_of(bench, "b5").y;
  for (int i = 0; i < 10; ++i) bench.frame(page);
  EXPECT_EQ(rect_of(bench, "b5").y, rest);
}

// Where the view stands in the whole is shown for a while after the page moved: frames in which nothing changes are not
// drawn for it, and it goes without an event.
TEST(Press, TheBarBesideAPageThatWasMovedGoesByItself) {
  Bench bench;
  Page page;
  bench.frame(page);
  EXPECT_FALSE(bench.ui().wake_in_s());
  bench.finger_at(200, 600);
  bench.finger_down();
  bench.frame(page);
  bench.finger_at(200, 500);
  bench.frame(page);
  bench.frame(page);
  EXPECT_EQ(bench.ui().frames_wanted(), 0);
  ASSERT_TRUE(bench.ui().wake_in_s());
  EXPECT_GT(*bench.ui().wake_in_s(), 0);
  EXPECT_LE(*bench.ui().wake_in_s(), 0.5);
  int still = 0, fading = 0;
  for (; still < 60 && bench.ui().wake_in_s(); ++still) bench.frame(page);
  EXPECT_GT(bench.ui().frames_wanted(), 0) << "it fades";
  for (; fading < 60 && bench.ui().frames_wanted() > 0; ++fading) bench.frame(page);
  EXPECT_GT(still, 10);
  EXPECT_GT(fading, 10);
  EXPECT_LT(still, 60);
  EXPECT_LT(fading, 60);
  EXPECT_FALSE(bench.ui().wake_in_s());
}

TEST(Press, WhereStillnessIsAskedForAThrownPageStaysWhereTheFingerLeftIt) {
  for (const bool still : {false, true}) {
    Bench bench;
    Page page;
    bench.ui().set_reduced_motion(still);
    bench.frame(page);
    bench.finger_at(200, 600);
    bench.finger_down();
    bench.frame(page);
    bench.finger_at(200, 400);
    bench.frame(page);
    bench.ui().thrown(1500);
    bench.finger_up();
    bench.frame(page);
    const float left_at = rect_of(bench, "b5").y;
    for (int i = 0; i < 10; ++i) bench.frame(page);
    if (still) {
      EXPECT_EQ(rect_of(bench, "b5").y, left_at);
    } else {
      EXPECT_LT(rect_of(bench, "b5").y, left_at - 20);
    }
  }
}

TEST(Press, ASidewaysDragPressesNothing) {
  Bench bench;
  Page page;
  bench.frame(page);
  const Rect rect = rect_of(bench, "b1");
  bench.finger_at(rect.x + 20, rect.y + 20);
  bench.finger_down();
  for (int i = 0; i < 2; ++i) bench.frame(page);
  bench.finger_at(rect.x + 120, rect.y + 20);
  bench.frame(page);
  bench.finger_up();
  for (int i = 0; i < 3; ++i) bench.frame(page);
  EXPECT_EQ(page.presses, 0);
}

TEST(Press, AStillScreenWantsNoFrames) {
  Bench bench;
  Page page;
  for (int i = 0; i < 60; ++i) bench.frame(page);
  EXPECT_EQ(bench.ui().frames_wanted(), 0);
}

TEST(Press, ControlsUnderTheBarsAreOutOfReach) {
  Bench bench;
  Page page;
  bench.frame(page);
  bench.frame(page);
  int under = -1;
  for (int i = 0; i < page.buttons; ++i) {
    const Rect rect = rect_of(bench, "b" + std::to_string(i));
    const float middle = rect.y + rect.h / 2;
    if (middle > 844 - Sizes::kTabBar && middle < 844) under = i;
  }
  ASSERT_GE(under, 0) << "no button lies under the bar";
  bench.tap("b" + std::to_string(under), page);
  EXPECT_EQ(page.presses, 0);
}

TEST(Press, TheMirrorReachesEveryControlAlsoOutOfSight) {
  Bench bench;
  Page page;
  bench.frame(page);
  EXPECT_GT(rect_of(bench, "b29").y, 844);
  bench.ui().activate("b29");
  EXPECT_GT(bench.ui().frames_wanted(), 0);
  bench.frame(page);
  EXPECT_EQ(page.last, 29);
  bench.frame(page);
  EXPECT_EQ(page.presses, 1) << "once";
}

TEST(Press, AnActivationOfSomethingGoneIsForgotten) {
  Bench bench;
  Page page;
  page.buttons = 3;
  bench.ui().activate("b20");
  bench.frame(page);
  page.buttons = 30;
  bench.frame(page);
  EXPECT_EQ(page.presses, 0);
}

TEST(Press, FocusBringsAControlIntoView) {
  Bench bench;
  Page page;
  bench.frame(page);
  bench.ui().reveal("b29");
  for (int i = 0; i < 3; ++i) bench.frame(page);
  const Rect rect = rect_of(bench, "b29");
  EXPECT_LT(rect.y + rect.h, 844 - Sizes::kTabBar);
  EXPECT_GT(rect.y, 64);
}

TEST(Press, ADisabledControlHearsNeitherFingerNorMirror) {
  Bench bench;
  int presses = 0;
  const auto page = [&](Ui& ui) {
    ui.begin_content("page");
    if (ui.button("save", "Save", ButtonKind::primary, false)) ++presses;
    ui.end_content();
  };
  bench.tap("save", page);
  bench.ui().activate("save");
  bench.frame(page);
  EXPECT_EQ(presses, 0);
  EXPECT_EQ(bench.ui().model().find("save")->state, "disabled");
}

TEST(Bars, BackAndTabsArePressed) {
  Bench bench;
  bool back = false;
  std::string tab;
  const auto page = [&](Ui& ui) {
    if (ui.top_bar("A title", true)) back = true;
    if (auto chosen = ui.tab_bar({{"a", "First", "rounds", {}}, {"b", "Second", "ponds", {}}}, "a"))
      tab = *chosen;
  };
  bench.tap("back", page);
  EXPECT_TRUE(back);
  bench.tap("tab/b", page);
  EXPECT_EQ(tab, "b");
  EXPECT_EQ(bench.ui().model().find("tab/a")->state, "selected");
  EXPECT_EQ(bench.ui().model().find("tab/b")->state, "");
}

TEST(Bars, KeepClearOfTheNotchAndTheHomeBar) {
  Bench bench;
  bench.set_insets({44, 0, 34, 0});
  Page page;
  bench.frame(page);
  EXPECT_GE(rect_of(bench, "title").y, 44);
  const Rect tab = rect_of(bench, "tab/a");
  EXPECT_LE(tab.y + tab.h, 844 - 34);
}

TEST(Bars, StandAtTheLeftOnALaptopWithTheColumnInTheMiddle) {
  Bench bench(1280, 800);
  Page page;
  bench.frame(page);
  EXPECT_TRUE(bench.ui().wide());
  const Rect tab = rect_of(bench, "tab/a");
  const Rect button = rect_of(bench, "b0");
  EXPECT_LT(tab.x + tab.w, button.x);
  EXPECT_LE(button.w, 720);
  EXPECT_LT(rect_of(bench, "tab/a").y, rect_of(bench, "tab/b").y);
}

// A card that can be pressed, with a button inside.
struct CardPage {
  int card = 0, inner = 0;
  void operator()(Ui& ui) {
    ui.begin_content("page");
    ui.begin_card("card", "Pond 3, read oxygen");
    ui.text("card/text", "Pond 3");
    if (ui.button("inner", "Not today")) ++inner;
    ui.text("card/more", "until 06:40");
    if (ui.end_card()) ++card;
    ui.end_content();
  }
};

TEST(Card, ThePressOnItsTextIsThePressOnTheCard) {
  Bench bench;
  CardPage page;
  bench.tap("card/text", page);
  EXPECT_EQ(page.card, 1);
  EXPECT_EQ(page.inner, 0);
}

TEST(Card, AButtonInsideKeepsItsPress) {
  Bench bench;
  CardPage page;
  bench.tap("inner", page);
  EXPECT_EQ(page.inner, 1);
  EXPECT_EQ(page.card, 0);
}

TEST(Card, ItsNodeCoversWhatStandsInside) {
  Bench bench;
  CardPage page;
  bench.frame(page);
  const Rect card = rect_of(bench, "card");
  const Rect more = rect_of(bench, "card/more");
  EXPECT_GT(more.y, card.y);
  EXPECT_LT(more.y + more.h, card.y + card.h);
}

TEST(Keypad, EditsLikeAPencil) {
  struct {
    const char* before;
    const char* key;
    const char* after;
  } const rows[] = {
      {"", "7", "7"},       {"4", "mark", "4."},
      {"", "mark", "0."},   {"4.", "mark", "4."},
      {"4.", "2", "4.2"},   {"0", "5", "5"},
      {"0.", "0", "0.0"},   {"4.2", "delete", "4."},
      {"", "delete", ""},   {"-3", "delete", ""},
      {"3", "sign", "-3"},  {"-3", "sign", "3"},
      {"-", "mark", "-0."}, {"12345678", "9", "12345678"},
  };
  for (const auto& row : rows) {
    Bench bench;
    std::string text = row.before;
    int changes = 0;
    const auto page = [&](Ui& ui) {
      ui.begin_content("page");
      if (ui.keypad("keys", text, 320, true, true)) ++changes;
      ui.end_content();
    };
    bench.tap(std::string("keys/") + row.key, page);
    EXPECT_EQ(text, row.after) << row.before << " + " << row.key;
    EXPECT_EQ(changes, std::string(row.before) == row.after ? 0 : 1) << row.before << " + " << row.key;
  }
}

TEST(Keypad, OffersOnlyTheKeysThatAreAskedFor) {
  Bench bench;
  std::string text;
  bench.frame([&](Ui& ui) {
    ui.begin_content("page");
    ui.keypad("keys", text, 320, false);
    ui.end_content();
  });
  EXPECT_EQ(bench.ui().model().find("keys/mark"), nullptr);
  EXPECT_EQ(bench.ui().model().find("keys/sign"), nullptr);
  EXPECT_NE(bench.ui().model().find("keys/0"), nullptr);
}

TEST(Field, GivesTheTextThatTheEntryBarAccepted) {
  Bench bench;
  std::string note = "old";
  const auto page = [&](Ui& ui) {
    ui.begin_content("page");
    if (auto typed = ui.text_field("note", "Note", note, "Anything", "note", 200)) note = *typed;
    ui.end_content();
  };
  bench.frame(page);
  bench.ui().accept_text("note", "shells on the gate");
  bench.frame(page);
  EXPECT_EQ(note, "shells on the gate");
  bench.frame(page);
  const Node* node = bench.ui().model().find("note");
  EXPECT_EQ(node->role, NodeRole::textfield);
  EXPECT_EQ(node->value, "shells on the gate");
  EXPECT_EQ(node->input_kind, "note");
  EXPECT_EQ(node->max_length, 200);
}

TEST(Choice, GivesTheOptionPressedAndMarksTheOneChosen) {
  Bench bench;
  std::string sky = "bright";
  const auto page = [&](Ui& ui) {
    ui.begin_content("page");
    if (auto chosen = ui.choice("sky", "Sky", {{"bright", "Bright", "", {}}, {"dull", "Dull", "", {}}}, sky)) {
      sky = *chosen;
    }
    ui.end_content();
  };
  bench.tap("sky/dull", page);
  EXPECT_EQ(sky, "dull");
  EXPECT_EQ(bench.ui().model().find("sky/dull")->state, "checked");
  EXPECT_EQ(bench.ui().model().find("sky/dull")->role, NodeRole::radio);
}

TEST(Rows, SayWhetherWhatTheyUnfoldIsShown) {
  Bench bench;
  bool unfolded = false;
  const auto page = [&](Ui& ui) {
    ui.begin_content("page");
    ui.begin_card("card");
    Ui::Row row;
    row.title = "Oxygen";
    row.unfolds = true;
    row.unfolded = unfolded;
    if (ui.row("oxygen", row)) unfolded = !unfolded;
    row.title = "Log";
    row.unfolds = false;
    ui.row("log", row);
    ui.end_card();
    ui.end_content();
  };
  bench.frame(page);
  EXPECT_EQ(bench.ui().model().find("oxygen")->state, "collapsed");
  EXPECT_EQ(bench.ui().model().find("log")->state, "") << "it leads on";
  bench.tap("oxygen", page);
  bench.frame(page);
  EXPECT_EQ(bench.ui().model().find("oxygen")->state, "expanded");
}

TEST(Footer, GrowsUntilItsContentFits) {
  Bench bench;
  const auto page = [](Ui& ui) {
    ui.begin_content("page", 80);
    ui.text("t", "text");
    ui.end_content();
    ui.begin_footer();
    ui.notice("why", Tone::alarm,
              "The device has no room left for another entry. Take the logbook out as a file.");
    ui.button("save", "Save", ButtonKind::primary);
    ui.end_footer();
  };
  for (int i = 0; i < 3; ++i) bench.frame(page);
  const Rect save = rect_of(bench, "save");
  EXPECT_LE(save.y + save.h, 844);
  for (int i = 0; i < 3; ++i) bench.frame(page);
  EXPECT_EQ(bench.ui().frames_wanted(), 0);
}

// Everything that has words, with long ones.
void long_page(Ui& ui) {
  const std::string words = "The whole surface was covered, also the corners behind the gate";
  ui.top_bar("North pond by the mangrove inlet, dissolved oxygen at the bottom", true, "Demo farm");
  ui.tab_bar({{"a", "Rounds", "rounds", {}},
              {"b", "Ponds", "ponds", {}},
              {"c", "Dose bin", "bin", {}},
              {"d", "Logbook", "logbook", {}},
              {"e", "Office", "office", {}}},
             "a");
  ui.begin_content("long");
  ui.heading("heading", words);
  ui.text("text", words, TextSize::lead);
  ui.text("word", "Aworldlongerthananylineofanyphonethatwaseverheldinawetandcoldhandbeforesunrise");
  ui.number("number", words, "12345.6", "kilograms per hectare");
  ui.fact("fact", words, words);
  ui.status("status", Status::overdue, words);
  ui.notice("notice", Tone::warn, words);
  ui.step("step", 12, words, false);
  ui.button("button", words, ButtonKind::primary, true, "check");
  ui.choice("choice", words,
            {{"1", "Golden brown", "", 0xFF2D76A9u}, {"2", "Bright", "sky-bright", {}}, {"3", words, "", {}}},
            "1");
  ui.checkbox("check", words, true);
  ui.value_field("value", words, "123456.78", "micrometres", words);
  ui.text_field("field", words, words, words, "note", 200);
  ui.begin_card("card", words);
  ui.begin_cells(2);
  ui.button("left", words);
  ui.next_cell();
  ui.button("right", words);
  ui.end_cells();
  ui.end_card();
  ui.end_content();
}

TEST(Layout, NothingIsWiderThanItsColumnOnAnyPhone) {
  for (const float width : {320.0f, 360.0f, 390.0f, 412.0f, 430.0f}) {
    Bench bench(width, 844);
    bench.frame(long_page);
    for (const Node& node : bench.ui().model().nodes()) {
      EXPECT_GE(node.rect.x, 0) << node.id << " at " << width;
      EXPECT_LE(node.rect.x + node.rect.w, width + 0.5f) << node.id << " at " << width;
    }
  }
}

TEST(Layout, EveryTargetIsForAThumbAndKeepsItsDistance) {
  for (const float width : {320.0f, 390.0f}) {
    Bench bench(width, 844);
    bench.frame(long_page);
    std::vector<Node> targets;
    for (const Node& node : bench.ui().model().nodes()) {
      switch (node.role) {
        case NodeRole::button:
        case NodeRole::radio:
        case NodeRole::checkbox:
        case NodeRole::textfield:
        case NodeRole::tab:
          targets.push_back(node);
          break;
        default:
          break;
      }
    }
    for (const Node& a : targets) {
      EXPECT_GE(a.rect.w, 48) << a.id;
      EXPECT_GE(a.rect.h, 48) << a.id;
      if (a.role == NodeRole::tab || a.id == "card") continue;
      for (const Node& b : targets) {
        if (&a == &b || b.role == NodeRole::tab || b.id == "card") continue;
        const float across = std::max(a.rect.x - (b.rect.x + b.rect.w), b.rect.x - (a.rect.x + a.rect.w));
        const float down = std::max(a.rect.y - (b.rect.y + b.rect.h), b.rect.y - (a.rect.y + a.rect.h));
        EXPECT_GE(std::max(across, down), 7.5f) << a.id << " and " << b.id << " at " << width;
      }
    }
  }
}

TEST(Layout, ALongLabelMakesItsButtonHigher) {
  Bench bench;
  bench.frame([](Ui& ui) {
    ui.begin_content("page");
    ui.button("short", "Save");
    ui.button("long", "Save what was spread so far and break the walk off here, since the wind came up");
    ui.end_content();
  });
  EXPECT_GT(rect_of(bench, "long").h, rect_of(bench, "short").h);
}

TEST(Layout, IdsAreUniqueInAFrame) {
  Bench bench;
  bench.frame(long_page);
  std::map<std::string, int> seen;
  for (const Node& node : bench.ui().model().nodes()) ++seen[node.id];
  for (const auto& [id, count] : seen) EXPECT_EQ(count, 1) << id;
}

}  // namespace
}  // namespace tawny::ui
