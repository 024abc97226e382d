// Stages, verdicts and the values of the protocol in words.
#pragma once

#include <string>
#include <string_view>

#include "protocol/assess.h"
#include "words/words.h"

namespace tawny {

std::string stage_word(const Words& words, Stage stage);  // "4 Second fill"
std::string verdict_word(const Words& words, Verdict verdict);
// What the protocol value at `path` limits: "Secchi, at least"; a path without words of its own is "Limit".
std::string limit_word(const Words& words, std::string_view path);
// "45 cm", "80 %", "golden, golden brown".
std::string protocol_value(const Words& words, const ProtocolValue& value);

}  // namespace tawny
