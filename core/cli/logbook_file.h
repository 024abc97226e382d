// A logbook file, read for a command.
#pragma once

#include <string>

#include "cli/command.h"
#include "logbook/logbook.h"

namespace tawny::cli {

struct LogbookFile {
  Logbook logbook;
  LoadReport report;
};

// Refuses a file that cannot be read, and one in which no line is an entry (`missing`): it is no logbook.
Result<LogbookFile> read_logbook(const std::string& path, Outside& outside);

// The number of a line, and what is wrong with it.
std::string worded(const LineProblem& problem, const Words& words);

}  // namespace tawny::cli
