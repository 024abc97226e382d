// Changes logbook lines and seals them anew, so that an input is not stopped by a hash that no longer fits.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "fuzz/fuzz.h"

namespace tawny::fuzz {

// Texts that people and attackers type: markup, formulae, marks of direction, formats, names of folders.
const std::vector<std::string>& hostile_texts();

// `body` is everything before the hash.
std::string sealed_line(std::string_view body);
// One line, changed in its values, its head or its bytes; `others` lends values, kinds and references.
std::string changed_line(const std::string& line, const std::vector<std::string>& others, Dice& dice);

std::vector<std::string> lines_of(std::string_view text);
std::string joined(const std::vector<std::string>& lines, std::size_t limit_bytes);

// A logbook of sealed lines with one to four changes, of at most `limit_bytes`.
std::string changed_logbook(std::string_view text, std::size_t limit_bytes, unsigned seed);
// Lines of both.
std::string crossed(std::string_view one, std::string_view other, std::size_t limit_bytes, unsigned seed);

// For LLVMFuzzerCustomMutator and its like: `made` goes into `data`, as much as there is room for.
std::size_t put(const std::string& made, std::uint8_t* data, std::size_t limit_bytes);

}  // namespace tawny::fuzz

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t max_size);
