// A cycle's record for file and audit: one HTML document that any browser shows and prints, and its table.
//
// Everything in it is derived from the logbook, as of the cycle's end or of `now`: what was read, which gates
// opened on what evidence, every dose and decision, what was corrected or taken back (both the old and the
// new), and how far each device's chain of entries is whole. The same logbook, question and words give the same
// bytes.
//
// The document runs no script and asks for nothing. Its body is one <main id="report">, styled by the classes
// of assets/report.css alone, so that a page which allows no style of its own can show that element with the
// sheet linked. The running head of printed pages stands in a rule of the document's own <style> and, for such
// a page, in the attribute data-running-head of that element.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "dose/product.h"
#include "farm/farm.h"
#include "words/words.h"

namespace tawny {

struct ReportAsk {
  std::string pond;      // id
  std::string cycle;     // label, of several the latest; empty: the running cycle, else the last
  std::string language;  // of `words`, its code in BCP 47
  std::optional<Instant> start = std::nullopt;  // of cycles that share a label, the one started then
};

// Refuses (missing) a pond that the farm does not have, a pond without any cycle, and a label (with a start,
// where one is asked for) that no cycle of it has.
Result<std::string> report_html(const Logbook& logbook, const Farm& farm, const ReportAsk& ask,
                                const Protocol& protocol, const std::vector<Product>& products,
                                const Words& words, std::string_view style_sheet, Instant now);

// The same entries as the record lists, as a table (logbook/export.h).
Result<std::string> report_csv(const Logbook& logbook, const Farm& farm, const ReportAsk& ask,
                               const Protocol& protocol, Instant now);

}  // namespace tawny
