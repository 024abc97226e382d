#include "ui/screens/bring_in.h"

#include <algorithm>
#include <utility>

#include "base/sort_stably.h"

namespace tawny::ui {
namespace {

constexpr std::size_t kMostProblems = 3;  // told one by one; the rest as a count
constexpr std::size_t kMostDevices = 8;

// "21 Nov – today", or the one day.
std::string days_of(const BundleDevice& device, UtcOffset offset, const Words& words) {
  if (!device.first_observed) return {};
  const CivilDay first = civil_day(*device.first_observed, offset);
  const CivilDay last = civil_day(*device.last_observed, offset);
  if (first == last) return words.day(last);
  return words.day(first) + " \u2013 " + words.day(last);
}

void draw_device(Ui& ui, const BundleDevice& device, UtcOffset offset) {
  const Words& words = ui.words();
  const std::string id = "incoming/device/" + device.device;
  ui.gap(8);
  ui.text(id, device.person.empty() ? words("person.unknown") : device.person, TextSize::body, Tone::ink, true);
  std::string facts =
      words(Message("import.device").with("fresh", bare(device.fresh)).with("count", bare(device.entries)));
  const std::string days = days_of(device, offset, words);
  if (!days.empty()) facts += " \u00b7 " + days;
  ui.text(id + "/facts", facts, TextSize::body, Tone::quiet);
}

// Those that bring something new first.
void draw_devices(Ui& ui, const BundlePreview& preview, UtcOffset offset) {
  std::vector<const BundleDevice*> devices;
  for (const BundleDevice& device : preview.devices) devices.push_back(&device);
  sort_stably(devices,
              [](const BundleDevice* a, const BundleDevice* b) { return (a->fresh > 0) > (b->fresh > 0); });
  const std::size_t shown = std::min(devices.size(), kMostDevices);
  for (std::size_t i = 0; i < shown; ++i) draw_device(ui, *devices[i], offset);
  if (devices.size() == shown) return;
  ui.gap(8);
  ui.text("incoming/devices/more",
          ui.words()(Message("import.devices_more").with("count", bare(devices.size() - shown))));
}

void draw_missing(Ui& ui, const BundlePreview& preview) {
  if (preview.missing.empty()) return;
  const Words& words = ui.words();
  ui.gap(8);
  ui.notice("incoming/incomplete", Tone::warn,
            words(Message("import.incomplete").with("count", bare(preview.missing_count()))));
  const std::size_t shown = std::min(preview.missing.size(), kMostProblems);
  for (std::size_t i = 0; i < shown; ++i) {
    ui.point("incoming/missing/" + std::to_string(i + 1), words(missing_message(preview.missing[i])));
  }
  if (preview.missing.size() == shown) return;
  ui.text("incoming/missing/more",
          words(Message("import.missing_more").with("count", bare(preview.missing.size() - shown))));
}

void draw_problems(Ui& ui, const Incoming& incoming) {
  const Words& words = ui.words();
  for (const Message& problem : incoming.preview().problems) {
    ui.gap(8);
    ui.notice("incoming/index/" + problem.id, Tone::warn, words(problem));
  }
  const LoadReport& report = incoming.report();
  std::size_t shown = 0;
  for (const LineProblem& problem : report.problems) {
    if (++shown > kMostProblems) break;
    ui.gap(8);
    ui.notice("incoming/problem/" + std::to_string(shown), Tone::warn,
              words(Message("import.line_problem")
                        .with("line", bare(problem.line))
                        .with("problem", Text{words(problem.message)})));
  }
  const std::size_t problems = report.problems.size() + report.problems_not_listed;
  if (problems > kMostProblems) {
    ui.text("incoming/more", words(Message("import.problems").with("count", bare(problems))));
  }
}

void draw_preview(App& app, Ui& ui, const Incoming& incoming) {
  const Words& words = ui.words();
  const BundlePreview& preview = incoming.preview();
  const LoadReport& report = incoming.report();
  if (preview.made) ui.fact("incoming/made", words("import.made"), words.time(*preview.made));
  if (incoming.takes_farm() && !preview.farm.empty()) {
    const std::string& name = preview.farm_name.empty() ? preview.farm : preview.farm_name;
    ui.notice("incoming/takes_farm", Tone::quiet, words(Message("import.takes_farm").with("farm", Text{name})));
  }
  ui.text("incoming/new", words(Message("import.new").with("count", bare(report.added))));
  if (report.already_there > 0) {
    ui.text("incoming/known", words(Message("import.known").with("count", bare(report.already_there))));
  }
  draw_devices(ui, preview, app.farm().place.offset);
  draw_missing(ui, preview);
  draw_problems(ui, incoming);
}

void draw_other_farm(App& app, Ui& ui, const Incoming& incoming) {
  const std::string id = incoming.other_farm().value_or("");
  std::string theirs = incoming.preview().farm_name;
  std::string ours = app.farm().name;
  if (theirs.empty()) theirs = id;
  if (ours.empty()) ours = app.logbook().farm();
  // One farm that was set up twice, on two phones, has one name and two ids.
  if (theirs == ours) {
    theirs += " (" + id + ")";
    ours += " (" + app.logbook().farm() + ")";
  }
  ui.notice("incoming/other_farm", Tone::warn,
            ui.words()(Message("import.other_farm").with("farm", Text{theirs}).with("own_farm", Text{ours})));
}

}  // namespace

void draw_incoming(App& app, Ui& ui, std::function<void()> then) {
  const Incoming* incoming = app.incoming();
  if (incoming == nullptr) return;
  const Words& words = ui.words();
  const bool is_read = incoming->is_read();
  const bool other_farm = incoming->other_farm().has_value();
  ui.gap(8);
  ui.begin_card("incoming/card");
  ui.text("incoming/file", incoming->name(), TextSize::body, Tone::ink, true);
  if (other_farm) {
    draw_other_farm(app, ui, *incoming);
  } else if (is_read) {
    draw_preview(app, ui, *incoming);
  } else {
    ui.progress("incoming/read", words("import.reading"), incoming->share());
  }
  ui.gap(8);
  const bool saving = app.news().state == SaveNews::State::saving;
  ui.begin_cells(2);
  const bool ended = is_read || other_farm;
  const bool dropped =
      ui.button("incoming/drop", words(ended ? "import.drop" : "import.stop"), ButtonKind::quiet, !saving);
  ui.next_cell();
  const bool may = is_read && incoming->report().added > 0 && !saving;
  const bool accepted = ui.button("incoming/accept", words("import.accept"), ButtonKind::primary, may);
  ui.end_cells();
  ui.end_card();
  if (dropped) app.drop_incoming();
  if (accepted) app.bring_in(std::move(then));
}

}  // namespace tawny::ui
