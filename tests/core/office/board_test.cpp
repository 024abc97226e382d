// The board, on farms put together by hand (core/farm/parts.h): what a row shows, and in which order rows come.
#include "office/board.h"

#include <gtest/gtest.h>

#include "core/farm/parts.h"

namespace tawny {
namespace {

using farm_test::clock;

const Instant kNow = clock("12:00");

FarmPond pond_with_secchi(std::string id, int walk, Stage stage, double secchi_cm, bool more_than = false) {
  FarmPond pond = farm_test::pond_in(stage, std::move(id), walk);
  auto pair = farm_test::at<SecchiPair>(clock("11:00", -1));
  pair.vanish_cm = pair.return_cm = secchi_cm;
  // Every entry of these tests has a number of its own.
  SecchiDay day;
  day.day = *civil_day_of({2026, 3, 9});
  day.secchi_cm = secchi_cm;
  day.more_than = more_than;
  day.evidence.push_back(pair.entry->id);
  pond.history.secchi.push_back(pair);
  pond.state.secchi_days.push_back(day);
  return pond;
}

Trouble trouble(Trouble::Severity severity) {
  Trouble one;
  one.id = "too_dense";
  one.severity = severity;
  return one;
}

std::vector<std::string> names(const Board& board, const BoardAsk& ask) {
  std::vector<std::string> ids;
  for (const std::size_t row : arrange(board, ask)) ids.push_back(board.rows[row].pond->history.pond.id);
  return ids;
}

using Names = std::vector<std::string>;

// Five ponds, each with a reason to come first by one key.
struct Five {
  Farm farm;
  Rounds rounds;
  Board board;

