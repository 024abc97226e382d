#include "protocol/gate_record.h"

#include <utility>

#include "protocol/criteria.h"
#include "protocol/protocol_times.h"

namespace tawny {

std::vector<Criterion> judge_all(Look look) {
  look.others_met = true;
  std::vector<Criterion> criteria;
  for (const CriterionFunction function : criteria_of(look.stage)) {
    criteria.push_back(function(look));
    look.others_met = look.others_met && criteria.back().verdict == Verdict::met;
  }
  return criteria;
}

std::vector<std::vector<Criterion>> criteria_at_gates(const PondHistory& history, const Protocol& protocol,
                                                      const FarmPlace& place,
                                                      const std::vector<GateOpened>& gates) {
  const ProtocolTimes times(protocol, history.protocol_changes);
  const Usable usable(history, times, place);
  std::vector<std::vector<Criterion>> all;
  Instant since = history.cycle_start;
  for (const GateOpened& gate : gates) {
    const Look look{history,    usable, times.at(gate.at), place, gate.at, civil_day(gate.at, place.offset),
                    gate.stage, since};
    all.push_back(judge_all(look));
    since = gate.at;
  }
  return all;
}

}  // namespace tawny
