// tawny merge: the union of logbooks of one farm, as a logbook.
#include "cli/command.h"
#include "cli/logbook_file.h"

namespace tawny::cli {

Outcome run_merge(const Arguments& arguments, Outside& outside, const Words& words) {
  if (arguments.empty()) return refused("merge", "name one logbook at least");
  Outcome outcome;
  Logbook all;
  for (const std::string& path : arguments) {
    const Result<LogbookFile> file = read_logbook(path, outside);
    if (!file) return refused("merge", words(file.error().message));
    if (!all.farm().empty() && file->logbook.farm() != all.farm()) {
      return refused("merge", path + " is of farm \"" + file->logbook.farm() +
                                  "\", those before it of farm \"" + all.farm() + "\"");
    }
    for (const LineProblem& problem : file->report.problems) {
      // Kept and passed on: nothing is lost by it.
      if (problem.outcome == AddOutcome::kept_unread || problem.outcome == AddOutcome::conflict) continue;
      outcome.exit_code = 1;
      outcome.err += "tawny merge: left out: " + path + ", " + worded(problem, words) + "\n";
    }
    if (file->report.problems_not_listed > 0) {
      outcome.exit_code = 1;
      outcome.err += "tawny merge: " + path + " has " + std::to_string(file->report.problems_not_listed) +
                     " more lines with something wrong\n";
    }
    all.merge(file->logbook);
  }
  outcome.out = all.to_lines();
  return outcome;
}

}  // namespace tawny::cli
