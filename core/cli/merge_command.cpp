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
    const std::string& farm = file->logbook.farm();
    if (!all.farm().empty() && !farm.empty() && farm != all.farm()) {
      return refused("merge",
                     path + " is of farm \"" + farm + "\", those before it of farm \"" + all.farm() + "\"");
    }
    say_left_out("merge", path, *file, words, outcome);
    all.merge(file->logbook);
  }
  outcome.out = all.to_lines();
  return outcome;
}

}  // namespace tawny::cli
