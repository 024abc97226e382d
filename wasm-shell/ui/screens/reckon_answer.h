// What a calculator answers: its results as the table orders them, what to mind, and where it is from.
#pragma once

#include <string>

#include "reckon/reckon.h"
#include "ui/widgets.h"

namespace tawny::ui {

// "8.26 mg/L", "yes", "06:01:20".
std::string result_word(const Words& words, const ReckonResult& result, const ReckonValue& value);

void draw_reckon_answer(Ui& ui, const Reckoning& reckoning, const ReckonAnswer& answer);
void draw_reckon_source(Ui& ui, const Reckoning& reckoning);

}  // namespace tawny::ui
