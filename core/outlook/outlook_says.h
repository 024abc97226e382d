// What a forecast says to people: its chances in classes, and one message for each thing that is said.
//
//   chance of being in the band    on the first day that reaches the best class of the five
//   risk                           of going under the floor, the highest of the five days
//   class                          bounds are data, "words.*" of assets/outlook.json, after the scale of
//                                  Mastrandrea et al. 2010 (guidance note of the IPCC on uncertainties)
//
// A chance is said in whole per cent, and never as 0 or 100: nothing to come is certain.
//
// What does not hold: a message says nothing of what the protocol allows; that is said beside it
// (protocol_message) and goes first.
#pragma once

#include "base/message.h"
#include "outlook/dawn_outlook.h"
#include "outlook/outlook.h"

namespace tawny {

enum class ChanceClass { unlikely, even, likely, very_likely };
ChanceClass class_of(double chance, const OutlookPriors& priors);
enum class RiskClass { small, some, high };
RiskClass risk_of(double chance, const OutlookPriors& priors);
// 1 .. 99 per cent.
Quantity chance_percent(double chance);

// The day of which band_message() speaks. A dose without days is a mistake of the caller.
const SecchiForecast& best_day(const DoseOutlook& dose, const OutlookPriors& priors);
// "Likely in the band on 28 Nov (72 %)."; where that is unlikely, on which side of it the water will be.
Message band_message(const DoseOutlook& dose, const OutlookRules& rules, const OutlookPriors& priors);
// "Small risk of going too dense, under 40 cm (3 %)."
Message risk_message(const DoseOutlook& dose, const OutlookRules& rules, const OutlookPriors& priors);
// One day: median, range and chance.
Message day_message(const SecchiForecast& day);

// Secchi on the last day with this dose, and without it.
Message effect_message(const DoseOutlook& dose, const DoseOutlook& without);
// The chance that the disc is in the band on that day without a dose; nothing without advice, or for a day that
// is not among those forecast.
std::optional<Message> booked_day_message(const Outlook& outlook, CivilDay day);

// What the protocol has to say to a dose now.
Message protocol_message(const DoseAdvice& advice);
// Of the doses that the protocol allows now the one with the best chances; nothing without advice, or where it
// allows none.
std::optional<Message> suggestion_message(const Outlook& outlook);
// Why there is no advice; nothing where there is. `readings`: days with a measured depth.
std::optional<Message> no_advice_message(const Outlook& outlook, std::size_t readings,
                                         const OutlookPriors& priors);
// The reading that would help most; nothing where none is known to.
std::optional<Message> helps_message(const Outlook& outlook);
// How good earlier forecasts were.
Message tally_message(const OutlookScore& score);

// Oxygen at the coming sunrise with its range; and the chance of its being under the floor.
Message dawn_message(const DawnOutlook& dawn);
Message dawn_risk_message(const DawnOutlook& dawn);
bool is_dawn_at_risk(const DawnOutlook& dawn, const OutlookPriors& priors);
// What the protocol has people do about a dawn that may be low.
std::vector<Message> dawn_checks(const DawnOutlook& dawn);

}  // namespace tawny
