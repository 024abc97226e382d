// A logbook file, read for a command.
#pragma once

#include <string>

#include "cli/command.h"
#include "logbook/bundle.h"

namespace tawny::cli {

// With whom it believes; what does not count is left out of the logbook (Logbook::leave_out).
struct LogbookFile : BundleContent {
  Trust trust;
};

// A logbook or a bundle. Refuses a file that cannot be read, and one that holds no entry and no sound index of
// a bundle (malformed): it is no logbook.
Result<LogbookFile> read_logbook(const std::string& path, Outside& outside);

// The number of a line, and what is wrong with it.
std::string worded(const LineProblem& problem, const Words& words);

// Says on the error stream which lines of the file were left out and which entries it lacks; the exit code is
// then 1.
void say_left_out(std::string_view command, const std::string& path, const LogbookFile& file,
                  const Words& words, Outcome& outcome);

}  // namespace tawny::cli
