// The logbook: everything that was entered, by day, newest first; each entry can be corrected or taken back.
#include <algorithm>
#include <cstdint>
#include <optional>

#include "logbook/kinds.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr std::size_t kPage = 60;  // lines drawn at first, and with every "show more"

class LogbookScreen : public Screen {
 public:
  explicit LogbookScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("logbook.title"));
    ui.begin_content("logbook");
    draw_problems(app, ui);
    draw_filter(app, ui);
    choose(app);
    std::optional<CivilDay> day;
    const std::size_t shown = std::min(limit_, fitting_.size());
    for (std::size_t i = 0; i < shown; ++i) {
      const Entry& entry = *fitting_[i];
      const CivilDay this_day = civil_day(entry.observed, app.farm().place.offset);
      if (day != this_day) {
        day = this_day;
        ui.gap(8);
        ui.heading("logbook/day/" + to_iso(this_day), capitalised(words.day(this_day)));
      }
      draw_line(app, ui, entry);
    }
    if (fitting_.empty()) ui.text("logbook/empty", words("logbook.empty"), TextSize::body, Tone::quiet);
    if (fitting_.size() > shown) {
      ui.gap(8);
      if (ui.button("logbook/more",
                    words(Message("logbook.more").with("count", bare(fitting_.size() - shown))))) {
        limit_ += kPage;
      }
    }
    ui.gap(16);
    ui.end_content();
  }

 private:
  // Newest first: once for each state of the logbook, since a large one takes longer than a frame.
  void choose(const App& app) {
    const Chosen now{app.folds(), app.logbook().size(), app.logbook().moves(), pond_};
    if (chosen_ == now) return;
    chosen_ = now;
    fitting_.clear();
    const std::vector<const Entry*>& acts = app.logbook().acts();
    for (auto each = acts.rbegin(); each != acts.rend(); ++each) {
      if (pond_.empty() || (*each)->pond == pond_) fitting_.push_back(*each);
    }
  }

  static void draw_problems(const App& app, Ui& ui) {
    const Words& words = ui.words();
    if (app.alarm()) ui.notice("logbook/alarm", Tone::alarm, words(app.alarm()->message));
    if (const std::size_t count = app.load_report().problems.size(); count > 0) {
      ui.notice("logbook/problems", Tone::warn, words(Message("logbook.problems").with("count", bare(count))));
    }
  }

  void draw_filter(App& app, Ui& ui) {
    if (app.farm().ponds.size() < 2) return;
    const Words& words = ui.words();
    const std::string shown = pond_.empty() ? words("logbook.all_ponds") : pond_name(app, pond_);
    if (!ui.button("logbook/filter", words(Message("logbook.filter").with("pond", Text{shown})))) return;
    app.open(make_pond_pick_screen("logbook.all_ponds", [this](App& asking, const std::string& pond) {
      pond_ = pond;
      limit_ = kPage;
      asking.back();
    }));
  }

  static void draw_line(App& app, Ui& ui, const Entry& entry) {
    const Words& words = ui.words();
    const std::string reference = to_reference(entry.id);
    const std::string id = "entry/" + reference;
    const std::string value = brief_of(words, entry);
    const std::string what = words("kind." + entry.kind);
    const std::string title = entry.pond.empty() ? what : pond_name(app, entry.pond) + " \u00b7 " + what;
    ui.begin_card(id, title + ", " + value);
    ui.text(id + "/title", title, TextSize::body, Tone::ink, true);
    if (!value.empty()) ui.text(id + "/value", value);
    const Logbook::Standing standing = app.logbook().standing(entry.id);
    std::string state = words("standing.saved");
    if (standing == Logbook::Standing::corrected) state = words("standing.corrected");
    if (standing == Logbook::Standing::voided) state = words("standing.voided");
    if (standing == Logbook::Standing::not_counted) state = words("standing.not_counted");
    const bool out = standing == Logbook::Standing::stands && is_left_out(app, entry);
    if (out) state = words("standing.left_out");
    ui.text(id + "/who",
            words.clock(entry.observed) + " \u00b7 " +
                (entry.who.empty() ? words("person.unknown") : entry.who) + " \u00b7 " + state,
            TextSize::body, standing == Logbook::Standing::stands && !out ? Tone::quiet : Tone::warn);
    if (ui.end_card()) app.open(make_logbook_entry_screen(reference));
    ui.gap(8);
  }

  std::string pond_;
  std::size_t limit_ = kPage;
  // Of which state of the logbook, since what is listed points into it, and of which pond.
  struct Chosen {
    int folds = 0;
    std::size_t size = 0;
    std::uint64_t moves = 0;
    std::string pond;
    bool operator==(const Chosen&) const = default;
  };
  std::optional<Chosen> chosen_;
  std::vector<const Entry*> fitting_;
};

