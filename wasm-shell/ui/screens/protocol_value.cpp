// One value of the protocol: what counts, where it comes from, who changed it and why; the manager changes it
// here, for the farm or for one pond, from a moment on.
#include <algorithm>
#include <cmath>
#include <utility>

#include "office/protocol_edit.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"
#include "words/protocol_words.h"

namespace tawny::ui {
namespace {

constexpr int kReasonLength = 300;
constexpr double kPercent = 100;

std::vector<std::string> items_of(const ProtocolValue& value) {
  if (const auto* list = std::get_if<std::vector<std::string>>(&value.value)) return *list;
  if (const auto* text = std::get_if<std::string>(&value.value)) return {*text};
  return {};
}

class ProtocolValueScreen : public Screen {
 public:
  ProtocolValueScreen(std::string path, std::string pond) : path_(std::move(path)), pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    refresh(app);
    const Words& words = ui.words();
    app.frame_bars(ui, words(editing_ ? "limits.change" : "limits.value"));
    begin_form(app, ui, editing_ ? "protocol_change" : "protocol_value");
    ui.heading("value/name", protocol_name(words, path_), 1);
    ui.text("value/group", words("protocol.group." + group_of(path_)), TextSize::body, Tone::quiet);
    if (!row_) {
      ui.notice("value/gone", Tone::quiet, words("limits.gone"));
      ui.end_content();
      return;
    }
    if (editing_) {
      draw_editor(app, ui);
    } else {
      draw_value(ui);
      draw_ways(app, ui);
      draw_history(app, ui);
      ui.gap(16);
    }
    ui.end_content();
    if (editing_ && save_footer(app, ui, words(back_to_default_ ? "limits.take_back" : "form.save"), true))
      save(app);
  }

  bool holds_unsaved() const override { return editing_; }

 private:
  void refresh(const App& app) {
    const std::pair now(app.farm().at, app.logbook().size());
    if (stand_ == now) return;
    stand_ = now;
    book_ = read_protocol_changes(app.logbook(), app.protocol());
    row_.reset();
    for (ProtocolRow& row : protocol_rows(book_, app.protocol(), pond_, app.now())) {
      if (row.path == path_) row_ = std::move(row);
    }
  }

  std::string whose(const App& app, const Words& words) const {
    return pond_.empty() ? words("limits.of_farm")
                         : words(Message("limits.of_pond").with("pond", Text{pond_name(app, pond_)}));
  }

  void draw_value(Ui& ui) const {
    const Words& words = ui.words();
    ui.gap();
    ui.text("value/counts", protocol_value(words, row_->counts), TextSize::title, Tone::ink, true);
    ui.text("value/source", protocol_source(words, row_->counts), TextSize::body, Tone::quiet);
    ui.gap();
    ui.begin_card("value/card");
    ui.fact("value/standard", words("limits.standard"), protocol_value(words, *row_->standard));
    ui.fact("value/farm", words("limits.farms_own"),
            row_->farm ? protocol_value(words, *row_->farm) : words("limits.as_standard"));
    if (!pond_.empty()) {
      ui.fact("value/pond", words("limits.ponds_own"),
              row_->pond ? protocol_value(words, *row_->pond) : words("limits.as_farm"));
    }
    if (row_->since != nullptr) {
      ui.rule();
      ui.text("value/standard_source", protocol_source(words, *row_->standard), TextSize::body, Tone::quiet);
    }
    ui.end_card();
    ui.gap(16);
  }

  bool has_own() const { return pond_.empty() ? row_->farm.has_value() : row_->pond.has_value(); }

  void draw_ways(App& app, Ui& ui) {
    const Words& words = ui.words();
    if (const char* why_not = app.why_no_decision()) {
      ui.notice("value/manager_only", Tone::quiet, words(why_not));
      return;
    }
    if (ui.button("value/change", words(Message("limits.change_for").with("whose", Text{whose(app, words)})),
                  ButtonKind::primary, app.can_write())) {
      start(false);
    }
    ui.gap();
    if (has_own() &&
        ui.button("value/take_back", words(pond_.empty() ? "limits.back_to_standard" : "limits.back_to_farm"),
                  ButtonKind::secondary, app.can_write())) {
      start(true);
    }
    ui.gap(16);
  }

