// The entry of one act at one pond: form, time, a look at the values, saving, and what comes next.
#include <algorithm>
#include <tuple>
#include <utility>

#include "logbook/kinds.h"
#include "protocol/check_entry.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"
#include "ui/screens/stock.h"
#include "ui/screens/store_news.h"
#include "ui/screens/when.h"

namespace tawny::ui {
namespace {

// What the screen was opened for.
struct EntryAsk {
  std::optional<Act> act;
  std::string kind;  // where no act asks for it
  std::string pond, detail, corrects;
};

// The next place in walking order where the same act is due; nothing when this was the last.
const DueItem* next_due(const App& app, const EntryAsk& ask) {
  if (!app.rounds() || !ask.act) return nullptr;
  const FarmPond* here = app.farm().pond(ask.pond);
  const auto place = [](int walk_order, const std::string& pond, const std::string& detail) {
    return std::make_tuple(walk_order, pond, detail);
  };
  const auto present = place(here == nullptr ? 0 : here->history.pond.walk_order, ask.pond, ask.detail);
  const DueItem* after = nullptr;
  const DueItem* before = nullptr;
  for (const DueItem& item : app.rounds()->items) {
    const bool due = item.state == DueState::now || item.state == DueState::overdue;
    if (!due || item.act != *ask.act || (item.pond == ask.pond && item.detail == ask.detail)) continue;
    const auto there = place(item.walk_order, item.pond, item.detail);
    const DueItem*& best = there > present ? after : before;
    if (best == nullptr || there < place(best->walk_order, best->pond, best->detail)) best = &item;
  }
  return after != nullptr ? after : before;
}

class EntryScreen : public Screen {
 public:
  explicit EntryScreen(EntryAsk ask) : ask_(std::move(ask)) {}

  void draw(App& app, Ui& ui) override {
    const FormPlace place{app, app.farm().pond(ask_.pond), ask_.act.value_or(Act::water_reading), ask_.detail};
    if (!begun_) begin(place);
    app.frame_bars(ui, pond_name(app, ask_.pond));
    if (!form_) {
      ui.begin_content("entry");
      ui.notice("entry/none", Tone::quiet, ui.words()("entry.no_form"));
      ui.end_content();
      return;
    }
    if (back_flow_.poll(app) != SaveFlow::State::idle) {
      draw_taking_back(app, ui);
      return;
    }
    switch (flow_.poll(app)) {
      case SaveFlow::State::idle:
        if (questioned_) {
          draw_question(place, ui);
        } else {
          draw_form(place, ui);
        }
        return;
      case SaveFlow::State::saving:
      case SaveFlow::State::failed:
        ui.begin_content("entry_waiting");
        ui.heading("entry/act", act_title(ui.words()));
        ui.text("entry/brief", brief(ui.words()), TextSize::lead);
        ui.gap(16);
        flow_.draw_waiting(app, ui);
        ui.end_content();
        return;
      case SaveFlow::State::saved:
        draw_saved(place, ui);
        return;
    }
  }

  bool holds_unsaved() const override {
    if (flow_.holds_unsaved() || back_flow_.holds_unsaved()) return true;
    return form_ && flow_.ids().empty() && form_->values() != at_first_;
  }

 private:
  void begin(const FormPlace& place) {
    begun_ = true;
    const Entry* corrected = ask_.corrects.empty() ? nullptr : place.app.logbook().find(ask_.corrects);
    if (corrected != nullptr) ask_.kind = corrected->kind;
    form_ = ask_.kind.empty() ? make_form(*ask_.act, place) : make_form_of_kind(ask_.kind, place);
    if (!form_) return;
    if (corrected != nullptr) {
      form_->fill(*corrected);
      when_.fix(corrected->observed);
      if (!ask_.act) ask_.act = act_of_kind(corrected->kind);
    }
    at_first_ = form_->values();
  }

  std::string act_title(const Words& words) const {
    const std::string act = ask_.kind.empty() ? act_word(words, *ask_.act) : words("kind." + ask_.kind);
    if (ask_.corrects.empty()) {
      return ask_.detail.empty()
                 ? act
                 : words(Message("entry.act_detail").with("act", Text{act}).with("detail", Text{ask_.detail}));
    }
    return words(Message("entry.correcting").with("act", Text{act}));
  }

  Draft draft(const App& app) const {
    Draft draft;
    draft.kind = form_->kind();
    draft.pond = form_->farm_wide() ? std::string() : ask_.pond;
    draft.observed = when_.at(app);
    draft.corrects = ask_.corrects;
    draft.values = form_->values();
    return draft;
  }

