#include "cli/logbook_file.h"

#include <utility>

namespace tawny::cli {

Result<LogbookFile> read_logbook(const std::string& path, Outside& outside) {
  Result<std::string> text = outside.read(path);
  if (!text) return tl::unexpected<Problem>(text.error());
  LogbookFile file{read_bundle(*text), {}};
  if (file.logbook.size() == 0 && !file.preview.has_index) {
    return refuse(ProblemKind::malformed, "", Message("problem.no_logbook").with("file", Text{path}));
  }
  Verdicts verdicts;
  while (true) {
    const std::vector<SignatureCheck> checks = signatures_to_check(file.logbook, verdicts);
    if (checks.empty()) break;
    for (const SignatureCheck& check : checks) verdicts[check.hash] = outside.is_good(check);
  }
  file.trust = trust_of(file.logbook, verdicts, {});
  file.logbook.leave_out(file.trust.left_out_hashes());
  return file;
}

std::string worded(const LineProblem& problem, const Words& words) {
  return words(Message("import.line_problem")
                   .with("line", bare(problem.line))
                   .with("problem", Text{words(problem.message)}));
}

void say_left_out(std::string_view command, const std::string& path, const LogbookFile& file,
                  const Words& words, Outcome& outcome) {
  const auto say = [&](const std::string& what) {
    outcome.exit_code = 1;
    outcome.err.append("tawny ").append(command).append(": ").append(what).append("\n");
  };
  for (const LineProblem& problem : file.report.problems) {
    // Kept and passed on: nothing is lost by it.
    if (problem.outcome == AddOutcome::kept_unread || problem.outcome == AddOutcome::conflict) continue;
    say("left out: " + path + ", " + worded(problem, words));
  }
  if (file.report.problems_not_listed > 0) {
    say(path + " has " + std::to_string(file.report.problems_not_listed) + " more lines with something wrong");
  }
  for (const Message& problem : file.preview.problems) say(path + ": " + words(problem));
  for (const NumberSpan& missing : file.preview.missing) say(path + ": " + words(missing_message(missing)));
}

}  // namespace tawny::cli
