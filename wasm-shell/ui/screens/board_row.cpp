// What one pond's row of the board says.
#include <initializer_list>

#include "ui/screens/board.h"
#include "ui/screens/due.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr float kColumnHeight = 44, kBandHeight = 12;

std::string stage_line(const Words& words, const BoardRow& row) {
  const PondState& state = row.pond->state;
  if (state.unsupported) return words("pond.unsupported.short");
  if (!state.in_cycle) return words("pond.no_cycle");
  return state.finished ? words("pond.finished") : stage_word(words, state.stage);
}

std::string since_of(const App& app, const Words& words, const FarmPond& pond) {
  return words(
      Message("board.since").with("since", civil_day(pond.state.stage_since, app.farm().place.offset)));
}

// Each age once, where several were read together: "3 h ago", "3 h ago / 2 days ago".
std::string ages(const Words& words, std::initializer_list<const std::optional<BoardReading>*> readings) {
  std::string line, last;
  for (const auto* reading : readings) {
    if (!*reading) continue;
    const std::string age = words.age((*reading)->at);
    if (age == last) continue;
    line += (line.empty() ? "" : " / ") + age;
    last = age;
  }
  return line;
}

std::string oxygen_of(const Words& words, const BoardRow& row) {
  const auto shown = [&](const std::optional<BoardReading>& reading) {
    return reading ? words.number(reading->value, 1) : std::string("\u2013");
  };
  if (!row.dawn_do_mg_l && !row.afternoon_do_mg_l) return {};
  return shown(row.dawn_do_mg_l) + " / " + shown(row.afternoon_do_mg_l) + " " + words.unit("mg_l");
}

std::string swing_of(const Words& words, const BoardRow& row) {
  if (!row.do_swing_mg_l) return {};
  return words(Message("board.swing")
                   .with("swing", Quantity{*row.do_swing_mg_l, 1, "mg_l"})
                   .with("day", *row.swing_day));
}

std::string water_of(const Words& words, const BoardRow& row) {
  std::string line;
  const auto add = [&](const std::string& part) { line += (line.empty() ? "" : " \u00b7 ") + part; };
  if (row.ph) add(words(Message("board.ph").with("value", Quantity{row.ph->value, 1, ""})));
  if (row.temperature_c) add(words.quantity(Quantity{row.temperature_c->value, 1, "c"}));
  if (row.salinity) add(words(Message("board.salinity").with("value", Quantity{row.salinity->value, 0, ""})));
  return line;
}

std::string secchi_of(const Words& words, const BoardRow& row) {
  if (!row.secchi_cm) return {};
  const Quantity depth{row.secchi_cm->value, 0, "cm"};
  return row.secchi_cm->more_than ? words(Message("screen.more_than").with("value", depth))
                                  : words.quantity(depth);
}

std::string band_of(const Words& words, const SecchiAgainstBand& band) {
  if (!band.certain) return words("board.band.uncertain");
  if (band.side == SecchiAgainstBand::Side::inside) return words("board.band.inside");
  const bool above = band.side == SecchiAgainstBand::Side::above;
  return words(
      Message(above ? "board.band.above" : "board.band.below").with("off", Quantity{band.off_cm, 0, "cm"}));
}

std::string level_of(const Words& words, const BoardRow& row) {
  if (!row.level_cm) return {};
  const std::string cm = words.quantity(Quantity{row.level_cm->value, 0, "cm"});
  if (!row.level_share) return cm;
  return words.quantity(Quantity{100 * *row.level_share, 0, "percent"}) + " \u00b7 " + cm;
}

void line(Ui& ui, const std::string& id, const std::string& text, Tone tone = Tone::ink, bool bold = false) {
  if (!text.empty()) ui.text(id, text, TextSize::body, tone, bold);
}

// Shape, word and colour: the worse it is, the louder.
Status status_of_trouble(Trouble::Severity severity) {
  switch (severity) {
    case Trouble::Severity::alarm:
      return Status::stopped;
    case Trouble::Severity::warn:
      return Status::overdue;
    case Trouble::Severity::watch:
      break;
  }
  return Status::waiting;
}

void draw_trouble(Ui& ui, const std::string& id, const BoardRow& row) {
  if (row.trouble == nullptr) return;
  ui.status(id + "/trouble", status_of_trouble(row.trouble->severity),
            ui.words()("trouble." + row.trouble->id));
}

void draw_gate(Ui& ui, const std::string& id, const BoardRow& row) {
  const Words& words = ui.words();
  if (row.pond->state.refused) ui.status(id + "/refused", Status::stopped, words("board.refused"));
  if (row.holds == nullptr) return;
  ui.status(id + "/holds", status_of(row.holds->verdict), words("criterion." + row.holds->id));
  line(ui, id + "/why", words(row.holds->why), Tone::quiet);
}