  std::string brief(const Words& words) const {
    Entry entry;
    entry.kind = form_->kind();
    entry.values = form_->values();
    return brief_of(words, entry);
  }

  // --- asking
  // ------------------------------------------------------------------------------------------------------

  void draw_form(const FormPlace& place, Ui& ui) {
    const ScreenShape shape = screen_shape();
    const bool keys = form_->typing() != nullptr;
    if (keys && shape.low()) {
      ui.begin_content("entry");
      ui.begin_cells(2);
      if (draw_ask(place, ui)) {
        draw_next(ui);
        draw_save(place, ui);
        ui.gap();
        draw_ask_below(place, ui);
      }
      ui.next_cell();
      draw_keys(ui, shape.height - 2 * Sizes::kTarget);
      ui.end_cells();
      ui.end_content();
      return;
    }
    if (keys) in_view_.keep(ui, "entry/value", *form_->typing());
    // With large letters the way to the next value stands under the value: keys and save leave no more room.
    const bool next_above = ui.text_scale() > 1;
    const bool has_next = !next_above && !form_->next_label(ui.words()).empty();
    const float height = keys ? keys_height(ui) : 0;
    const float buttons = Sizes::kTarget * (has_next ? 2 : 1) + Sizes::kGrid * (has_next ? 2 : 1);
    ui.begin_content("entry", (keys ? height + Sizes::kGrid : 0) + buttons);
    if (draw_ask(place, ui)) {
      if (next_above) draw_next(ui);
      draw_ask_below(place, ui);
    }
    ui.end_content();
    ui.begin_footer();
    if (keys) {
      draw_keys(ui, height);
      ui.gap();
    }
    if (has_next) draw_next(ui);
    draw_save(place, ui);
    ui.end_footer();
  }

  // False while an older act has to be dealt with first.
  bool draw_ask(const FormPlace& place, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("entry/act", act_title(words));
    draw_refusals(place.app, ui);
    draw_pen_asked(place.app, ui, "entry");
    if (!place.app.can_write()) ui.notice("entry/read_only", Tone::warn, words("store.cannot_write"));
    if (draw_act_left_behind(place.app, ui)) return false;
    form_->draw(place, ui);
    return true;
  }

  void draw_ask_below(const FormPlace& place, Ui& ui) {
    form_->draw_below(place, ui);
    ui.gap(16);
    draw_dark(place, ui);
    draw_window(place.app, ui);
    when_.draw(place.app, ui);
  }

  void draw_keys(Ui& ui, float height) {
    if (typing_keypad(ui, "keys", *form_->typing(), height, form_->typing_decimals())) drop_refusals();
  }

  void draw_next(Ui& ui) {
    const std::string next = form_->next_label(ui.words());
    if (next.empty()) return;
    if (ui.button("entry/next_value", next)) form_->next();
    ui.gap();
  }

  void draw_save(const FormPlace& place, Ui& ui) {
    const Words& words = ui.words();
    const bool free = place.app.can_write() && place.app.news().state != SaveNews::State::saving;
    const char* const why_not = form_->manager_only() ? place.app.why_no_decision() : nullptr;
    const bool allowed = why_not == nullptr;
    if (!allowed) ui.text("entry/manager_only", words(why_not), TextSize::body, Tone::warn);
    const std::string_view label = ask_.corrects.empty() ? "entry.save" : "entry.save_correction";
    if (ui.button("save", words(label), ButtonKind::primary, free && allowed)) press_save(place);
  }

  void draw_refusals(const App&, Ui& ui) {
    if (refused_values_ && *refused_values_ != form_->values()) drop_refusals();
    int number = 0;
    for (const Finding& refusal : refusals_) {
      ui.notice("entry/refused/" + std::to_string(++number), Tone::alarm, ui.words()(refusal.message));
      if (draw_likely(ui, refusal)) return;
    }
  }

  // One press puts the value right that was most likely meant. True when it did.
  bool draw_likely(Ui& ui, const Finding& finding) {
    const Measure* measure = measure_of(finding.key);
    if (!finding.likely || measure == nullptr) return false;
    const Quantity likely{*finding.likely, measure->decimals, std::string(measure->unit)};
    if (!ui.button("entry/likely/" + finding.key,
                   ui.words()(Message("entry.use_likely").with("value", likely)))) {
      return false;
    }
    form_->take(finding.key, *finding.likely);
    questioned_ = false;
    drop_refusals();
    return true;
  }

  void drop_refusals() {
    refusals_.clear();
    refused_values_.reset();
  }

