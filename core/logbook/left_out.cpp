#include "logbook/left_out.h"

#include <algorithm>
#include <iterator>

#include "logbook/kinds.h"

namespace tawny {
namespace {

constexpr std::string_view kReadings[] = {kind::kWaterReading, kind::kLevelReading, kind::kSecchiReading,
                                          kind::kWaterColour,  kind::kWaterTest,    kind::kGrazerCount,
                                          kind::kBottomGrab,   kind::kPestLook,     kind::kMeterCheck};

}  // namespace

bool is_reading(std::string_view kind) {
  return std::find(std::begin(kReadings), std::end(kReadings), kind) != std::end(kReadings);
}

bool settles_reading(const Entry& entry) {
  if (entry.kind != kind::kQuestionSettled || entry.text("question") == nullptr) return false;
  const std::string* keep = entry.text("keep");
  return keep != nullptr && (*keep == "reading" || *keep == "none");
}

WordsOnReadings::WordsOnReadings(const std::vector<const Entry*>& effective) {
  for (const Entry* entry : effective) {
    if (entry->pond.empty() || !settles_reading(*entry)) continue;
    latest_[{entry->pond, *entry->text("question")}] = entry;
  }
}

const Entry* WordsOnReadings::on(const Entry& reading) const {
  if (latest_.empty() || reading.pond.empty() || !is_reading(reading.kind)) return nullptr;
  const auto found = latest_.find({reading.pond, to_reference(reading.id)});
  return found == latest_.end() ? nullptr : found->second;
}

const Entry* WordsOnReadings::leaving_out(const Entry& reading) const {
  const Entry* word = on(reading);
  return word != nullptr && *word->text("keep") == "none" ? word : nullptr;
}

}  // namespace tawny