void draw_next(Ui& ui, const std::string& id, const BoardRow& row) {
  const Words& words = ui.words();
  if (row.questions > 0) {
    ui.status(id + "/questions", Status::due,
              words(Message("board.questions").with("count", bare(row.questions))));
  }
  if (row.dose_kg_ha) {
    line(ui, id + "/dose", words(Message("board.dose").with("rate", Quantity{*row.dose_kg_ha, 0, "kg_ha"})),
         Tone::act, true);
  }
  if (row.due == nullptr) return;
  line(ui, id + "/due", due_act(words, *row.due), Tone::ink, true);
  line(ui, id + "/due_time", due_time(words, *row.due), is_due_now(row) ? Tone::act : Tone::quiet);
}

}  // namespace

std::string board_row_name(const Words& words, const BoardRow& row) {
  return row.pond->history.pond.name + ", " + stage_line(words, row);
}

void draw_board_cells(App& app, Ui& ui, const std::string& id, const BoardRow& row) {
  const Words& words = ui.words();
  const FarmPond& pond = *row.pond;
  const Rect picture = ui.picture(id + "/column", water_column_name(words, pond), kColumnHeight);
  draw_water_column(ui, picture, water_column_of(app, pond), false);
  line(ui, id + "/level", level_of(words, row));
  line(ui, id + "/level_age", ages(words, {&row.level_cm}), Tone::quiet);
  ui.next_column();
  ui.text(id + "/name", pond.history.pond.name, TextSize::body, Tone::ink, true);
  ui.text(id + "/stage", stage_line(words, row));
  if (row.runs) line(ui, id + "/since", since_of(app, words, pond), Tone::quiet);
  ui.next_column();
  draw_gate(ui, id, row);
  ui.next_column();
  line(ui, id + "/oxygen", oxygen_of(words, row));
  line(ui, id + "/oxygen_age", ages(words, {&row.dawn_do_mg_l, &row.afternoon_do_mg_l}), Tone::quiet);
  line(ui, id + "/swing", swing_of(words, row), Tone::quiet);
  ui.next_column();
  line(ui, id + "/water", water_of(words, row));
  line(ui, id + "/water_age", ages(words, {&row.ph, &row.temperature_c, &row.salinity}), Tone::quiet);
  ui.next_column();
  line(ui, id + "/secchi", secchi_of(words, row));
  if (row.band) {
    const std::string band = band_of(words, *row.band);
    draw_band_mark(ui, ui.picture(id + "/band_mark", band, kBandHeight), row.band->low_cm, row.band->high_cm,
                   row.secchi_cm->value);
    line(ui, id + "/band", band);
  }
  line(ui, id + "/secchi_age", ages(words, {&row.secchi_cm}), Tone::quiet);
  ui.next_column();
  draw_trouble(ui, id, row);
  ui.next_column();
  draw_next(ui, id, row);
}

void draw_board_card(App& app, Ui& ui, const std::string& id, const BoardRow& row) {
  constexpr float kPictureWidth = 88, kPictureHeight = 60;
  const Words& words = ui.words();
  const FarmPond& pond = *row.pond;
  const auto fact = [&](const char* part, const char* word, const std::string& value, const std::string& age) {
    if (value.empty()) return;
    const std::string whole =
        words(Message("screen.value_age").with("value", Text{value}).with("age", Text{age}));
    ui.fact(id + part, words(word), whole);
  };
  const Rect picture = ui.begin_beside(kPictureWidth, kPictureHeight);
  draw_water_column(ui, picture, water_column_of(app, pond), false);
  ui.text(id + "/name", pond.history.pond.name, TextSize::lead, Tone::ink, true);
  ui.text(id + "/stage", stage_line(words, row));
  if (row.runs) line(ui, id + "/since", since_of(app, words, pond), Tone::quiet);
  ui.end_beside();
  draw_trouble(ui, id, row);
  draw_gate(ui, id, row);
  fact("/level", "board.column.level", level_of(words, row), ages(words, {&row.level_cm}));
  fact("/oxygen", "board.column.oxygen", oxygen_of(words, row),
       ages(words, {&row.dawn_do_mg_l, &row.afternoon_do_mg_l}));
  line(ui, id + "/swing", swing_of(words, row), Tone::quiet);
  fact("/water", "board.column.water", water_of(words, row),
       ages(words, {&row.ph, &row.temperature_c, &row.salinity}));
  fact("/secchi", "board.column.secchi", secchi_of(words, row), ages(words, {&row.secchi_cm}));
  if (row.band) {
    const std::string band = band_of(words, *row.band);
    draw_band_mark(ui, ui.picture(id + "/band_mark", band, kBandHeight), row.band->low_cm, row.band->high_cm,
                   row.secchi_cm->value);
    line(ui, id + "/band", band, Tone::quiet);
  }
  draw_next(ui, id, row);
}

}  // namespace tawny::ui
