// What the protocol says about a dose on the coming morning, and which recorded doses may be one and the same.
#pragma once

#include <vector>

#include "protocol/look.h"

namespace tawny {

// `troubles` as of the same instant. `finished`: the early cycle is over.
DoseAdvice advise_dose(const Look& look, const std::vector<Trouble>& troubles, bool finished);

// Questions "double_dose": doses of one product on one pond, closer together than dose.double_within_h, that
// nobody has settled yet. The evidence holds the earlier and the later one; "question" of a question_settled
// names the later one.
std::vector<Question> double_doses(const Look& look);

// kg/ha for water that is clearer than the band, by the steps of the protocol.
double rate_for_secchi_kg_ha(const Protocol& protocol, double secchi_cm);

}  // namespace tawny
