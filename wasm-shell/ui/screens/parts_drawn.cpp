#include "protocol/protocol_times.h"
#include "ui/screens/parts.h"
#include "ui/screens/store_news.h"

namespace tawny::ui {
namespace {

bool ends_with(std::string_view text, std::string_view tail) {
  return text.size() >= tail.size() && text.substr(text.size() - tail.size()) == tail;
}

// The gauge readings of the shares that a gate's level criterion rests on.
void add_coming_level(WaterColumn& column, const FarmPond& pond, const Protocol& protocol) {
  if (!pond.history.pond.curve) return;
  for (const Criterion& criterion : pond.state.criteria) {
    if (!ends_with(criterion.id, ".level")) continue;
    for (const std::string& path : criterion.paths) {
      const ProtocolValue* found = protocol.find(path);
      const double* share = found == nullptr ? nullptr : std::get_if<double>(&found->value);
      if (share == nullptr) continue;
      const bool low = ends_with(path, "low_share") || ends_with(path, "level_share");
      const bool high = ends_with(path, "high_share");
      if (!low && !high) continue;
      const Result<double> level = pond.history.pond.curve->level_cm_for_share(*share);
      if (!level) continue;
      (low ? column.coming_low_cm : column.coming_high_cm) = *level;
    }
  }
  // A gate with a floor only ("at least 90 %") is shown up to the full level.
  if (column.coming_low_cm && !column.coming_high_cm) column.coming_high_cm = column.full_cm;
}

}  // namespace

WaterColumn water_column_of(const App& app, const FarmPond& pond) {
  const ProtocolTimes times(app.protocol(), pond.history.protocol_changes);
  const Protocol& protocol = times.at(app.now());
  WaterColumn column;
  const Pond& built = pond.history.pond;
  if (built.curve) {
    column.lowest_cm = built.curve->lowest_level_cm();
    column.full_cm = built.curve->full_level_cm();
  }
  if (built.bank_slope > 0) column.bank_slope = built.bank_slope;
  column.level_cm = pond.state.level_cm;
  column.colour = pond.state.colour;
  add_coming_level(column, pond, protocol);
  if (!pond.history.secchi.empty()) {
    const SecchiPair& pair = pond.history.secchi.back();
    column.secchi_on_bottom = pair.seen_on_bottom;
    if (pair.vanish_cm && pair.return_cm) {
      column.secchi_cm = (*pair.vanish_cm + *pair.return_cm) / 2;
    } else if (pair.depth_at_disc_cm) {
      column.secchi_cm = pair.depth_at_disc_cm;
    }
    column.band_low_cm = protocol.number("stage.bloom.secchi_low_cm");
    column.band_high_cm = protocol.number("stage.bloom.secchi_high_cm");
  }
  return column;
}

std::string water_column_name(const Words& words, const FarmPond& pond) {
  std::string name = words(Message("screen.column.name").with("pond", Text{pond.history.pond.name}));
  if (pond.state.level_cm) {
    name += " ";
    name += words(Message("screen.column.level").with("level", Quantity{*pond.state.level_cm, 0, "cm"}));
  }
  if (pond.state.colour) {
    name += " ";
    name += words(Message("screen.column.colour")
                      .with("colour", Word{"colour." + std::string(name_of(*pond.state.colour))}));
  }
  const std::string secchi = secchi_line(words, pond);
  if (!secchi.empty()) {
    name += " ";
    name += words(Message("screen.column.secchi").with("secchi", Text{secchi}));
  }
  return name;
}

void draw_app_notices(App& app, Ui& ui) {
  const Words& words = ui.words();
  if (app.alarm()) {
    ui.notice("notice/alarm", Tone::alarm, words(app.alarm()->message));
    ui.gap();
    if (ui.button("notice/to_office", words("screen.to_office"))) app.open_tab(Tab::office);
    ui.gap();
  }
  draw_store_state(app, ui, "notice");
  draw_damage(app, ui, "notice");
  draw_little_room(app, ui, "notice");
  if (!app.boot().writer) ui.notice("notice/reader", Tone::warn, words("store.other_tab"));
  if (app.update_waiting() && !app.holds_unsaved()) {
    ui.notice("notice/update", Tone::quiet, words("update.waiting"));
  }
}

}  // namespace tawny::ui