  Five() {
    std::vector<FarmPond> ponds;
    ponds.push_back(farm_test::pond_in(Stage::rest, "a", 1));
    ponds.push_back(pond_with_secchi("b", 2, Stage::hold_band, 70));  // 15 cm over the band of 45 to 55
    ponds.push_back(pond_with_secchi("c", 3, Stage::bloom, 40));      // 5 cm under it
    ponds.push_back(farm_test::pond_in(Stage::bottom, "d", 4));
    ponds.push_back(farm_test::pond_in(Stage::bottom, "e", 5));
    ponds[4].state.in_cycle = false;
    ponds[0].state.questions.emplace_back();
    ponds[2].state.troubles.push_back(trouble(Trouble::Severity::warn));
    ponds[3].state.troubles.push_back(trouble(Trouble::Severity::alarm));
    auto water = farm_test::at<WaterReading>(clock("06:00", -3));
    water.ph = 8.1;
    ponds[0].history.water.push_back(water);
    farm = farm_test::farm_of(std::move(ponds), kNow);
    for (const auto& [pond, state] : {std::pair{"b", DueState::missed},
                                      {"b", DueState::later},
                                      {"c", DueState::done},
                                      {"d", DueState::overdue}}) {
      DueItem item;
      item.pond = pond;
      item.state = state;
      rounds.items.push_back(item);
    }
    board = board_of(farm, &rounds, farm_test::protocol(), kNow);
  }
};

TEST(Board, CountsPondsByStageAndThoseThatNeedSomebody) {
  const Five five;
  EXPECT_EQ(five.board.at_stage[0], 1U);    // d
  EXPECT_EQ(five.board.at_stage[2], 1U);    // a
  EXPECT_EQ(five.board.at_stage[5], 1U);    // c
  EXPECT_EQ(five.board.at_stage[7], 1U);    // b
  EXPECT_EQ(five.board.not_running, 1U);    // e
  EXPECT_EQ(five.board.need_decision, 2U);  // the alarm and the question
}

TEST(Board, SortsByEachKeyWithTiesInWalkingOrder) {
  const Five five;
  const auto by = [&](BoardKey key, bool reversed = false) {
    BoardAsk ask;
    ask.key = key;
    ask.reversed = reversed;
    return names(five.board, ask);
  };
  EXPECT_EQ(by(BoardKey::walk), (Names{"a", "b", "c", "d", "e"}));
  EXPECT_EQ(by(BoardKey::walk, true), (Names{"e", "d", "c", "b", "a"}));
  // Alarm, question, trouble, no cycle, nothing.
  EXPECT_EQ(by(BoardKey::decision), (Names{"d", "a", "c", "e", "b"}));
  EXPECT_EQ(by(BoardKey::stage), (Names{"d", "a", "c", "b", "e"}));
  EXPECT_EQ(by(BoardKey::stage, true), (Names{"b", "c", "a", "d", "e"}));
  EXPECT_EQ(by(BoardKey::secchi), (Names{"b", "c", "a", "d", "e"}));
  EXPECT_EQ(by(BoardKey::secchi, true), (Names{"c", "b", "a", "d", "e"}));
  // d was never read; a's pH is three days old; b and c were read at one time.
  EXPECT_EQ(by(BoardKey::oldest), (Names{"d", "a", "b", "c", "e"}));
  EXPECT_EQ(by(BoardKey::trouble), (Names{"d", "c", "a", "b", "e"}));
}

TEST(Board, FiltersByStageDecisionTroubleDueAndName) {
  const Five five;
  BoardAsk ask;
  ask.stage = Stage::bottom;
  EXPECT_EQ(names(five.board, ask), (Names{"d"}));  // e runs no cycle
  ask = {};
  ask.needs_decision = true;
  EXPECT_EQ(names(five.board, ask), (Names{"a", "d"}));
  ask = {};
  ask.trouble = true;
  EXPECT_EQ(names(five.board, ask), (Names{"c", "d"}));
  ask.needs_decision = true;
  EXPECT_EQ(names(five.board, ask), (Names{"d"}));
  ask = {};
  ask.due_now = true;
  EXPECT_EQ(names(five.board, ask), (Names{"d"}));
  ask = {};
  ask.name = "POND B";
  EXPECT_EQ(names(five.board, ask), (Names{"b"}));
  ask.name = "pond";
  EXPECT_EQ(names(five.board, ask).size(), 5U);
}

TEST(Board, ShowsWhatIsDueNextAndNotWhatIsOver) {
  const Five five;
  EXPECT_EQ(five.board.rows[1].due, &five.rounds.items[1]);
  EXPECT_EQ(five.board.rows[2].due, nullptr);
  EXPECT_EQ(five.board.rows[3].due, &five.rounds.items[3]);
}

struct BandCase {
  Stage stage;
  double secchi_cm;
  bool more_than;
  std::optional<SecchiAgainstBand::Side> side;
  double off_cm;
  bool certain;
};

// The protocol's band of bloom and of every later stage is 45 to 55 cm (common practice); before it there is
// none.
TEST(Board, HoldsSecchiAgainstTheBandOfTheStage) {
  using Side = SecchiAgainstBand::Side;
  for (const BandCase& each : {BandCase{Stage::rest, 60, false, std::nullopt, 0, true},
                               {Stage::bloom, 45, false, Side::inside, 0, true},
                               {Stage::bloom, 55, false, Side::inside, 0, true},
                               {Stage::bloom, 56, false, Side::above, 1, true},
                               {Stage::bloom, 44, false, Side::below, 1, true},
                               {Stage::release, 62.5, false, Side::above, 7.5, true},
                               {Stage::bloom, 60, true, Side::above, 5, true},
                               // Seen on the bottom at 50: the truth is more, in the band or over it.
                               {Stage::bloom, 50, true, Side::inside, 0, false},
                               {Stage::bloom, 30, true, Side::inside, 0, false}}) {
    const Farm farm =
        farm_test::farm_of({pond_with_secchi("a", 1, each.stage, each.secchi_cm, each.more_than)}, kNow);
    const Board board = board_of(farm, nullptr, farm_test::protocol(), kNow);
    const auto& band = board.rows[0].band;
    ASSERT_EQ(band.has_value(), each.side.has_value()) << each.secchi_cm;
    if (!band) continue;
    EXPECT_EQ(band->side, *each.side) << each.secchi_cm;
    EXPECT_DOUBLE_EQ(band->off_cm, each.off_cm) << each.secchi_cm;
    EXPECT_EQ(band->certain, each.certain) << each.secchi_cm;
  }
}

TEST(Board, ADepthThatMayLieInTheBandComesLastBySecchi) {
  const Farm farm = farm_test::farm_of(
      {pond_with_secchi("a", 1, Stage::hold_band, 48, true), pond_with_secchi("b", 2, Stage::hold_band, 54)},
      kNow);
  BoardAsk ask;
  ask.key = BoardKey::secchi;
  EXPECT_EQ(names(board_of(farm, nullptr, farm_test::protocol(), kNow), ask), (Names{"b", "a"}));
}

TEST(Board, NothingHoldsTheGateOfACycleThatIsOver) {
  FarmPond pond = farm_test::pond_in(Stage::rest, "a", 1);
  Criterion open;
  open.id = "rested";
  open.verdict = Verdict::unmet;
  pond.state.criteria = {open};
  pond.state.holds = "rested";
  const auto holds = [&] {
    const Farm farm = farm_test::farm_of({pond}, kNow);
    return board_of(farm, nullptr, farm_test::protocol(), kNow).rows.front().holds != nullptr;
  };
  EXPECT_TRUE(holds());
  pond.state.finished = true;
  EXPECT_FALSE(holds());
}

TEST(Board, TellsEachLastReadingWithItsTime) {
  FarmPond pond = farm_test::pond_in(Stage::bloom, "a", 1);
  auto dawn = farm_test::at<WaterReading>(clock("06:00"));
  dawn.do_mg_l = 4.2;
  dawn.ph = 7.8;
  auto afternoon = farm_test::at<WaterReading>(clock("16:00", -1));
  afternoon.do_mg_l = 9.1;
  afternoon.temperature_c = 29.5;
  auto later = farm_test::at<WaterReading>(clock("16:00", 1));  // not yet read at noon
  later.ph = 9;
  pond.history.water = {afternoon, dawn, later};
  pond.history.levels.push_back(farm_test::at<LevelReading>(clock("07:00", -2)));
  pond.history.levels.back().level_cm = 90;
  pond.state.level_share = 0.5;
  DayPair yesterday;
  yesterday.day = *civil_day_of({2026, 3, 9});
  yesterday.afternoon_do_mg_l = 9.1;
  yesterday.dawn_do_mg_l = 4.0;
  yesterday.evidence = {afternoon.entry->id};
  DayPair today;
  today.day = *civil_day_of({2026, 3, 10});
  today.dawn_do_mg_l = 4.2;
  today.evidence = {dawn.entry->id};
  pond.state.day_pairs = {yesterday, today};
  const Farm farm = farm_test::farm_of({pond}, kNow);
  const Board board = board_of(farm, nullptr, farm_test::protocol(), kNow);
  const BoardRow& row = board.rows[0];
  ASSERT_TRUE(row.dawn_do_mg_l && row.afternoon_do_mg_l && row.ph && row.temperature_c && row.level_cm);
  EXPECT_EQ(row.dawn_do_mg_l->value, 4.2);
  EXPECT_EQ(row.dawn_do_mg_l->at, dawn.at);
  EXPECT_EQ(row.afternoon_do_mg_l->value, 9.1);
  EXPECT_EQ(row.afternoon_do_mg_l->at, afternoon.at);
  EXPECT_EQ(row.ph->value, 7.8);
  EXPECT_EQ(row.temperature_c->at, afternoon.at);
  EXPECT_FALSE(row.salinity);
  EXPECT_EQ(row.level_share, 0.5);
  EXPECT_EQ(row.oldest, clock("07:00", -2));
  // The latest day with both: yesterday, 9.1 - 4.0.
  EXPECT_EQ(row.swing_day, yesterday.day);
  EXPECT_NEAR(*row.do_swing_mg_l, 5.1, 1e-9);
}

TEST(Board, OfAPondOutOfScopeShowsNoReadings) {
  FarmPond pond = pond_with_secchi("a", 1, Stage::bloom, 50);
  pond.state.unsupported = true;
  const Farm farm = farm_test::farm_of({pond}, kNow);
  const Board board = board_of(farm, nullptr, farm_test::protocol(), kNow);
  EXPECT_FALSE(board.rows[0].secchi_cm);
  EXPECT_FALSE(board.rows[0].runs);
  EXPECT_EQ(board.not_running, 1U);
}

TEST(Board, NamesOfItsKeysReadBack) {
  for (const BoardKey key : {BoardKey::walk, BoardKey::decision, BoardKey::stage, BoardKey::secchi,
                             BoardKey::oldest, BoardKey::trouble}) {
    EXPECT_EQ(board_key_of(name_of(key)), key);
  }
  EXPECT_FALSE(board_key_of("colour"));
}

}  // namespace
}  // namespace tawny
