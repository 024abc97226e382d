// What the app knows of the inputs of the calculators: of the farm, its bin, today, and of the pond from whose
// page a calculator was opened. One table from key to value; a person sees each value, and changes or clears
// it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "reckon/reckon.h"
#include "ui/app.h"
#include "ui/screens/reckon_typed.h"

namespace tawny::ui {

struct KnownInput {
  std::string_view key;
  std::optional<ReckonGroup> group;  // where the key means this only among those calculators
  ReckonInputValue value;
  Message from;  // "from the set-up", "read 3 h ago"
};

// `pond` is empty away from a pond's page.
std::vector<KnownInput> known_inputs(const App& app, const std::string& pond);

// Null when it is not known.
const KnownInput* find_known(const std::vector<KnownInput>& known, std::string_view key, ReckonGroup group);

}  // namespace tawny::ui
