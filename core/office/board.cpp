#include "office/board.h"

#include <algorithm>
#include <map>
#include <utility>

#include "base/sort_stably.h"
#include "protocol/look.h"
#include "protocol/protocol_times.h"

namespace tawny {
namespace {

constexpr std::pair<BoardKey, std::string_view> kKeys[] = {
    {BoardKey::walk, "walk"},     {BoardKey::decision, "decision"}, {BoardKey::stage, "stage"},
    {BoardKey::secchi, "secchi"}, {BoardKey::oldest, "oldest"},     {BoardKey::trouble, "trouble"}};

// The latest value of a water reading, no later than `now`.
std::optional<BoardReading> last_water(const PondHistory& history, std::optional<double> WaterReading::*value,
                                       Instant now) {
  for (auto at = history.water.rbegin(); at != history.water.rend(); ++at) {
    if (at->at <= now && (*at).*value) return BoardReading{*((*at).*value), at->at};
  }
  return std::nullopt;
}

// When the day's value was read: the pair tells the value and its entries only.
std::optional<BoardReading> of_pair(const PondHistory& history, const DayPair& pair, double value) {
  for (auto at = history.water.rbegin(); at != history.water.rend(); ++at) {
    if (!at->do_mg_l || *at->do_mg_l != value) continue;
    if (std::find(pair.evidence.begin(), pair.evidence.end(), at->entry->id) == pair.evidence.end()) continue;
    return BoardReading{value, at->at};
  }
  return std::nullopt;
}

std::optional<BoardReading> last_of_day(const FarmPond& pond, std::optional<double> DayPair::*value) {
  const std::vector<DayPair>& days = pond.state.day_pairs;
  for (auto day = days.rbegin(); day != days.rend(); ++day) {
    if ((*day).*value) return of_pair(pond.history, *day, *((*day).*value));
  }
  return std::nullopt;
}

std::optional<BoardReading> last_secchi(const FarmPond& pond) {
  if (pond.state.secchi_days.empty()) return std::nullopt;
  const SecchiDay& day = pond.state.secchi_days.back();
  const std::vector<SecchiPair>& pairs = pond.history.secchi;
  for (auto at = pairs.rbegin(); at != pairs.rend(); ++at) {
    if (std::find(day.evidence.begin(), day.evidence.end(), at->entry->id) == day.evidence.end()) continue;
    return BoardReading{day.secchi_cm, at->at, day.more_than};
  }
  return std::nullopt;
}

SecchiAgainstBand against(const BoardReading& secchi, const SecchiLimits& band) {
  SecchiAgainstBand where;
  where.low_cm = band.low_cm;
  where.high_cm = band.high_cm;
  if (secchi.value > band.high_cm) {
    where.side = SecchiAgainstBand::Side::above;
    where.off_cm = secchi.value - band.high_cm;
  } else if (secchi.more_than) {
    where.certain = false;  // it may be inside, or clearer
  } else if (secchi.value < band.low_cm) {
    where.side = SecchiAgainstBand::Side::below;
    where.off_cm = band.low_cm - secchi.value;
  }
  return where;
}

void read_swing(const PondState& state, BoardRow& row) {
  for (auto day = state.day_pairs.rbegin(); day != state.day_pairs.rend(); ++day) {
    if (!day->do_swing_mg_l() && !day->ph_swing()) continue;
    row.swing_day = day->day;
    row.do_swing_mg_l = day->do_swing_mg_l();
    row.ph_swing = day->ph_swing();
    return;
  }
}

void read_readings(const FarmPond& pond, const Protocol& standard, Instant now, BoardRow& row) {
  row.dawn_do_mg_l = last_of_day(pond, &DayPair::dawn_do_mg_l);
  row.afternoon_do_mg_l = last_of_day(pond, &DayPair::afternoon_do_mg_l);
  row.ph = last_water(pond.history, &WaterReading::ph, now);
  row.temperature_c = last_water(pond.history, &WaterReading::temperature_c, now);
  row.salinity = last_water(pond.history, &WaterReading::salinity, now);
  row.secchi_cm = last_secchi(pond);
  if (const LevelReading* level = last_of(pond.history.levels, now)) {
    row.level_cm = BoardReading{level->level_cm, level->at};
    row.level_share = pond.state.level_share;
  }
  const ProtocolTimes times(standard, pond.history.protocol_changes);
  const auto band = secchi_limits(times.at(now), pond.state.stage);
  if (row.secchi_cm && band) row.band = against(*row.secchi_cm, *band);
  read_swing(pond.state, row);
  for (const auto* reading : {&row.dawn_do_mg_l, &row.afternoon_do_mg_l, &row.ph, &row.temperature_c,
                              &row.salinity, &row.secchi_cm, &row.level_cm}) {
    if (*reading && (!row.oldest || (*reading)->at < *row.oldest)) row.oldest = (*reading)->at;
  }
}

char lower(char letter) {
  return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
}

bool holds_text(const std::string& text, const std::string& part) {
  return std::search(text.begin(), text.end(), part.begin(), part.end(),
                     [](char a, char b) { return lower(a) == lower(b); }) != text.end();
}

bool is_asked_for(const BoardRow& row, const BoardAsk& ask) {
  if (ask.stage && (!row.runs || row.pond->state.stage != *ask.stage)) return false;
  if (ask.needs_decision && !row.needs_decision) return false;
  if (ask.trouble && row.trouble == nullptr) return false;
  if (ask.due_now && !is_due_now(row)) return false;
  return ask.name.empty() || holds_text(row.pond->history.pond.name, ask.name);
}

// What a row is sorted by, the smaller first; nothing: it comes last.
std::optional<double> sort_value(const BoardRow& row, BoardKey key, std::size_t walk) {
  switch (key) {
    case BoardKey::walk:
      return static_cast<double>(walk);
    case BoardKey::decision:
      return row.need;
    case BoardKey::stage:
      return row.runs ? std::optional(static_cast<double>(row.pond->state.stage)) : std::nullopt;
    case BoardKey::secchi:
      return row.band && row.band->certain ? std::optional(-row.band->off_cm) : std::nullopt;
    case BoardKey::oldest:
      if (!row.runs) return std::nullopt;
      return row.oldest ? static_cast<double>(row.oldest->unix_s) : -1e18;
    case BoardKey::trouble:
      break;
  }
  return row.trouble != nullptr ? std::optional(-static_cast<double>(row.trouble->severity)) : std::nullopt;
}

}  // namespace

std::string_view name_of(BoardKey key) {
  for (const auto& [value, name] : kKeys) {
    if (value == key) return name;
  }
  return {};
}

std::optional<BoardKey> board_key_of(std::string_view name) {
  for (const auto& [value, text] : kKeys) {
    if (text == name) return value;
  }
  return std::nullopt;
}

const Criterion* holding(const FarmPond& pond) {
  if (!pond.state.holds) return nullptr;
  for (const Criterion& criterion : pond.state.criteria) {
    if (criterion.id == *pond.state.holds) return &criterion;
  }
  return nullptr;
}

bool is_due_now(const BoardRow& row) {
  return row.due != nullptr && (row.due->state == DueState::now || row.due->state == DueState::overdue);
}

int decision_need(const FarmPond& pond) {
  const PondState& state = pond.state;
  if (!state.troubles.empty() && state.troubles.front().severity == Trouble::Severity::alarm) return 0;
  if (!state.questions.empty()) return 1;
  const Criterion* holds = holding(pond);
  const bool for_manager =
      holds != nullptr && (holds->settles == Act::sign_release || holds->settles == Act::decide_gate);
  if (for_manager || state.refused) return 2;
  if (!state.troubles.empty() && state.troubles.front().severity == Trouble::Severity::warn) return 3;
  if (state.dose.advised) return 4;
  if (!state.in_cycle && !state.unsupported) return 5;
  if (!state.troubles.empty()) return 6;
  return state.unsupported ? 8 : 7;
}

Board board_of(const Farm& farm, const Rounds* rounds, const Protocol& standard, Instant now) {
  constexpr int kNeedsDecision = 2;
  Board board;
  std::map<std::string_view, const DueItem*> due;
  if (rounds != nullptr) {
    // Now and overdue stand before later; what was missed or done is nothing to come.
    for (const DueItem& item : rounds->items) {
      if (item.state == DueState::missed || item.state == DueState::done) continue;
      due.try_emplace(item.pond, &item);
    }
  }
  for (const FarmPond& pond : farm.ponds) {
    BoardRow row;
    row.pond = &pond;
    const PondState& state = pond.state;
    row.runs = state.in_cycle && !state.finished && !state.unsupported;
    if (state.in_cycle && !state.unsupported) read_readings(pond, standard, now, row);
    row.holds = state.finished ? nullptr : holding(pond);
    if (!state.troubles.empty()) row.trouble = &state.troubles.front();
    if (state.dose.advised) row.dose_kg_ha = state.dose.rate_kg_ha;
    row.questions = state.questions.size();
    row.need = decision_need(pond);
    row.needs_decision = row.need <= kNeedsDecision;
    if (const auto found = due.find(pond.history.pond.id); found != due.end()) row.due = found->second;
    if (row.runs) {
      ++board.at_stage[static_cast<std::size_t>(state.stage) - 1];
    } else {
      ++board.not_running;
    }
    if (row.needs_decision) ++board.need_decision;
    board.rows.push_back(std::move(row));
  }
  return board;
}

std::vector<std::size_t> arrange(const Board& board, const BoardAsk& ask) {
  std::vector<std::pair<std::optional<double>, std::size_t>> rows;
  for (std::size_t i = 0; i < board.rows.size(); ++i) {
    if (!is_asked_for(board.rows[i], ask)) continue;
    std::optional<double> value = sort_value(board.rows[i], ask.key, i);
    if (value && ask.reversed) value = -*value;
    rows.emplace_back(value, i);
  }
  sort_stably(rows, [](const auto& a, const auto& b) {
    if (a.first && b.first) return *a.first < *b.first;
    return a.first.has_value() && !b.first.has_value();
  });
  std::vector<std::size_t> order;
  for (const auto& [value, row] : rows) order.push_back(row);
  return order;
}

}  // namespace tawny
