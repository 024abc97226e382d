// Two assessments as texts that are equal when nothing that a person could see of them differs.
#pragma once

#include <sstream>
#include <string>
#include <string_view>

#include "core/protocol/story.h"

namespace tawny::test {

inline void tell(std::ostringstream& out, const Message& message) {
  out << message.id;
  for (const auto& [name, value] : message.values) {
    out << ' ' << name << '=';
    if (const auto* quantity = std::get_if<Quantity>(&value)) out << quantity->value << quantity->unit;
    if (const auto* word = std::get_if<Word>(&value)) out << word->id;
    if (const auto* text = std::get_if<Text>(&value)) out << text->text;
    if (const auto* instant = std::get_if<Instant>(&value)) out << to_iso(*instant);
    if (const auto* day = std::get_if<CivilDay>(&value)) out << to_iso(*day);
  }
  out << '\n';
}

inline void tell(std::ostringstream& out, const std::vector<EntryId>& ids) {
  for (const EntryId& id : ids) out << ' ' << to_reference(id);
  out << '\n';
}

inline void tell(std::ostringstream& out, const std::optional<double>& value) {
  if (value) out << *value;
  out << ';';
}

inline std::string told_of(const PondState& state) {
  std::ostringstream out;
  out << state.in_cycle << state.finished << ' ' << name_of(state.stage) << ' ' << to_iso(state.stage_since)
      << ' ' << state.holds.value_or("-") << state.refused << '\n';
  for (const Criterion& one : state.criteria) {
    out << one.id << ' ' << static_cast<int>(one.verdict) << ' ';
    tell(out, one.why);
    tell(out, one.evidence);
  }
  for (const GateOpened& one : state.gates) {
    out << name_of(one.stage) << ' ' << to_iso(one.at) << one.by_hand << one.unmet_then.size() << '\n';
  }
  for (const Trouble& one : state.troubles) {
    out << one.id << static_cast<int>(one.severity) << one.forbids_dose << ' ';
    tell(out, one.what);
    tell(out, one.evidence);
  }
  out << state.dose.advised << state.dose.allowed << state.dose.rate_kg_ha << '\n';
  for (const Message& one : state.dose.why) tell(out, one);
  for (const Message& one : state.dose.warnings) tell(out, one);
  for (const Question& one : state.questions) {
    tell(out, one.what);
    tell(out, one.asks);
  }
  for (const SecchiDay& one : state.secchi_days) {
    out << to_iso(one.day) << ' ' << one.secchi_cm << one.more_than << one.asks_for_another;
    tell(out, one.evidence);
  }
  for (const DayPair& one : state.day_pairs) {
    out << to_iso(one.day) << ' ';
    for (const auto& value : {one.dawn_do_mg_l, one.afternoon_do_mg_l, one.dawn_ph, one.afternoon_ph}) {
      tell(out, value);
    }
    tell(out, one.evidence);
  }
  tell(out, state.level_cm);
  tell(out, state.level_share);
  out << (state.colour ? name_of(*state.colour) : "-") << state.open_walk.has_value() << '\n';
  return out.str();
}

// The manager's word on the entry of that number (the first told is 1).
inline void word_on(Story& story, std::uint32_t number, std::string keep, int day, std::string hh_mm,
                    std::string pond = "p1") {
  story.tell(day, std::move(hh_mm), kind::kQuestionSettled,
             {{"question", to_reference(EntryId{"phone", number, std::string(64, 'a')})},
              {"keep", std::move(keep)},
              {"reason", std::string("looked at it")}},
             std::move(pond));
}

// In place of what was told stands a note, so that the others keep their numbers.
inline void silence(Story& story, std::uint32_t number) {
  Told& one = story.told[number - 1];
  one.kind = kind::kNote;
  one.values = {{"text", std::string("taken back")}};
}

}  // namespace tawny::test
