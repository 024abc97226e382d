// tawny export: a logbook or bundle as a table or as JSON lines.
#include "cli/command.h"
#include "cli/logbook_file.h"
#include "logbook/export.h"

namespace tawny::cli {

Outcome run_export(const Arguments& arguments, Outside& outside, const Words& words) {
  const bool well_formed = arguments.size() == 2 && (arguments[0] == "--csv" || arguments[0] == "--jsonl");
  if (!well_formed) return refused("export", "say --csv or --jsonl, then name one logbook");
  const Result<LogbookFile> file = read_logbook(arguments[1], outside);
  if (!file) return refused("export", words(file.error().message));
  Outcome outcome;
  outcome.out = arguments[0] == "--csv" ? to_csv(file->logbook) : file->logbook.to_lines();
  say_left_out("export", arguments[1], *file, words, outcome);
  return outcome;
}

}  // namespace tawny::cli