class LogbookEntryScreen : public Screen {
 public:
  explicit LogbookEntryScreen(std::string reference) : reference_(std::move(reference)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("logbook.entry"));
    const Entry* entry = app.logbook().find(reference_);
    begin_form(app, ui, "logbook_entry");
    if (entry == nullptr) {
      ui.text("entry/gone", words("logbook.gone"));
      ui.end_content();
      return;
    }
    ui.heading("entry/kind", words("kind." + entry->kind), 1);
    if (!entry->pond.empty()) ui.fact("entry/pond", words("logbook.pond"), pond_name(app, entry->pond));
    for (const auto& [key, value] : entry->values) {
      ui.fact("entry/value/" + key, key_word(words, key), value_word(words, key, value));
    }
    ui.rule();
    ui.fact("entry/observed", words("logbook.observed"), words.time(entry->observed));
    ui.fact("entry/recorded", words("logbook.recorded"), words.time(entry->recorded));
    ui.fact("entry/who", words("logbook.who"), entry->who.empty() ? words("person.unknown") : entry->who);
    ui.fact("entry/device", words("logbook.device"),
            entry->id.device + " / " + std::to_string(entry->id.number));
    const Logbook::Standing standing = app.logbook().standing(entry->id);
    if (standing == Logbook::Standing::corrected)
      ui.notice("entry/corrected", Tone::warn, words("logbook.is_corrected"));
    if (standing == Logbook::Standing::voided)
      ui.notice("entry/voided", Tone::warn, words("logbook.is_voided"));
    if (const std::optional<LeftOutFor> why = app.left_out(entry->id)) {
      ui.notice("entry/not_counted", Tone::warn, words("trust.left_out." + std::string(name_of(*why))));
    }
    if (is_left_out(app, *entry)) ui.notice("entry/left_out", Tone::warn, words("logbook.is_left_out"));
    if (app.news().state == SaveNews::State::saved) {
      ui.notice("entry/saved", Tone::open, words(Message("save.saved").with("time", app.news().at)));
    }
    ui.gap(16);
    if (standing == Logbook::Standing::stands && app.can_write()) draw_ways(app, ui, *entry);
    ui.end_content();
    if (asking_ && save_footer(app, ui, words("logbook.take_back_now"), !reason_.empty())) {
      app.put({app.take_back(entry->id, reason_)});
      asking_ = false;
    }
  }

 private:
  void draw_ways(App& app, Ui& ui, const Entry& entry) {
    const Words& words = ui.words();
    if (can_be_corrected(entry.kind)) {
      if (ui.button("entry/correct", words("logbook.correct"), ButtonKind::secondary, true, "edit")) {
        app.open(make_correction_screen(entry));
        return;
      }
      ui.gap(8);
    }
    if (!asking_) {
      if (ui.button("entry/take_back", words("logbook.take_back"), ButtonKind::danger, true, "undo"))
        asking_ = true;
      return;
    }
    ui.text("entry/take_back/about", words("logbook.take_back.about"), TextSize::body, Tone::quiet);
    if (auto typed = ui.text_field("entry/reason", words("form.reason"), reason_, words("form.reason.hint"),
                                   "note", 200)) {
      reason_ = *typed;
    }
  }

  std::string reference_;
  std::string reason_;
  bool asking_ = false;
};

}  // namespace

std::unique_ptr<Screen> make_logbook_screen(const std::string& pond) {
  return std::make_unique<LogbookScreen>(pond);
}
std::unique_ptr<Screen> make_logbook_entry_screen(const std::string& reference) {
  return std::make_unique<LogbookEntryScreen>(reference);
}

}  // namespace tawny::ui
