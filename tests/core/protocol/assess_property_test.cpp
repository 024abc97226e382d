#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::at;
using test::Story;

// A cycle in which anything may happen: readings in and out of their windows, doses, decisions, good and bad
// values.
Story any_story() {
  Story story = test::whole_cycle();
  const auto pick = [](std::initializer_list<const char*> of) {
    return std::string(*rc::gen::elementOf(std::vector<const char*>(of)));
  };
  const int dropped = *rc::gen::inRange(0, 8);
  for (int i = 0; i < dropped; ++i) {
    story.told.erase(story.told.begin() +
                     *rc::gen::inRange<std::ptrdiff_t>(1, static_cast<std::ptrdiff_t>(story.told.size())));
  }
  const int added = *rc::gen::inRange(0, 25);
  for (int i = 0; i < added; ++i) {
    const int day = *rc::gen::inRange(0, 14);
    const std::string hh_mm = pick({"05:50", "06:10", "08:30", "11:00", "12:30", "16:10", "17:30", "22:00"});
    switch (*rc::gen::inRange(0, 9)) {
      case 0:
        story.water(day, hh_mm, *rc::gen::inRange(0, 120) / 10.0, *rc::gen::inRange(70, 95) / 10.0);
        break;
      case 1:
        story.secchi(day, *rc::gen::inRange(20, 100), hh_mm);
        break;
      case 2:
        story.on_bottom(day, *rc::gen::inRange(20, 100), hh_mm);
        break;
      case 3:
        story.level(day, hh_mm, *rc::gen::inRange(0, 121));
        break;
      case 4:
        story.colour(day, pick({"clear", "golden", "light_green", "green", "dark_green", "red_brown"}), hh_mm);
        break;
      case 5:
        story.sky(day, pick({"bright", "mixed", "dull"}), hh_mm);
        break;
      case 6:
        story.dose(day, *rc::gen::inRange(1, 30), hh_mm, pick({"bright", "dull", ""}));
        break;
      case 7:
        story.decide(day, hh_mm, *rc::gen::inRange(1, 11), *rc::gen::arbitrary<bool>());
        break;
      default:
        story.tell(day, hh_mm, kind::kInletMoved, {{"position", pick({"open", "shut"})}});
        break;
    }
  }
  return story;
}

bool same_gate(const GateOpened& a, const GateOpened& b) {
  return a.stage == b.stage && a.at == b.at && a.by_hand == b.by_hand && a.reason == b.reason &&
         a.unmet_then.size() == b.unmet_then.size();
}

RC_GTEST_PROP(AssessProperty, LaterNowKeepsEveryGateThatHadOpened, ()) {
  Story story = any_story();
  const PondHistory history = story.history();
  const Instant early = at(*rc::gen::inRange(0, 14), "13:00");
  const Instant late = early.plus_min(*rc::gen::inRange(0, 30 * 24 * 60));
  const PondState then = assess(history, test::protocol(), test::place(), early);
  const PondState now = assess(history, test::protocol(), test::place(), late);
  RC_ASSERT(now.gates.size() >= then.gates.size());
  for (std::size_t i = 0; i < then.gates.size(); ++i) RC_ASSERT(same_gate(then.gates[i], now.gates[i]));
  // What opened up to then was told then.
  for (std::size_t i = then.gates.size(); i < now.gates.size(); ++i) RC_ASSERT(now.gates[i].at > early);
}

// Time alone opens a gate only at an instant that its criterion has told: at no moment does a gate stand shut
// with all it asks for.
RC_GTEST_PROP(AssessProperty, NoGateStandsShutWithAllItAsksFor, ()) {
  Story story = any_story();
  const Instant now = at(*rc::gen::inRange(0, 16), "00:00").plus_min(*rc::gen::inRange(0, 24 * 60));
  const PondState state = story.assess_at(now);
  RC_ASSERT(!state.in_cycle || state.finished || state.refused || state.holds.has_value());
}

RC_GTEST_PROP(AssessProperty, EntriesThatCameInLaterThanNowChangeNothing, ()) {
  Story whole = any_story();
  const int day = *rc::gen::inRange(0, 14);
  Story known = whole;
  known.told.erase(
      std::remove_if(known.told.begin(), known.told.end(),
                     [&](const test::Told& one) { return at(one.day, one.hh_mm) > at(day, "13:00"); }),
      known.told.end());
  const PondState a = whole.assess_at(day, "13:00");
  const PondState b = known.assess_at(day, "13:00");
  RC_ASSERT(a.stage == b.stage);
  RC_ASSERT(a.stage_since == b.stage_since);
  RC_ASSERT(a.gates.size() == b.gates.size());
  RC_ASSERT(a.troubles.size() == b.troubles.size());
  RC_ASSERT(a.dose.advised == b.dose.advised);
  RC_ASSERT(a.questions.size() == b.questions.size());
  RC_ASSERT(a.criteria.size() == b.criteria.size());
  for (std::size_t i = 0; i < a.criteria.size(); ++i) {
    RC_ASSERT(a.criteria[i].verdict == b.criteria[i].verdict);
    RC_ASSERT(a.criteria[i].why == b.criteria[i].why);
  }
}

RC_GTEST_PROP(AssessProperty, GatesOpenInOrderAndStageSinceIsTheLastOfThem, ()) {
  Story story = any_story();
  const PondState state = story.assess_at(14, "13:00");
  for (std::size_t i = 0; i < state.gates.size(); ++i) {
    RC_ASSERT(static_cast<std::size_t>(state.gates[i].stage) == i + 1);
    if (i > 0) RC_ASSERT(state.gates[i].at >= state.gates[i - 1].at);
  }
  RC_ASSERT(static_cast<std::size_t>(state.stage) == state.gates.size() + 1);
  const Instant since = state.gates.empty() ? at(0, "08:00") : state.gates.back().at;
  RC_ASSERT(state.stage_since == since);
}

// The replay jumps from event to event and asks the criterion first that failed last. Walking every minute of
// the days around each gate must not find an earlier opening.
RC_GTEST_PROP(AssessProperty, NoGateCouldHaveOpenedAMinuteEarlier, ()) {
  Story story = any_story();
  const PondHistory history = story.history();
  const PondState state = assess(history, test::protocol(), test::place(), at(14, "13:00"));
  for (const GateOpened& gate : state.gates) {
    const Instant before = gate.at.plus_s(-1);
    if (before < at(0, "08:00")) continue;
    const PondState then = assess(history, test::protocol(), test::place(), before);
    if (then.stage != gate.stage || then.refused) continue;
    RC_ASSERT(then.holds.has_value());
  }
}

RC_GTEST_PROP(AssessProperty, ADoseIsNeverAdvisedBeyondTheProtocolsRange, ()) {
  Story story = any_story();
  const PondState state = story.assess_at(*rc::gen::inRange(0, 14), "13:00");
  if (!state.dose.advised) return;
  RC_ASSERT(state.dose.allowed);
  RC_ASSERT(state.dose.rate_kg_ha >= *state.dose.least_kg_ha);
  RC_ASSERT(state.dose.rate_kg_ha <= *state.dose.most_kg_ha);
  for (const Trouble& trouble : state.troubles) RC_ASSERT(!trouble.forbids_dose);
}

}  // namespace
}  // namespace tawny
