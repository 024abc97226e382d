// A walk through every screen of the app, for tests that look at each of them.
#pragma once

#include <functional>
#include <string>

#include "ui/app_bench.h"

namespace tawny::ui {

// Called on each screen that the walk comes to, with a name to tell where a fault is.
using Visit = std::function<void(const std::string& name)>;

// A demo farm that is open, at a time when a dose is advised somewhere.
void walk_all_screens(AppBench& bench, const Visit& visit);
// A phone on which nobody has set up anything.
void walk_first_run(AppBench& bench, const Visit& visit);

}  // namespace tawny::ui
