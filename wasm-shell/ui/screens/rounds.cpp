// Rounds: what to do now, later today, what was missed and what is done, under the sun line of the day.
#include <algorithm>
#include <initializer_list>
#include <utility>

#include "ui/drawings/drawings.h"
#include "ui/screens/dawn_risks.h"
#include "ui/screens/devices.h"
#include "ui/screens/due.h"
#include "ui/screens/parts.h"
#include "ui/screens/rounds_shown.h"
#include "ui/screens/row_heights.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kIcon = 32, kColumnGap = 24;
constexpr float kTile = 136, kLongTile = 220;  // least widths
constexpr float kShortScreen = 700, kSunLineLeast = 144;

std::string control_id(const DueItem& item) {
  std::string id = "due/" + item.pond + "/" + std::string(name_of(item.act));
  if (!item.detail.empty()) id += "/" + item.detail;
  if (item.window) id += "/" + std::string(name_of(*item.window));
  return id;
}

// One thing to do, or done, as a row or a tile. Many hundreds may be listed, of which a frame draws a few: what each is
// called is put together once.
struct Line {
  const DueItem* item = nullptr;
  std::string id;
  float* height = nullptr;  // of its row, as last drawn; null for a tile
};

// The same act in the same window, at one pond or at many.
struct Job {
  std::vector<Line> lines;
  std::string id;
  bool same_why = true;
  std::size_t columns = 0;        // of tiles, where it was drawn as such
  std::vector<float*> tile_rows;  // their heights as last drawn
  const DueItem& first() const { return *lines.front().item; }
};

std::vector<Job> jobs_of(const std::vector<const DueItem*>& items, std::initializer_list<DueState> states) {
  std::vector<Job> jobs;
  for (const DueItem* item : items) {
    if (std::find(states.begin(), states.end(), item->state) == states.end()) continue;
    const auto same = std::find_if(jobs.begin(), jobs.end(), [&](const Job& job) {
      return job.first().act == item->act && job.first().window == item->window &&
             job.first().state == item->state && job.first().until == item->until;
    });
    Job& job = same == jobs.end() ? jobs.emplace_back() : *same;
    job.lines.push_back({item, control_id(*item)});
    job.same_why = job.same_why && job.first().why == item->why;
  }
  for (Job& job : jobs) job.id = (job.lines.size() == 1 ? "" : "job/") + job.lines.front().id;
  return jobs;
}

class RoundsScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("rounds.title"));
    ui.begin_content("rounds", 0, true);
    draw_app_notices(app, ui);
    draw_trust_news(app, ui, "rounds", true);
    draw_act_left_behind(app, ui);
    if (!app.rounds()) {
      ui.notice("rounds/no_sun", Tone::warn,
                words(app.farm().ponds.empty() ? "rounds.no_ponds" : "rounds.no_sun"));
      ui.end_content();
      return;
    }
    const Rounds& rounds = *app.rounds();
    draw_sun(app, ui, rounds);
    // On a laptop what comes and what was stands beside what is due.
    const bool beside = ui.columns() > 1;
    ui.begin_cells(beside ? 2 : 1, kColumnGap);
    draw_open_walks(app, ui);
    if (heights_.begin(ui)) asked_.reset();
    renew(app, rounds);
    draw_danger(app, ui);
    dawns_.draw(app, ui);
    if (now_.empty()) draw_nothing_now(app, ui, shown_.items);
    draw_jobs(app, ui, now_, "rounds/now", "rounds.now");
    if (beside) ui.next_cell();
    draw_jobs(app, ui, later_, "rounds/later", "rounds.later");
    draw_jobs(app, ui, missed_, "rounds/missed", "rounds.missed");
    draw_done(app, ui);
    if (shown_.others > 0) {
      ui.gap();
      ui.text("rounds/others", words(Message("rounds.others").with("count", bare(shown_.others))),
              TextSize::body, Tone::quiet);
    }
    draw_whose(app, ui);
    draw_whose_ponds(app, ui);
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
  }

 private:
  // --- the day

  bool is_long() const { return shown_.items.size() > RowHeights::kWholeList; }

  // One tick for each window and what became of its work: a pond more or less does not change the picture.
  static std::vector<SunLineTick> ticks_of(const Rounds& rounds) {
    std::vector<SunLineTick> ticks;
    for (const DueItem& item : rounds.items) {
      if (!item.window) continue;
      SunLineTick tick;
      tick.at = Instant{(item.from.unix_s + item.until.unix_s) / 2};
      tick.state = item.state == DueState::overdue ? DueState::now : item.state;
      const auto same = [&](const SunLineTick& other) {
        return other.at == tick.at && other.state == tick.state;
      };
      if (std::none_of(ticks.begin(), ticks.end(), same)) ticks.push_back(tick);
    }
    return ticks;
  }

  void draw_sun(App& app, Ui& ui, const Rounds& rounds) {
    if (ticks_of_ != app.folds()) {
      ticks_of_ = app.folds();
      ticks_ = ticks_of(rounds);
    }
    const Words& words = ui.words();
    const SunDay& sun = rounds.today.sun;
    const std::string name = words(Message("rounds.sun_line")
                                       .with("sunrise", sun.sunrise)
                                       .with("noon", sun.solar_noon)
                                       .with("sunset", sun.sunset)
                                       .with("now", app.now()));
    const float height =
        picture_scale(ui) * (screen_shape().height < kShortScreen ? kSunLineLeast : kSunLineHeight);
    draw_sun_line(ui, ui.picture("rounds/sun_line", name, height), rounds.today, app.now(), ticks_);
  }

  // --- whose work

  // What is shown points into the rounds: it is good for as long as they are.
  void renew(const App& app, const Rounds& rounds) {
    const Asked asked{app.folds(), all_work(app), own_ponds(app)};
    if (asked_ == asked) return;
    asked_ = asked;
    shown_ = shown_rounds(app, rounds);
    now_ = jobs_of(shown_.items, {DueState::now, DueState::overdue});
    later_ = jobs_of(shown_.items, {DueState::later});
    missed_ = jobs_of(shown_.items, {DueState::missed});
    done_.clear();
    for (const DueItem* item : shown_.items) {
      if (item->state != DueState::done) continue;
      Line& line = done_.emplace_back(Line{item, control_id(*item)});
      line.height = &heights_.of(line.id);
    }
  }

  // --- cards

  static void draw_open_walks(App& app, Ui& ui) {
    const Words& words = ui.words();
    for (const FarmPond& pond : app.farm().ponds) {
      if (!pond.state.open_walk) continue;
      const DoseWalk& walk = *pond.state.open_walk;
      const std::string id = "walk/" + pond.history.pond.id;
      const int bin = std::min(static_cast<int>(walk.spread.size()) + 1, walk.bins);
      const std::string go_on = words(Message("rounds.go_on")
                                          .with("bin", Quantity{static_cast<double>(bin), 0, ""})
                                          .with("bins", Quantity{static_cast<double>(walk.bins), 0, ""}));
      ui.begin_card(id, go_on + ", " + pond.history.pond.name);
      const Rect picture = ui.begin_beside(kIcon, kIcon);
      ui.icon("bin", picture, ui.colour(Tone::act));
      ui.text(id + "/go_on", go_on, TextSize::lead, Tone::act, true);
      ui.text(id + "/pond", pond.history.pond.name);
      ui.end_beside();
      if (ui.end_card()) app.open(make_dose_walk_screen(pond.history.pond.id));
      ui.gap();
    }
  }

  void draw_jobs(App& app, Ui& ui, std::vector<Job>& jobs, std::string_view id, std::string_view title) {
    if (jobs.empty()) return;
    ui.heading(id, ui.words()(title));
    for (Job& job : jobs) {
      draw_job(app, ui, job);
      ui.gap();
    }
  }

  void draw_job(App& app, Ui& ui, Job& job) {
    const Words& words = ui.words();
    const DueItem& first = job.first();
    const bool single = job.lines.size() == 1;
    const std::string& id = job.id;
    const std::string why = job.same_why ? words(first.why) : std::string();
    ui.begin_card(id, single ? name_of_control(app, words, first) : std::string());
    const Rect picture = ui.begin_beside(kIcon, kIcon);
    ui.icon(act_icon(first.act), picture, ui.colour(first.state == DueState::overdue ? Tone::warn : Tone::act));
    if (single) {
      ui.text(id + "/pond", place_of(app, first), TextSize::lead, Tone::ink, true);
      ui.text(id + "/act", act_word(words, first.act));
    } else {
      ui.text(id + "/act", act_word(words, first.act), TextSize::lead, Tone::ink, true);
    }
    ui.status(id + "/time", status_of(first.state), due_time(words, first), why);
    ui.end_beside();
    if (single) {
      if (ui.end_card()) open_due(app, first);
      return;
    }
    ui.gap();
    // Why matters while it can be done; before and after, the names are enough.
    const bool to_do = first.state == DueState::now || first.state == DueState::overdue;
    if (job.same_why || !to_do) {
      draw_tiles(app, ui, job);
    } else {
      for (Line& line : job.lines) draw_place(app, ui, line);
    }
    ui.end_card();
  }

  static std::string name_of_control(const App& app, const Words& words, const DueItem& item) {
    return pond_name(app, item.pond) + ", " + due_act(words, item) + ", " + due_time(words, item);
  }
  static std::string place_of(const App& app, const DueItem& item) {
    const std::string pond = pond_name(app, item.pond);
    return item.detail.empty() ? pond : pond + " \u00b7 " + item.detail;
  }

  // Row by row of tiles: what is far from the view keeps its place undrawn.
  void draw_tiles(App& app, Ui& ui, Job& job) {
    const bool named_inlets = !job.first().detail.empty();
    const auto columns = static_cast<std::size_t>(
        std::max(1, static_cast<int>(ui.width() / (named_inlets ? kLongTile : kTile))));
    if (job.columns != columns) {
      job.columns = columns;
      job.tile_rows.clear();
      for (std::size_t at = 0; at < job.lines.size(); at += columns) {
        job.tile_rows.push_back(&heights_.of(job.id + "/" + std::to_string(at)));
      }
    }
    for (std::size_t at = 0; at < job.lines.size(); at += columns) {
      float& height = *job.tile_rows[at / columns];
      if (is_long() && ui.skip_unseen(height)) continue;
      ui.begin_cells(static_cast<int>(columns));
      const float top = ui.down();
      for (std::size_t i = at; i < std::min(at + columns, job.lines.size()); ++i) {
        const DueItem& item = *job.lines[i].item;
        if (i > at) ui.next_cell();
        if (ui.tile(job.lines[i].id, place_of(app, item), name_of_control(app, ui.words(), item))) {
          open_due(app, item);
        }
      }
      ui.end_cells();
      height = ui.down() - top;
    }
  }

  void draw_place(App& app, Ui& ui, Line& line) {
    if (line.height == nullptr) line.height = &heights_.of(line.id);
    if (is_long() && ui.skip_unseen_row(*line.height)) return;
    const DueItem& item = *line.item;
    const Words& words = ui.words();
    Ui::Row row;
    row.title = place_of(app, item);
    row.name = name_of_control(app, words, item);
    row.remark = words(item.why);
    row.large = true;
    if (ui.row(line.id, row, line.height)) open_due(app, item);
  }

  // What is done is one line with its value: who wants more finds it in the logbook.
  void draw_done(App& app, Ui& ui) {
    if (done_.empty()) return;
    const Words& words = ui.words();
    ui.heading("rounds/done", words("rounds.done_title"));
    ui.begin_card("rounds/done/card");
    for (const Line& line : done_) {
      if (is_long() && ui.skip_unseen_row(*line.height)) continue;
      const DueItem& item = *line.item;
      const Entry* entry = item.done_by ? app.logbook().find(to_reference(*item.done_by)) : nullptr;
      const std::string title = words(Message("rounds.done_line")
                                          .with("pond", Text{pond_name(app, item.pond)})
                                          .with("act", Text{due_act(words, item)}));
      std::string value, name = pond_name(app, item.pond) + ", " + due_act(words, item);
      if (entry != nullptr) {
        const std::string brief = brief_of(words, *entry);
        value = words.clock(entry->observed) + " \u00b7 " + brief;
        name += ": " + brief;
      }
      Ui::Row row;
      row.icon = "check";
      row.title = title;
      row.name = name;
      row.remark = value;
      if (ui.row(line.id, row, line.height) && entry != nullptr) {
        app.open(make_logbook_entry_screen(to_reference(*item.done_by)));
      }
    }
    ui.end_card();
  }

  // Nothing to do is an answer too: it says what comes next, and when.
  static void draw_nothing_now(App& app, Ui& ui, const std::vector<const DueItem*>& items) {
    const Words& words = ui.words();
    ui.heading("rounds/nothing", words("rounds.nothing"));
    const DueItem* next = nullptr;
    for (const DueItem* item : items) {
      if (item->state == DueState::later && (next == nullptr || item->from < next->from)) next = item;
    }
    if (next != nullptr) {
      ui.text("rounds/next", words(Message("rounds.next")
                                       .with("act", Text{due_act(words, *next)})
                                       .with("pond", Text{pond_name(app, next->pond)})
                                       .with("from", next->from)));
      return;
    }
    const CivilDay tomorrow = app.rounds()->today.day.plus(1);
    const Result<DayWindows> windows = windows_of(tomorrow, app.farm().place, app.protocol());
    if (windows) ui.text("rounds/next", words(Message("rounds.next_dawn").with("from", windows->dawn.from)));
  }

  struct Asked {
    int folds = 0;
    bool all_work = false, own_ponds = false;
    bool operator==(const Asked&) const = default;
  };
  std::optional<int> ticks_of_;  // the fold
  std::vector<SunLineTick> ticks_;
  std::optional<Asked> asked_;
  ShownRounds shown_;
  std::vector<Job> now_, later_, missed_;
  std::vector<Line> done_;
  RowHeights heights_;  // of rows and rows of tiles
  DawnRisks dawns_;
};

}  // namespace

std::unique_ptr<Screen> make_rounds_screen() { return std::make_unique<RoundsScreen>(); }

}  // namespace tawny::ui
