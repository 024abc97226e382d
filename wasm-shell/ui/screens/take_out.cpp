#include "ui/screens/take_out.h"

#include <algorithm>

#include "assets.h"
#include "logbook/bundle.h"
#include "logbook/export.h"
#include "office/side_by_side.h"
#include "report/report.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr std::size_t kMostFileLetters = 60;

// "Heron Bend" -> "heron-bend": only letters, digits and hyphens, so that every file system takes it.
std::string file_part(std::string_view name, std::string_view otherwise) {
  std::string part;
  for (const char c : name) {
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      part.push_back(c);
    } else if (c >= 'A' && c <= 'Z') {
      part.push_back(static_cast<char>(c - 'A' + 'a'));
    } else if (!part.empty() && part.back() != '-') {
      part.push_back('-');
    }
  }
  part.resize(std::min(part.size(), kMostFileLetters));
  while (!part.empty() && part.back() == '-') part.pop_back();
  return part.empty() ? std::string(otherwise) : part;
}

// "tawny-long-pond-dry-season", without an ending; with the day of its start where an other cycle of the pond
// has the label too.
std::string record_name(const App& app, std::string_view pond, std::string_view cycle, Instant start) {
  std::string name = "tawny-" + file_part(pond_name(app, pond), "pond") + "-" + file_part(cycle, "cycle");
  const std::vector<CycleName> all = cycle_names(app.logbook(), app.farm(), app.now());
  const auto same = [&](const CycleName& one) { return one.pond == pond && one.label == cycle; };
  if (std::count_if(all.begin(), all.end(), same) > 1) {
    name += "-" + to_iso(civil_day(start, app.farm().place.offset));
  }
  return name;
}

// "tawny-heron-bend-2026-11-25" and the ending.
std::string file_name(App& app, std::string_view ending) {
  const std::string day = to_iso(civil_day(app.now(), app.farm().place.offset));
  return "tawny-" + file_part(app.farm().name, "farm") + "-" + day + std::string(ending);
}

}  // namespace

void take_out_bundle(App& app) {
  app.with_signed_chain([&app] {
    const std::string name = file_name(app, ".txt");
    app.took_out(name);
    app.platform().share_file(name, write_bundle(app.logbook(), app.now(), app.boot().device));
  });
}

void take_out_table(App& app) { app.platform().share_file(file_name(app, ".csv"), to_csv(app.logbook())); }

void take_out_lines(App& app) {
  app.with_signed_chain(
      [&app] { app.platform().share_file(file_name(app, ".jsonl"), app.logbook().to_lines()); });
}

void take_out_report(App& app, std::string_view pond, std::string_view cycle, Instant start) {
  const ReportAsk ask{std::string(pond), std::string(cycle), app.language(), start};
  const auto html = report_html(app.logbook(), app.farm(), ask, app.protocol(), app.products(),
                                app.ui().words(), assets::find("report.css"), app.now());
  if (html) app.platform().show_report(record_name(app, pond, cycle, start) + ".html", *html);
}

void take_out_report_table(App& app, std::string_view pond, std::string_view cycle, Instant start) {
  const ReportAsk ask{std::string(pond), std::string(cycle), app.language(), start};
  const auto table = report_csv(app.logbook(), app.farm(), ask, app.protocol(), app.now());
  if (table) app.platform().share_file(record_name(app, pond, cycle, start) + ".csv", *table);
}

}  // namespace tawny::ui