  void draw_history(App& app, Ui& ui) const {
    const Words& words = ui.words();
    ui.heading("value/history", words("limits.history"));
    bool any = false;
    ui.begin_card("value/history/card");
    for (auto change = book_.changes.rbegin(); change != book_.changes.rend(); ++change) {
      if (change->path != path_) continue;
      // On the farm's page the ponds' own changes are told, too.
      if (!pond_.empty() && !change->entry->pond.empty() && change->entry->pond != pond_) continue;
      any = true;
      draw_change(app, ui, *change);
    }
    if (!any) ui.text("value/history/none", words("limits.history.none"), TextSize::body, Tone::quiet);
    ui.end_card();
  }

  void draw_change(App& app, Ui& ui, const ProtocolChange& change) const {
    const Words& words = ui.words();
    const std::string reference = to_reference(change.entry->id);
    const std::string* reason = change.entry->text("reason");
    ProtocolValue value = *row_->standard;
    if (const auto* number = std::get_if<double>(&change.value)) value.value = *number;
    if (const auto* flag = std::get_if<bool>(&change.value)) value.value = *flag;
    if (const auto* text = std::get_if<std::string>(&change.value)) value.value = *text;
    const std::string where =
        change.entry->pond.empty() ? words("limits.of_farm") : pond_name(app, change.entry->pond);
    Ui::Row row;
    row.title = change.to_default ? words(Message("limits.taken_back").with("whose", Text{where}))
                                  : words(Message("limits.set_to")
                                              .with("whose", Text{where})
                                              .with("value", Text{protocol_value(words, value)}));
    row.status = counts_from(change) > app.now() ? Status::waiting : Status::done;
    row.word = words(Message("limits.from").with("from", counts_from(change)));
    row.remark = change.entry->who + (reason == nullptr ? "" : " \u00b7 " + *reason);
    if (ui.row("value/change/" + reference, row)) app.open(make_logbook_entry_screen(reference));
  }

  // --- the editor
  void start(bool back_to_default) {
    editing_ = true;
    back_to_default_ = back_to_default;
    problem_.reset();
    reason_.clear();
    from_.reset();
    items_ = items_of(row_->counts);
    const ProtocolValue& value = row_->counts;
    if (const double* number = std::get_if<double>(&value.value)) {
      const bool share = value.unit == "share";
      number_.unit = share ? "percent" : value.unit;
      number_.decimals = is_whole(path_, value.unit) ? 0 : 3;
      number_.sign = value.unit == "min" || value.unit == "c";
      number_.value = share ? *number * kPercent : *number;
    }
    if (const bool* flag = std::get_if<bool>(&value.value)) flag_ = *flag;
  }

  void draw_editor(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.gap();
    ui.text("value/whose", whose(app, words), TextSize::lead, Tone::ink, true);
    ui.fact("value/now", words("limits.now"), protocol_value(words, row_->counts));
    ui.fact("value/standard", words("limits.standard"), protocol_value(words, *row_->standard));
    ui.gap();
    if (!back_to_default_) draw_input(app, ui);
    draw_from(app, ui);
    ui.gap();
    if (auto text = ui.text_field("value/reason", words("key.reason"), reason_, words("form.reason.hint"),
                                  "note", kReasonLength)) {
      reason_ = *std::move(text);
    }
    ui.gap();
    if (problem_) {
      ui.notice("value/problem", Tone::alarm, words(problem_->message));
      ui.gap();
    }
    if (ui.button("value/leave", words("limits.leave"), ButtonKind::quiet)) editing_ = false;
  }

  void draw_input(App& app, Ui& ui) {
    const Words& words = ui.words();
    const ProtocolValue& value = row_->counts;
    if (value.unit == "min_of_day") {
      draw_time(app, ui);
    } else if (std::holds_alternative<double>(value.value)) {
      number_field(app, ui, number_);
    } else if (std::holds_alternative<bool>(value.value)) {
      if (ui.checkbox("value/flag", protocol_name(words, path_), flag_)) flag_ = !flag_;
    } else {
      draw_items(app, ui);
    }
    ui.gap();
  }

