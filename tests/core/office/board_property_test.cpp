#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <sstream>

#include "assets.h"
#include "core/farm/parts.h"
#include "farm/demo.h"
#include "office/board.h"

namespace tawny {
namespace {

const Instant kMorning{1795605000};  // 2026-11-25 06:10 at the demo farm

const std::vector<std::string>& lines() {
  static const std::vector<std::string> kLines = [] {
    std::vector<std::string> lines;
    DeviceChain chain{"demo", "device", 0, 0, std::string(64, '0')};
    const auto drafts = demo_drafts(assets::find("demo-farm.json"), farm_test::protocol(), kMorning);
    for (const Draft& draft : *drafts) {
      lines.push_back(seal(draft, kMorning, chain)->line);
    }
    return lines;
  }();
  return kLines;
}

std::string told(const std::vector<std::string>& entries) {
  Logbook logbook;
  for (const std::string& line : entries) logbook.add_line(line);
  const Farm farm = fold_farm(logbook, farm_test::protocol(), kMorning);
  const Result<Rounds> due = rounds(farm, farm_test::protocol(), kMorning);
  const Board board = board_of(farm, due ? &*due : nullptr, farm_test::protocol(), kMorning);
  std::ostringstream out;
  out << board.need_decision << ' ' << board.not_running << '\n';
  for (const BoardRow& row : board.rows) {
    out << row.pond->history.pond.name << row.runs << row.need << row.questions;
    for (const auto* reading : {&row.dawn_do_mg_l, &row.afternoon_do_mg_l, &row.ph, &row.temperature_c,
                                &row.salinity, &row.level_cm, &row.secchi_cm}) {
      if (*reading) out << ' ' << (*reading)->value << '@' << (*reading)->at.unix_s;
    }
    if (row.holds) out << row.holds->id;
    if (row.trouble) out << row.trouble->id;
    if (row.due) out << name_of(row.due->act) << name_of(row.due->state);
    out << row.dose_kg_ha.value_or(0) << row.do_swing_mg_l.value_or(0) << '\n';
  }
  for (const BoardKey key : {BoardKey::walk, BoardKey::decision, BoardKey::stage, BoardKey::secchi,
                             BoardKey::oldest, BoardKey::trouble}) {
    for (const bool reversed : {false, true}) {
      BoardAsk ask;
      ask.key = key;
      ask.reversed = reversed;
      for (const std::size_t row : arrange(board, ask)) out << row << ' ';
      out << '\n';
    }
  }
  return out.str();
}

RC_GTEST_PROP(BoardProperty, EntriesInAnyOrderGiveTheSameBoard, ()) {
  static const std::string kInOrder = told(lines());
  std::vector<std::string> shuffled = lines();
  for (std::size_t i = shuffled.size() - 1; i > 0; --i) {
    std::swap(shuffled[i], shuffled[*rc::gen::inRange<std::size_t>(0, i + 1)]);
  }
  RC_ASSERT(told(shuffled) == kInOrder);
}

// Whatever is asked for, each row comes at most once; filters only take rows away; without a filter all are
// there.
RC_GTEST_PROP(BoardProperty, ArrangingLosesAndDoublesNothing, ()) {
  Logbook logbook;
  for (const std::string& line : lines()) logbook.add_line(line);
  const Farm farm = fold_farm(logbook, farm_test::protocol(), kMorning);
  const Board board = board_of(farm, nullptr, farm_test::protocol(), kMorning);
  BoardAsk ask;
  ask.key = *rc::gen::element(BoardKey::walk, BoardKey::decision, BoardKey::stage, BoardKey::secchi,
                              BoardKey::oldest, BoardKey::trouble);
  ask.reversed = *rc::gen::arbitrary<bool>();
  std::vector<std::size_t> all = arrange(board, ask);
  std::sort(all.begin(), all.end());
  RC_ASSERT(all.size() == board.rows.size());
  RC_ASSERT(std::adjacent_find(all.begin(), all.end()) == all.end());
  ask.needs_decision = *rc::gen::arbitrary<bool>();
  ask.trouble = *rc::gen::arbitrary<bool>();
  if (*rc::gen::arbitrary<bool>()) ask.stage = static_cast<Stage>(*rc::gen::inRange(1, 11));
  std::vector<std::size_t> some = arrange(board, ask);
  std::sort(some.begin(), some.end());
  RC_ASSERT(std::includes(all.begin(), all.end(), some.begin(), some.end()));
}

}  // namespace
}  // namespace tawny
