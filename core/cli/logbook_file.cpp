#include "cli/logbook_file.h"

#include <utility>

namespace tawny::cli {

Result<LogbookFile> read_logbook(const std::string& path, Outside& outside) {
  Result<std::string> text = outside.read(path);
  if (!text) return tl::unexpected<Problem>(text.error());
  LogbookFile file;
  file.report = file.logbook.load(*text);
  if (file.logbook.size() == 0) {
    return refuse(ProblemKind::malformed, "", Message("problem.no_logbook").with("file", Text{path}));
  }
  return file;
}

std::string worded(const LineProblem& problem, const Words& words) {
  return words(Message("import.line_problem")
                   .with("line", bare(problem.line))
                   .with("problem", Text{words(problem.message)}));
}

}  // namespace tawny::cli