  // Before sunrise and after sunset somebody stands at the water in the dark.
  void draw_dark(const FormPlace& place, Ui& ui) const {
    if (!place.app.rounds() || place.pond == nullptr || form_->manager_only()) return;
    const SunDay& sun = place.app.rounds()->today.sun;
    if (place.app.now() >= sun.sunrise && place.app.now() <= sun.sunset) return;
    ui.notice("entry/dark", Tone::quiet, ui.words()("caution.dark"));
    ui.gap();
  }

  // A reading that no rule will count is still kept; that is said before it is made.
  void draw_window(App& app, Ui& ui) const {
    if (!app.rounds() || !ask_.act) return;
    const Instant at = when_.at(app);
    const DayWindows& today = app.rounds()->today;
    const WindowName* next = nullptr;
    bool asked = false;
    static constexpr WindowName kNames[] = {WindowName::dawn, WindowName::dose, WindowName::peak,
                                            WindowName::afternoon};
    for (const WindowName& name : kNames) {
      const bool counts =
          std::any_of(app.rounds()->items.begin(), app.rounds()->items.end(), [&](const DueItem& item) {
            return item.pond == ask_.pond && item.act == *ask_.act && item.window == name;
          });
      if (!counts) continue;
      asked = true;
      if (today.of(name).contains(at)) return;
      if (next == nullptr && today.of(name).from > at) next = &name;
    }
    if (!asked) return;
    const Words& words = ui.words();
    std::string text = words("entry.outside_window");
    if (next != nullptr) {
      text += " ";
      text += words(Message("entry.next_window")
                        .with("window", Word{"window." + std::string(name_of(*next))})
                        .with("from", today.of(*next).from)
                        .with("until", today.of(*next).until));
    }
    ui.notice("entry/outside_window", Tone::quiet, text);
    ui.gap();
  }

  void press_save(const FormPlace& place) {
    drop_refusals();
    findings_.clear();
    if (const std::optional<Message> missing = form_->missing()) {
      refuse({Finding::Weight::refused, "", *missing});
      return;
    }
    const Draft made = draft(place.app);
    const PondHistory nothing;
    const PondHistory& history = place.pond == nullptr ? nothing : place.pond->history;
    for (const Finding& finding : check_entry(made, history, place.app.protocol(), place.app.farm().place,
                                              place.app.now(), bag_sizes(place.app.farm()))) {
      if (finding.weight == Finding::Weight::refused) {
        refuse(finding);
      } else {
        findings_.push_back(finding);
      }
    }
    if (!refusals_.empty()) {
      place.app.ui().scroll_to_top();
      return;
    }
    if (!findings_.empty()) {
      questioned_ = true;
      return;
    }
    flow_.put(place.app, made);
  }

  void refuse(const Finding& why) {
    refusals_.push_back(why);
    refused_values_ = form_->values();
  }

  // --- are you sure
  // ------------------------------------------------------------------------------------------------

  void draw_question(const FormPlace& place, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_content("entry_question", 2 * Sizes::kTarget + 2 * Sizes::kGrid);
    ui.heading("entry/sure", words("entry.sure"));
    ui.text("entry/brief", brief(words), TextSize::title, Tone::ink, true);
    ui.gap(16);
    int number = 0;
    for (const Finding& finding : findings_) {
      ui.notice("entry/questioned/" + std::to_string(++number), Tone::warn, words(finding.message));
      ui.gap();
      if (draw_likely(ui, finding)) break;
    }
    ui.end_content();
    ui.begin_footer();
    if (ui.button("entry/change", words("entry.change"))) questioned_ = false;
    ui.gap();
    if (ui.button("save", words("entry.yes_save"), ButtonKind::primary, place.app.can_write())) {
      questioned_ = false;
      flow_.put(place.app, draft(place.app));
    }
    ui.end_footer();
  }

  // --- saved
  // -------------------------------------------------------------------------------------------------------