  void draw_time(App& app, Ui& ui) {
    const Words& words = ui.words();
    const UtcOffset offset = app.farm().place.offset;
    const CivilDay today = civil_day(app.now(), offset);
    const Instant shown = instant_at(today, static_cast<int>(number_.value.value_or(0)) * 60, offset);
    if (!ui.value_field("value/time", words("form.protocol_value"), words.clock(shown), "")) return;
    MomentAsk ask;
    ask.title = protocol_name(words, path_);
    ask.present = shown;
    // The form stands under the screen that asks.
    app.open(make_moment_screen(std::move(ask), [this, offset](App&, Instant moment) {
      number_.value = second_of_day(moment, offset) / 60;
    }));
  }

  std::vector<std::string> choices_for(const App& app) const {
    std::vector<std::string> choices = choices_of(path_);
    if (!choices.empty()) return choices;
    for (const Product& product : app.products()) {
      if (product.allowed) choices.push_back(product.id);
    }
    return choices;
  }

  void draw_items(const App& app, Ui& ui) {
    const Words& words = ui.words();
    const std::vector<std::string> choices = choices_for(app);
    if (std::holds_alternative<std::string>(row_->counts.value)) {
      std::vector<Option> options;
      for (const std::string& choice : choices)
        options.push_back({choice, protocol_item(words, choice), {}, {}});
      const std::string present = items_.empty() ? std::string() : items_.front();
      if (auto chosen = ui.choice("value/item", words("form.protocol_value"), options, present))
        items_ = {*chosen};
      return;
    }
    for (const std::string& choice : choices) {
      const auto there = std::find(items_.begin(), items_.end(), choice);
      if (!ui.checkbox("value/item/" + choice, protocol_item(words, choice), there != items_.end())) continue;
      if (there != items_.end()) {
        items_.erase(there);
      } else {
        items_.push_back(choice);
      }
    }
  }

  void draw_from(App& app, Ui& ui) {
    const Words& words = ui.words();
    const std::string shown = from_ ? words.time(*from_) : words("limits.from_now");
    if (!ui.value_field("value/from", words("key.from"), shown, "", words("limits.from.hint"))) return;
    MomentAsk ask;
    ask.title = words("key.from");
    ask.present = from_;
    ask.day_of = app.now().plus_h(24);
    app.open(make_moment_screen(std::move(ask), [this](App&, Instant moment) { from_ = moment; }));
  }

  void save(App& app) {
    ProtocolAsk ask;
    ask.path = path_;
    ask.pond = pond_;
    ask.to_default = back_to_default_;
    ask.from = from_.value_or(app.now());
    ask.reason = reason_;
    const ProtocolValue& value = row_->counts;
    if (std::holds_alternative<double>(value.value)) {
      const double typed = number_.value.value_or(0);
      ask.value = value.unit == "share" ? typed / kPercent : typed;
    } else if (std::holds_alternative<bool>(value.value)) {
      ask.value = flag_;
    } else {
      std::string list;
      for (const std::string& choice : choices_for(app)) {
        if (std::find(items_.begin(), items_.end(), choice) == items_.end()) continue;
        list += (list.empty() ? "" : ",") + choice;
      }
      ask.value = list;
    }
    Result<Draft> draft = change_protocol(book_, app.farm(), app.protocol(), ask, app.now());
    if (!draft) {
      problem_ = draft.error();
      return;
    }
    problem_.reset();
    editing_ = false;
    app.put({*std::move(draft)});
  }

  std::string path_, pond_;
  std::optional<std::pair<Instant, std::size_t>> stand_;  // of farm and logbook when it was read
  ProtocolBook book_;
  std::optional<ProtocolRow> row_;
  bool editing_ = false, back_to_default_ = false, flag_ = false;
  NumberField number_{"value/protocol_value", "", 2, {}};
  std::vector<std::string> items_;
  std::optional<Instant> from_;
  std::string reason_;
  std::optional<Problem> problem_;
};

}  // namespace

std::unique_ptr<Screen> make_protocol_value_screen(const std::string& path, const std::string& pond) {
  return std::make_unique<ProtocolValueScreen>(path, pond);
}

}  // namespace tawny::ui
