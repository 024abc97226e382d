// The protocol: every value by stage and subject, with what counts now beside the standard. On a laptop the
// groups stand on the left and the values of one group on the right; on a phone a group unfolds in its place.
#include <algorithm>
#include <utility>

#include "office/protocol_edit.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"
#include "words/protocol_words.h"

namespace tawny::ui {
namespace {

constexpr float kColumnGap = 24;
constexpr std::size_t kPondsShown = 40;

std::string group_word(const Words& words, std::string_view group) {
  return words("protocol.group." + std::string(group));
}

// Whose protocol is looked at: the farm's, or one pond's.
class WhoseScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("limits.whose"));
    ui.begin_content("protocol_whose");
    if (ui.button("whose/farm", words("limits.of_farm"), ButtonKind::secondary)) {
      app.back();
      app.replace(make_protocol_screen());
    }
    ui.gap();
    std::size_t count = 0;
    for (const FarmPond& pond : app.farm().ponds) {
      if (++count > shown_) break;
      const std::string& id = pond.history.pond.id;
      if (!ui.button("whose/" + id, pond.history.pond.name, ButtonKind::quiet)) continue;
      const std::string chosen = id;
      app.back();
      app.replace(make_protocol_screen(chosen));
    }
    if (count > shown_ && ui.button("whose/more", words("stock.more"), ButtonKind::quiet))
      shown_ += kPondsShown;
    ui.end_content();
  }

 private:
  std::size_t shown_ = kPondsShown;
};

class ProtocolScreen : public Screen {
 public:
  explicit ProtocolScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    refresh(app);
    const Words& words = ui.words();
    app.frame_bars(ui, words("limits.title"));
    ui.begin_content("protocol", 0, true);
    const bool beside = ui.columns() > 1;
    ui.begin_cells(ui.columns(), kColumnGap);
    draw_head(app, ui);
    ui.begin_card("protocol/groups");
    for (const std::string& group : groups_) draw_group(app, ui, group, beside);
    ui.end_card();
    if (beside) {
      if (open_.empty()) open_ = groups_.front();
      ui.next_cell();
      ui.heading("protocol/group", group_word(words, open_));
      ui.begin_card("protocol/values");
      draw_values(app, ui, open_);
      ui.end_card();
    }
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
  }

 private:
  void refresh(const App& app) {
    const std::pair now(app.farm().at, app.logbook().size());
    if (stand_ == now) return;
    stand_ = now;
    book_ = read_protocol_changes(app.logbook(), app.protocol());
    rows_ = protocol_rows(book_, app.protocol(), pond_, app.now());
    groups_ = protocol_groups(app.protocol());
    crossed_ = standing_contradictions(book_, app.farm(), app.protocol(), app.now());
  }

  void draw_head(App& app, Ui& ui) {
    const Words& words = ui.words();
    const std::string whose = pond_.empty()
                                  ? words("limits.of_farm")
                                  : words(Message("limits.of_pond").with("pond", Text{pond_name(app, pond_)}));
    if (ui.button("protocol/whose", whose, ButtonKind::secondary, true, "ponds")) {
      app.open(std::make_unique<WhoseScreen>());
    }
    ui.gap();
    ui.text("protocol/about", words("limits.about"), TextSize::body, Tone::quiet);
    if (const char* why_not = app.why_no_decision())
      ui.notice("protocol/manager_only", Tone::quiet, words(why_not));
    int number = 0;
    for (const Problem& problem : crossed_) {
      ui.notice("protocol/crossed/" + std::to_string(++number), Tone::alarm, words(problem.message));
    }
    for (const Message& problem : book_.problems) {
      ui.notice("protocol/problem/" + std::to_string(++number), Tone::warn, words(problem));
    }
    ui.gap();
    if (ui.checkbox("protocol/only_own", words("limits.only_own"), only_own_)) only_own_ = !only_own_;
    ui.gap();
  }

  bool is_shown(const ProtocolRow& row, const std::string& group) const {
    return group_of(row.path) == group && (!only_own_ || row.since != nullptr || !row.coming.empty());
  }

  void draw_group(App& app, Ui& ui, const std::string& group, bool beside) {
    const Words& words = ui.words();
    std::size_t values = 0, own = 0;
    for (const ProtocolRow& row : rows_) {
      if (!is_shown(row, group)) continue;
      ++values;
      if (row.since != nullptr) ++own;
    }
    if (values == 0) return;
    const bool unfolded = open_ == group && !beside;
    Ui::Row row;
    row.title = group_word(words, group);
    row.unfolds = !beside;
    row.unfolded = unfolded;
    row.remark = words(Message("limits.values").with("count", bare(values)));
    if (own > 0) {
      row.status = Status::due;
      row.word = words(Message("limits.own_values").with("count", bare(own)));
    }
    if (ui.row("protocol/" + group, row)) {
      open_ = unfolded ? std::string() : group;
      if (beside) ui.scroll_to_top();
    }
    if (unfolded) draw_values(app, ui, group);
  }

  // Inside a card.
  void draw_values(App& app, Ui& ui, const std::string& group) const {
    const Words& words = ui.words();
    bool any = false;
    for (const ProtocolRow& each : rows_) {
      if (!is_shown(each, group)) continue;
      any = true;
      const std::string value = protocol_value(words, each.counts);
      Ui::Row row;
      row.title = protocol_name(words, each.path);
      row.name = row.title + ", " + value;
      if (each.since != nullptr) {
        row.status = Status::due;
        row.word = value;
        row.remark =
            words(Message("limits.standard_is").with("value", Text{protocol_value(words, *each.standard)}));
      } else {
        row.remark = value + " \u00b7 " + each.counts.mark;
      }
      if (!each.coming.empty()) {
        row.remark +=
            " \u00b7 " + words(Message("limits.from").with("from", counts_from(*each.coming.front())));
      }
      if (ui.row("protocol/value/" + each.path, row)) app.open(make_protocol_value_screen(each.path, pond_));
    }
    if (!any) ui.text("protocol/none", words("limits.none_own"), TextSize::body, Tone::quiet);
  }

  std::string pond_;
  std::optional<std::pair<Instant, std::size_t>> stand_;  // of farm and logbook when it was read
  ProtocolBook book_;
  std::vector<ProtocolRow> rows_;
  std::vector<std::string> groups_;
  std::vector<Problem> crossed_;
  std::string open_;
  bool only_own_ = false;
};

}  // namespace

std::unique_ptr<Screen> make_protocol_screen(const std::string& pond) {
  return std::make_unique<ProtocolScreen>(pond);
}

}  // namespace tawny::ui
