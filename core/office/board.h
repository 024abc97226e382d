// The board: every pond of the farm as one row, for the manager who looks at all of them at once.
//
// Made from what was already derived (farm, rounds) and kept until the farm is folded anew: it points into
// both. Rows stand in walking order. arrange() sorts and filters them; where a key does not tell two ponds
// apart, the walking order does, so the same entries always give the same board.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "farm/farm.h"
#include "farm/rounds.h"

namespace tawny {

struct BoardReading {
  double value = 0;
  Instant at;
  bool more_than = false;  // Secchi, seen on the bottom
};

// Where the Secchi depth stands against the band of the pond's stage.
struct SecchiAgainstBand {
  enum class Side { inside, above, below } side = Side::inside;  // above: clearer than the band
  double low_cm = 0, high_cm = 0;
  double off_cm = 0;  // how far outside; 0 inside. Seen on the bottom under the upper limit: unknown, `certain`
  bool certain = true;
};

struct BoardRow {
  const FarmPond* pond = nullptr;
  bool runs = false;                 // in a cycle that is not over, and of a kind that the tool serves
  const Criterion* holds = nullptr;  // the one that holds the gate; null: none does, or no gate
  std::optional<BoardReading> dawn_do_mg_l, afternoon_do_mg_l, ph, temperature_c, salinity, level_cm, secchi_cm;
  std::optional<double> level_share;  // of the full volume
  std::optional<SecchiAgainstBand> band;
  std::optional<CivilDay> swing_day;  // of the latest day with a swing
  std::optional<double> do_swing_mg_l, ph_swing;
  const Trouble* trouble = nullptr;  // the worst
  const DueItem* due = nullptr;      // what is due now, else what comes next today
  std::optional<double> dose_kg_ha;  // advised
  std::size_t questions = 0;         // open ones
  int need = 0;                      // how soon somebody must decide, see decision_need()
  bool needs_decision = false;
  std::optional<Instant> oldest;  // of the readings above
};

struct Board {
  std::vector<BoardRow> rows;              // in walking order
  std::array<std::size_t, 10> at_stage{};  // ponds that run, by stage number less one
  std::size_t not_running = 0;             // without a cycle, released and over, or lined
  std::size_t need_decision = 0;
};

bool is_due_now(const BoardRow& row);

// Lower needs somebody sooner: 0 alarm, 1 open question, 2 the gate waits for the manager or is held shut, 3
// trouble, 4 a dose is advised, 5 no cycle, 6 something to watch, 7 nothing, 8 out of scope.
int decision_need(const FarmPond& pond);
// The criterion that holds the pond's gate; null when none does.
const Criterion* holding(const FarmPond& pond);

// `rounds` may be null (where the sun neither rises nor sets).
Board board_of(const Farm& farm, const Rounds* rounds, const Protocol& standard, Instant now);

enum class BoardKey { walk, decision, stage, secchi, oldest, trouble };
std::string_view name_of(BoardKey key);
std::optional<BoardKey> board_key_of(std::string_view name);

struct BoardAsk {
  BoardKey key = BoardKey::walk;
  bool reversed = false;
  std::optional<Stage> stage;
  bool needs_decision = false, trouble = false, due_now = false;
  std::string name;  // part of the pond's name, whatever its letters' case (of the Latin letters a to z)
  bool operator==(const BoardAsk&) const = default;
};

// Numbers of the rows that are asked for, in the order that is asked for.
//   decision  what needs somebody soonest first
//   stage     the furthest back first; ponds that do not run last
//   secchi    farthest from the band first; without a reading or a band last
//   oldest    whose oldest last reading is oldest first; without any reading first of all
//   trouble   the most severe first
// Reversed turns what the key says, never the walking order of its ties; what has no value stays last.
std::vector<std::size_t> arrange(const Board& board, const BoardAsk& ask);

}  // namespace tawny
