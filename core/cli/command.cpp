#include "cli/command.h"

#include "assets.h"
#include "base/visible.h"

namespace tawny::cli {
namespace {

constexpr std::string_view kUsage =
    "tawny reckon                       lists the reckonings with their keys, units and ranges\n"
    "tawny reckon NAME key=value ...    reckons one, and says from which source\n"
    "tawny assess LOGBOOK [--at INSTANT]\n"
    "                                   each pond's stage and criteria with their evidence, and the rounds "
    "due\n"
    "tawny outlook LOGBOOK --pond POND [--at INSTANT]\n"
    "                                   where the water of a pond is going: oxygen at the coming sunrise, the "
    "disc\n"
    "                                   in five days without a dose and with the least and the most allowed, "
    "and\n"
    "                                   how good such forecasts were. POND is its name or its id\n"
    "tawny check LOGBOOK                what is wrong in a logbook file\n"
    "tawny merge LOGBOOK ...            the union of logbooks of one farm\n"
    "tawny export --csv LOGBOOK         every entry as a table for a spreadsheet\n"
    "tawny export --jsonl LOGBOOK       every entry as a line of JSON\n"
    "tawny report LOGBOOK ... --pond POND [--cycle LABEL] [--started DAY] [--language CODE]\n"
    "             [--at INSTANT] [--csv FILE] [-o FILE]\n"
    "                                   a cycle's record for file and audit, as a page to print; beside it, "
    "in\n"
    "                                   FILE of --csv, its entries as a table. POND is its name or its id.\n"
    "                                   The running cycle, else the last, unless LABEL names another;\n"
    "                                   where cycles share a label, the latest or the one started on DAY\n"
    "tawny sync FOLDER LOGBOOK [--as NAME]\n"
    "                                   brings a logbook file and a depot up to each other; what is put lies\n"
    "                                   under NAME (office, unless told otherwise)\n"
    "\n"
    "LOGBOOK is a file taken out of the app, or - for the input stream. INSTANT is a time like\n"
    "2026-11-25T10:12:00Z; without one it is now. Answers are JSON (merge: a logbook; report: HTML).\n"
    "Exit code 2: not done, and one line says why; 1: done, but something was found (check) or left out\n"
    "(merge, export, report, sync); 0: done.\n";

}  // namespace

Outcome refused(std::string_view what, std::string_view line) {
  Outcome outcome;
  outcome.exit_code = 2;
  outcome.err = "tawny";
  if (!what.empty()) outcome.err.append(" ").append(what);
  outcome.err.append(": ").append(line).append("\n");
  return outcome;
}

namespace {

Outcome run_command(const std::vector<std::string>& arguments, Outside& outside) {
  Result<Words> words = Words::parse(assets::language("en"));
  if (!words) return refused("", "the words in this program cannot be read");
  if (arguments.empty()) return Outcome{2, "", std::string(kUsage)};
  const std::string& command = arguments.front();
  const Arguments rest(arguments.begin() + 1, arguments.end());
  if (command == "reckon") return run_reckon(rest, *words);
  if (command == "assess") return run_assess(rest, outside, *std::move(words));
  if (command == "check") return run_check(rest, outside, *std::move(words));
  if (command == "merge") return run_merge(rest, outside, *words);
  if (command == "export") return run_export(rest, outside, *words);
  if (command == "outlook") return run_outlook(rest, outside, *std::move(words));
  if (command == "report") return run_report(rest, outside, *words);
  if (command == "sync") return run_sync(rest, outside, *words);
  if (command == "help" || command == "--help" || command == "-h") return Outcome{0, std::string(kUsage), ""};
  return refused("", "there is no command \"" + command + "\"; tawny help lists them");
}

}  // namespace

Outcome run(const std::vector<std::string>& arguments, Outside& outside) {
  Outcome outcome = run_command(arguments, outside);
  // Names that steer a terminal, or turn the words around them, come out of logbooks too.
  outcome.err = visible(outcome.err);
  return outcome;
}

}  // namespace tawny::cli
