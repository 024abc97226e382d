// The logbook for other programs: a table that a spreadsheet opens. (Its own lines, Logbook::to_lines(), are
// JSON lines already and hold everything.)
//
// Format: RFC 4180, UTF-8. It begins with a byte order mark, because a spreadsheet takes a table without one
// for its country's old 8-bit code and spoils every accent; readers of UTF-8 pass over it. FORMAT.md lists the
// columns.
//
// Safety: a spreadsheet runs a cell that begins with = + - @ as a formula, whoever wrote it. A text that begins
// with one of these, with their full-width forms, a tab, a carriage return or a line feed gets an apostrophe in
// front (OWASP, "CSV Injection"); so does one that begins with an apostrophe, so that whoever takes one away
// has the text again. Numbers are written by this program alone and stay numbers, negative ones too. What does
// not hold: once a person edits and saves the table in a spreadsheet, the apostrophe may be gone.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.h"

namespace tawny {

// One row an entry, in order of observation, those of a newer format last. The columns are the same for every
// logbook.
std::string to_csv(const Logbook& logbook);
// The same table of `entries` only, in their order; they are of `logbook`.
std::string to_csv(const Logbook& logbook, const std::vector<const Entry*>& entries);

}  // namespace tawny
