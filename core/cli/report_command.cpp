// tawny report: a cycle's record for file and audit, as a page to print, and its entries as a table beside it.
#include <map>
#include <optional>

#include "assets.h"
#include "cli/command.h"
#include "cli/logbook_file.h"
#include "cli/pond_asked.h"
#include "office/side_by_side.h"
#include "report/report.h"

namespace tawny::cli {
namespace {

struct Line {
  std::vector<std::string> logbooks;
  std::map<std::string, std::string> options;

  std::optional<std::string> option(const std::string& name) const {
    const auto found = options.find(name);
    return found == options.end() ? std::nullopt : std::optional(found->second);
  }
};

// The error is the line to say.
tl::expected<Line, std::string> read_line(const Arguments& arguments) {
  Line line;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& argument = arguments[i];
    const bool option = argument == "--pond" || argument == "--cycle" || argument == "--started" ||
                        argument == "--language" || argument == "--at" || argument == "--csv" ||
                        argument == "-o";
    if (!option && argument.size() > 1 && argument.front() == '-') {
      return tl::unexpected<std::string>("there is no option " + argument + "; tawny help lists them");
    }
    if (!option) {
      line.logbooks.push_back(argument);
    } else if (i + 1 == arguments.size() || !line.options.emplace(argument, arguments[i + 1]).second) {
      return tl::unexpected<std::string>(argument + " takes one value, once");
    } else {
      ++i;
    }
  }
  if (line.logbooks.empty()) return tl::unexpected<std::string>("name one logbook at least");
  if (!line.option("--pond")) return tl::unexpected<std::string>("say which pond: --pond, its name or its id");
  return line;
}

// A label may be used again: what is asked for by label and start names one cycle, or it is said which there
// are. Without a start the latest of a label is meant, and that there are others is said.
struct CycleAsked {
  std::optional<Instant> start;
  std::string note;
};
tl::expected<CycleAsked, std::string> cycle_asked(const Line& line, const Logbook& logbook, const Farm& farm,
                                                  const std::string& pond, Instant now) {
  const auto label = line.option("--cycle");
  const auto started = line.option("--started");
  const Result<CivilDay> day = parse_civil_day(started.value_or(""));
  const Result<Instant> instant = parse_instant(started.value_or(""));
  if (started && !day && !instant) {
    return tl::unexpected<std::string>("--started takes a day (2026-05-01) or an instant, not \"" + *started +
                                       "\"");
  }
  std::vector<CycleName> labelled, found;
  std::string starts;
  for (const CycleName& one : cycle_names(logbook, farm, now)) {
    if (one.pond != pond || (label && one.label != *label)) continue;
    labelled.push_back(one);
    starts += (starts.empty() ? "" : ", ") + to_iso(one.start);
    if (!started || (instant ? one.start == *instant : civil_day(one.start, farm.place.offset) == *day)) {
      found.push_back(one);
    }
  }
  if (labelled.empty()) return CycleAsked();
  if (started && found.size() != 1) {
    return tl::unexpected<std::string>(
        (found.empty() ? "no such cycle was started " : "more than one such cycle was started ") + *started +
        "; these were: " + starts);
  }
  CycleAsked asked{found.front().start, {}};
  if (label && !started && found.size() > 1) {
    asked.note = "tawny report: " + std::to_string(found.size()) + " cycles are called \"" + *label +
                 "\", started " + starts + "; this is the latest, --started names another\n";
  }
  return asked;
}

}  // namespace

Outcome run_report(const Arguments& arguments, Outside& outside, const Words& words) {
  const auto line = read_line(arguments);
  if (!line) return refused("report", line.error());
  Instant now = outside.now();
  if (const auto at = line->option("--at")) {
    const Result<Instant> instant = parse_instant(*at);
    if (!instant) return refused("report --at", words(instant.error().message));
    now = *instant;
  }
  const std::string language = line->option("--language").value_or("en");
  const Result<Words> spoken = Words::parse(assets::language(language));
  if (!spoken) return refused("report --language", "there are no words in \"" + language + "\"");
  const Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"));
  if (!protocol) return refused("report", words(protocol.error().message));
  const Result<std::vector<Product>> products = parse_products(assets::find("products.json"));
  if (!products) return refused("report", words(products.error().message));

  Outcome outcome;
  Logbook logbook;
  for (const std::string& path : line->logbooks) {
    const Result<LogbookFile> file = read_logbook(path, outside);
    if (!file) return refused("report", words(file.error().message));
    const std::string& farm = file->logbook.farm();
    if (!logbook.farm().empty() && !farm.empty() && farm != logbook.farm()) {
      return refused("report",
                     path + " is of farm \"" + farm + "\", those before it of farm \"" + logbook.farm() + "\"");
    }
    say_left_out("report", path, *file, words, outcome);
    logbook.merge(file->logbook);
  }

  const Farm farm = fold_farm(logbook, *protocol, now);
  const auto pond = pond_id(farm, *line->option("--pond"));
  if (!pond) return refused("report", pond.error());
  const auto cycle = cycle_asked(*line, logbook, farm, *pond, now);
  if (!cycle) return refused("report", cycle.error());
  outcome.err += cycle->note;
  const ReportAsk ask{*pond, line->option("--cycle").value_or(""), language, cycle->start};
  Result<std::string> html =
      report_html(logbook, farm, ask, *protocol, *products, *spoken, assets::find("report.css"), now);
  if (!html) return refused("report", words(html.error().message));
  const auto write = [&](const std::string& path, const std::string& bytes) {
    const auto put = outside.put(path, bytes);
    return put.has_value() ? std::optional<Outcome>() : refused("report", path + " could not be written");
  };
  if (const auto path = line->option("--csv")) {
    const Result<std::string> table = report_csv(logbook, farm, ask, *protocol, now);
    if (!table) return refused("report", words(table.error().message));
    if (const auto failed = write(*path, *table)) return *failed;
  }
  if (const auto path = line->option("-o"); path && *path != "-") {
    if (const auto failed = write(*path, *html)) return *failed;
  } else {
    outcome.out = *std::move(html);
  }
  return outcome;
}

}  // namespace tawny::cli
