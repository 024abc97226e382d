// Pictures of every widget and drawing, by day and by night: ui_gallery OUT_FOLDER WORDS.json
#include <cstdio>
#include <fstream>
#include <functional>
#include <iterator>
#include <string>

#include "ui/bench.h"
#include "ui/drawings/drawings.h"
#include "ui/icons.h"
#include "ui/raster.h"

namespace {

using namespace tawny;
using namespace tawny::ui;

constexpr float kDensity = 2;
const Instant kSunrise{1795645920};

DayWindows a_day() {
  DayWindows day;
  day.sun = {kSunrise, kSunrise.plus_min(355), kSunrise.plus_min(710)};
  day.dawn = {kSunrise.plus_min(-60), kSunrise.plus_min(60)};
  day.dose = {kSunrise.plus_min(-45), kSunrise.plus_min(150)};
  day.peak = {kSunrise.plus_min(235), kSunrise.plus_min(475)};
  day.afternoon = {kSunrise.plus_min(505), kSunrise.plus_min(680)};
  return day;
}

std::vector<SunLineTick> some_work() {
  return {{kSunrise.plus_min(-50), DueState::done},   {kSunrise.plus_min(-40), DueState::done},
          {kSunrise.plus_min(-30), DueState::missed}, {kSunrise.plus_min(250), DueState::now},
          {kSunrise.plus_min(255), DueState::now},    {kSunrise.plus_min(600), DueState::later},
          {kSunrise.plus_min(610), DueState::later}};
}

WaterColumn a_column(double level_cm, WaterColour colour) {
  WaterColumn column;
  column.full_cm = 140;
  column.bank_slope = 2;
  column.level_cm = level_cm;
  column.colour = colour;
  return column;
}

void bars(Ui& ui, const char* title, bool back, const char* selected) {
  ui.top_bar(title, back, back ? "" : "Demo farm");
  if (back && !ui.wide()) return;
  ui.tab_bar({{"rounds", "Rounds", "rounds", {}},
              {"ponds", "Ponds", "ponds", {}},
              {"dose", "Dose bin", "bin", {}},
              {"logbook", "Logbook", "logbook", {}},
              {"office", "Office", "office", {}}},
             selected);
}

void due_card(Ui& ui, const std::string& id, const char* pond, const char* act, const char* icon, Status status,
              const char* until) {
  ui.begin_card(id, std::string(pond) + ", " + act);
  const Rect art = ui.begin_beside(64, 64);
  draw_water_column(ui, art, a_column(84, WaterColour::golden), false);
  ui.text(id + "/pond", pond, TextSize::lead, Tone::ink, true);
  ui.text(id + "/act", act);
  ui.status(id + "/status", status, until);
  ui.end_beside();
  ui.icon("next", {art.x + ui.width() - 20, art.y + 20, 24, 24}, ui.colour(Tone::quiet));
  (void)icon;
  ui.end_card();
}

void rounds_page(Ui& ui) {
  bars(ui, "Rounds", false, "rounds");
  ui.begin_content("rounds");
  draw_sun_line(ui, ui.picture("sun", "The day", kSunLineHeight), a_day(), kSunrise.plus_min(262), some_work());
  ui.heading("now", "Now");
  due_card(ui, "card/1", "Pond 3", "Read the Secchi disc", "disc", Status::due, "until 13:40");
  due_card(ui, "card/2", "North pond by the mangrove inlet", "Read oxygen and pH", "oxygen", Status::overdue,
           "3 h late");
  ui.heading("later", "Later today");
  due_card(ui, "card/3", "Pond 5", "Read oxygen and pH", "oxygen", Status::waiting, "from 14:20");
  due_card(ui, "card/4", "Pond 6", "Check the screen", "screen", Status::unknown, "not known yet");
  ui.end_content();
}

void pond_page(Ui& ui) {
  bars(ui, "Pond 3", true, "ponds");
  ui.begin_content("pond");
  WaterColumn column = a_column(86, WaterColour::golden_brown);
  column.coming_low_cm = 104;
  column.coming_high_cm = 116;
  column.secchi_cm = 51;
  column.band_low_cm = 45;
  column.band_high_cm = 55;
  draw_water_column(ui, ui.picture("column", "Water 86 cm", kWaterColumnHeight), column, true);
  ui.heading("gate", "What opens the next gate");
  ui.begin_card("c1", "Secchi");
  ui.status("c1/s", Status::open, "Secchi in the band");
  ui.fact("c1/f", "51 cm, of 45\u201355 cm", "today 12:10");
  ui.end_card();
  ui.begin_card("c2", "Swing");
  ui.status("c2/s", Status::stopped, "Oxygen swing too small");
  ui.fact("c2/f", "1.8 mg/L, at least 3.0 mg/L", "yesterday");
  ui.end_card();
  ui.notice("n1", Tone::warn, "Clear and flat: look for bivalves on the walls and the gate.");
  ui.notice("n2", Tone::quiet, "Level is counted by the pond\u2019s own curve.");
  ui.notice("n3", Tone::alarm, "The store came back emptier than it was. 12 entries are missing.");
  ui.end_content();
}

void entry_page(Ui& ui) {
  static std::string typed = "4.8";
  bars(ui, "Pond 3, dissolved oxygen", true, "rounds");
  ui.begin_content("entry", 392);
  ui.gap(8);
  ui.number("value", "Dissolved oxygen", typed, "mg/L");
  ui.text("last", "Last 4.2 mg/L, 22 h ago", TextSize::body, Tone::quiet);
  ui.end_content();
  ui.begin_footer();
  ui.keypad("keys", typed, 300, true);
  ui.button("save", "Save", ButtonKind::primary);
  ui.end_footer();
}

void form_page(Ui& ui) {
  bars(ui, "Water at Pond 3", true, "rounds");
  ui.begin_content("form");
  ui.choice("sky", "Sky today",
            {{"bright", "Bright", "sky-bright", {}},
             {"mixed", "Mixed", "sky-mixed", {}},
             {"dull", "Dull", "sky-dull", {}}},
            "bright");
  ui.gap(16);
  const Theme& theme = ui.theme();
  ui.choice("colour", "Colour of the water",
            {{"clear", "Clear", "", theme.water[0]},
             {"muddy", "Muddy", "", theme.water[1]},
             {"pale_gold", "Pale gold", "", theme.water[2]},
             {"golden", "Golden", "", theme.water[3]},
             {"golden_brown", "Golden brown", "", theme.water[4]},
             {"light_green", "Light green", "", theme.water[5]},
             {"green", "Green", "", theme.water[6]},
             {"dark_green", "Dark green", "", theme.water[7]},
             {"red_brown", "Red-brown", "", theme.water[8]}},
            "golden");
  ui.gap(16);
  ui.checkbox("bottom", "Seen on the bottom", true);
  ui.checkbox("whole", "The whole surface was covered, also the corners behind the gate", false);
  ui.value_field("temp", "Temperature", "29.4", "\u00B0C", "last 28.9 \u00B0C, 6 h ago");
  ui.begin_cells(2);
  ui.value_field("ph", "pH", "8.1", "");
  ui.next_cell();
  ui.value_field("sal", "Salinity", "", "");
  ui.end_cells();
  ui.text_field("note", "Note", "", "Anything to add", "note", 200);
  ui.gap(16);
  ui.button("a", "Save", ButtonKind::primary, true, "check");
  ui.button("b", "Correct this entry", ButtonKind::secondary, true, "edit");
  ui.button("c", "Take back", ButtonKind::danger, true, "undo");
  ui.button("d", "Not now", ButtonKind::quiet);
  ui.button("e", "Save", ButtonKind::primary, false);
  ui.end_content();
}

void dose_page(Ui& ui) {
  bars(ui, "Bin 3 of 6", true, "dose");
  ui.begin_content("dose", 88);
  ui.begin_cells(2);
  ui.number("kg", "Sodium nitrate", "18.5", "kg");
  ui.next_cell();
  ui.number("l", "Into water", "92", "L");
  ui.end_cells();
  ui.begin_cells(3);
  for (int i = 1; i <= 3; ++i) {
    draw_bin_step(ui, ui.picture("bin/" + std::to_string(i), "Step", 96), i, 0.8);
    if (i < 3) ui.next_cell();
  }
  ui.end_cells();
  ui.step("s1", 1, "Fill 92 L of pond water into the bin", true);
  ui.step("s2", 2, "Add the salt to the water, a scoop at a time", false);
  ui.step("s3", 3, "Stir until nothing lies on the bottom", false);
  ui.notice("care", Tone::warn, "Gloves and eye protection. Keep away from fuel, oil and sawdust.");
  std::vector<Lane> lanes;
  for (int i = 0; i < 6; ++i) {
    const double y = 6 + 12 * i;
    const Lane lane{i % 2 ? 150.0 : 0.0, y, i % 2 ? 0.0 : 150.0, y, 1 + i / 2};
    lanes.push_back(lane);
  }
  draw_lanes(ui, ui.picture("lanes", "Lanes", 200), 150, 72, lanes, 2);
  ui.end_content();
  ui.begin_footer();
  ui.button("mixed", "Bin 3 of 6 mixed", ButtonKind::primary, true, "check");
  ui.end_footer();
}

void shapes_page(Ui& ui) {
  bars(ui, "Shapes", false, "office");
  ui.begin_content("shapes");
  ui.begin_cells(2);
  int n = 0;
  for (const auto& [status, word] : {std::pair{Status::open, "open"},
                                     {Status::waiting, "waiting"},
                                     {Status::due, "due"},
                                     {Status::overdue, "overdue"},
                                     {Status::stopped, "stopped"},
                                     {Status::unknown, "unknown"},
                                     {Status::done, "done"}}) {
    if (n++ > 0) ui.next_cell();
    ui.status("s" + std::to_string(n), status, word);
  }
  ui.end_cells();
  ui.gap(16);
  ui.begin_cells(7);
  bool first = true;
  for (const Icon& icon : all_icons()) {
    if (!first) ui.next_cell();
    first = false;
    ui.icon(icon.name, ui.picture(icon.name, icon.name, 40), ui.theme().ink);
  }
  ui.end_cells();
  ui.begin_cells(5);
  for (int i = 0; i < 9; ++i) {
    if (i > 0) ui.next_cell();
    WaterColumn column = a_column(40 + 10 * i, static_cast<WaterColour>(i));
    column.secchi_cm = 30 + 3 * i;
    if (i % 2) column.coming_low_cm = 120;
    draw_water_column(ui, ui.picture("w" + std::to_string(i), "", 64), column, false);
  }
  ui.next_cell();
  WaterColumn unknown = a_column(0, WaterColour::clear);
  unknown.level_cm.reset();
  draw_water_column(ui, ui.picture("w9", "", 64), unknown, false);
  ui.end_cells();
  ui.rule();
  draw_sun_line(ui, ui.picture("sun2", "The day", kSunLineHeight), a_day(), kSunrise.plus_min(-30), {});
  WaterColumn empty = a_column(0, WaterColour::clear);
  empty.level_cm.reset();
  draw_water_column(ui, ui.picture("w10", "", 180), empty, true);
  ui.end_content();
}

bool paint(const std::string& path, float width, float height, const Theme& theme, const Words& words,
           const std::function<void(Ui&)>& page) {
  Bench bench(width, height, kDensity);
  bench.set_theme(theme);
  bench.set_words(words);
  for (int i = 0; i < 3; ++i) bench.frame(page);
  Raster raster(static_cast<int>(width * kDensity), static_cast<int>(height * kDensity));
  raster.draw(*ImGui::GetDrawData(), *ImGui::GetIO().Fonts, kDensity);
  return raster.write_png(path);
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 3) {
    std::fprintf(stderr, "ui_gallery OUT_FOLDER WORDS.json\n");
    return 2;
  }
  std::ifstream stream(arguments[2], std::ios::binary);
  const std::string json{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  Result<Words> words = Words::parse(json);
  if (!words) {
    std::fprintf(stderr, "cannot read %s\n", arguments[2]);
    return 1;
  }
  words->set_clock(UtcOffset{7 * 60}, kSunrise.plus_min(262));
  const std::pair<const char*, std::function<void(Ui&)>> pages[] = {
      {"rounds", rounds_page}, {"pond", pond_page}, {"entry", entry_page},
      {"form", form_page},     {"dose", dose_page}, {"shapes", shapes_page}};
  const std::string folder = std::string(arguments[1]) + "/";
  for (const auto& [name, page] : pages) {
    for (const bool night : {false, true}) {
      const std::string path = folder + name + (night ? "-night.png" : "-day.png");
      if (!paint(path, 390, 844, night ? night_theme() : day_theme(), *words, page)) return 1;
    }
  }
  if (!paint(folder + "form-tall.png", 390, 1500, day_theme(), *words, form_page)) return 1;
  if (!paint(folder + "pond-wide.png", 1280, 800, day_theme(), *words, pond_page)) return 1;
  if (!paint(folder + "form-narrow.png", 320, 1500, day_theme(), *words, form_page)) return 1;
  return 0;
}
