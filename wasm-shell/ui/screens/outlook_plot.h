// The fan of a pond's Secchi forecast as a plot, and the words that say the same.
#pragma once

#include <string>
#include <vector>

#include "ui/drawings/plot.h"
#include "ui/outlook_desk.h"

namespace tawny::ui {

// What was read in the last days, then range and middle of the days to come with that dose. `look` has a
// finished forecast.
Plot outlook_plot(const OutlookDesk::Look& look, const DoseOutlook& dose, UtcOffset offset, const Theme& theme,
                  const Words& words);
std::vector<PlotKey> outlook_keys(const OutlookDesk::Look& look, const Theme& theme, const Words& words);

// "No dose", "10 kg/ha".
std::string dose_word(const Words& words, const DoseOutlook& dose);
// What the picture shows, in sentences.
std::string outlook_summary(const OutlookDesk::Look& look, const DoseOutlook& dose, const Words& words);

}  // namespace tawny::ui