  void draw_saved(const FormPlace& place, Ui& ui) {
    const Words& words = ui.words();
    App& app = place.app;
    const DueItem* next = ask_.corrects.empty() ? next_due(app, ask_) : nullptr;
    ui.begin_content("entry_saved", Sizes::kTarget * (next != nullptr ? 2 : 1) + Sizes::kGrid * 2);
    ui.status("entry/saved_status", Status::done, act_title(words));
    ui.text("entry/saved", words(Message("save.saved").with("time", flow_.saved_at())), TextSize::title,
            Tone::open, true);
    ui.text("entry/brief", brief(words), TextSize::lead);
    draw_gate_news(app, ui);
    draw_round(app, ui);
    ui.gap();
    form_->draw_after(place, ui);
    ui.gap(16);
    const std::string again = form_->again_label(words);
    if (!again.empty() && ask_.corrects.empty()) {
      if (ui.button("entry/again", again)) open_again(app);
      ui.gap();
    }
    if (const std::optional<Act> follow = form_->follow_up()) {
      if (ui.button("entry/follow", act_word(words, *follow)))
        app.replace(make_entry_screen(*follow, ask_.pond));
      ui.gap();
    }
    if (ui.button("entry/take_back", words("entry.take_back"), ButtonKind::quiet) && !flow_.ids().empty()) {
      back_flow_.put(app, app.take_back(flow_.ids().front(), words("entry.take_back.reason")));
    }
    ui.end_content();
    ui.begin_footer();
    if (next != nullptr) {
      if (ui.button("entry/done", words("entry.done"))) app.back();
      ui.gap();
      Message label("entry.next_place");
      label.with("place", Text{pond_name(app, next->pond)});
      std::string text = words(label);
      if (!next->detail.empty()) text += ", " + next->detail;
      // The item belongs to the rounds of this moment: what is needed of it is copied before anything moves.
      const DueItem item = *next;
      if (ui.button("entry/next_place", text, ButtonKind::primary)) {
        app.replace(make_entry_screen(item.act, item.pond, item.detail));
      }
    } else if (ui.button("entry/done", words("entry.done"), ButtonKind::primary)) {
      app.back();
    }
    ui.end_footer();
  }

  // How far the round with this act is, where it leads to several ponds.
  void draw_round(const App& app, Ui& ui) const {
    if (!app.rounds() || !ask_.act || !ask_.corrects.empty()) return;
    int done = 0, all = 0;
    for (const DueItem& item : app.rounds()->items) {
      const bool counts =
          item.state == DueState::now || item.state == DueState::overdue || item.state == DueState::done;
      if (item.act != *ask_.act || !counts) continue;
      ++all;
      if (item.state == DueState::done) ++done;
    }
    if (all < 2) return;
    ui.text("entry/round", ui.words()(Message("entry.round").with("done", bare(done)).with("count", bare(all))),
            TextSize::body, Tone::quiet);
  }

  void draw_taking_back(App& app, Ui& ui) {
    const Words& words = ui.words();
    const bool taken = back_flow_.poll(app) == SaveFlow::State::saved;
    ui.begin_content("entry_taken", taken ? Sizes::kTarget + Sizes::kGrid : 0);
    ui.heading("entry/act", act_title(words));
    ui.text("entry/brief", brief(words), TextSize::lead);
    ui.gap(16);
    if (!taken) {
      back_flow_.draw_waiting(app, ui);
      ui.end_content();
      return;
    }
    ui.text("entry/taken", words(Message("entry.taken_back").with("time", back_flow_.saved_at())),
            TextSize::title, Tone::ink, true);
    ui.text("entry/taken_about", words("entry.taken_back.about"), TextSize::body, Tone::quiet);
    ui.gap(16);
    if (ui.button("entry/again", words("entry.enter_again"))) open_again(app);
    ui.end_content();
    ui.begin_footer();
    if (ui.button("entry/done", words("entry.done"), ButtonKind::primary)) app.back();
    ui.end_footer();
  }

  void open_again(App& app) const {
    EntryAsk again = ask_;
    again.corrects.clear();
    app.replace(std::make_unique<EntryScreen>(std::move(again)));
  }

  EntryAsk ask_;
  bool begun_ = false;
  std::unique_ptr<EntryForm> form_;
  Values at_first_;
  When when_;
  std::vector<Finding> refusals_, findings_;
  std::optional<Values> refused_values_;
  bool questioned_ = false;
  TypedInView in_view_;
  SaveFlow flow_, back_flow_;
};

}  // namespace

std::unique_ptr<Screen> make_entry_screen(Act act, const std::string& pond, const std::string& detail) {
  return std::make_unique<EntryScreen>(EntryAsk{act, {}, pond, detail, {}});
}

std::unique_ptr<Screen> make_correction_screen(const Entry& wrong) {
  if (auto stock = make_stock_correction_screen(wrong)) return stock;
  return std::make_unique<EntryScreen>(
      EntryAsk{std::nullopt, wrong.kind, wrong.pond, {}, to_reference(wrong.id)});
}

std::unique_ptr<Screen> make_entry_screen_of_kind(std::string_view kind, const std::string& pond) {
  return std::make_unique<EntryScreen>(EntryAsk{std::nullopt, std::string(kind), pond, {}, {}});
}

}  // namespace tawny::ui
