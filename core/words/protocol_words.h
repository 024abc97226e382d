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
// What the protocol value at `path` is, where it stands alone: "Bloom, Secchi, at least".
std::string protocol_name(const Words& words, std::string_view path);
// "45 cm", "80 %", "05:15", "golden, golden brown".
std::string protocol_value(const Words& words, const ProtocolValue& value);
// One item of a text or a list: a colour, a product, what is read.
std::string protocol_item(const Words& words, std::string_view item);
// Its mark and its source, as sentences.
std::string protocol_source(const Words& words, const ProtocolValue& value);

}  // namespace tawny
