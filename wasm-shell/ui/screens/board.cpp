#include "ui/screens/board.h"

#include <algorithm>
#include <utility>

#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kTableFrom = 900;  // px of the column at normal text size
constexpr int kNameLength = 40;
constexpr float kUnknownRow = 86, kUnknownCard = 240;  // heights until a row was first drawn

struct Head {
  std::string_view id;
  std::optional<BoardKey> key;
  float width;
};
constexpr Head kHeads[] = {
    {"tick", std::nullopt, 62},        {"level", std::nullopt, 102},        {"pond", BoardKey::walk, 126},
    {"gate", BoardKey::stage, 220},    {"oxygen", BoardKey::oldest, 118},   {"water", std::nullopt, 112},
    {"secchi", BoardKey::secchi, 100}, {"trouble", BoardKey::trouble, 104}, {"next", BoardKey::decision, 128}};

class BoardScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    app.frame_bars(ui, ui.words()("board.title"));
    board_.draw(app, ui);
  }

 private:
  BoardPart board_;
};

}  // namespace

void BoardPart::draw(App& app, Ui& ui, const std::function<void()>& above) {
  renew(app);
  ui.begin_whole_content("board", chosen_.empty() ? 0 : Sizes::kTarget + 2 * Sizes::kGrid);
  draw_app_notices(app, ui);
  if (above) above();
  if (board_.rows.empty()) {
    ui.text("board/none", ui.words()("ponds.none"), TextSize::lead);
    ui.end_content();
    return;
  }
  const bool table = ui.width() >= kTableFrom * ui.text_scale();
  draw_summary(ui);
  draw_filters(app, ui, table);
  if (!table && more_) draw_sort(app, ui);
  if (asked_anew_) {
    shown_ = arrange(board_, ask_);
    asked_anew_ = false;
  }
  if (shown_.size() < board_.rows.size()) {
    ui.text(
        "board/shown",
        ui.words()(
            Message("board.shown").with("count", bare(shown_.size())).with("all", bare(board_.rows.size()))),
        TextSize::body, Tone::quiet);
  }
  if (height_width_ != ui.width()) {
    heights_.clear();
    height_width_ = ui.width();
  }
  if (table) {
    draw_table(app, ui);
  } else {
    draw_cards(app, ui);
  }
  ui.gap(16);
  ui.end_content();
  if (!chosen_.empty()) draw_footer(app, ui);
}

// What was derived from the farm is good until it is folded anew; a pond that is gone is not chosen any more.
void BoardPart::renew(App& app) {
  if (folds_ == app.folds()) return;
  if (folds_ < 0) {
    ask_.key = board_key_of(app.setting("board.sort")).value_or(BoardKey::walk);
    ask_.reversed = app.setting("board.reversed") == "yes";
  }
  folds_ = app.folds();
  board_ = board_of(app.farm(), app.rounds() ? &*app.rounds() : nullptr, app.protocol(), app.now());
  asked_anew_ = true;
  for (auto id = chosen_.begin(); id != chosen_.end();) {
    id = app.farm().pond(*id) == nullptr ? chosen_.erase(id) : std::next(id);
  }
}

void BoardPart::draw_summary(Ui& ui) const {
  const Words& words = ui.words();
  ui.text("board/summary",
          words(Message("board.summary")
                    .with("count", bare(board_.rows.size()))
                    .with("need", bare(board_.need_decision))),
          TextSize::lead, Tone::ink, true);
}

void BoardPart::draw_filters(App& app, Ui& ui, bool table) {
  const Words& words = ui.words();
  const auto count = [&](const auto& holds) {
    return bare(std::count_if(board_.rows.begin(), board_.rows.end(), holds));
  };
  std::vector<Ui::Chip> chips;
  const auto add = [&](std::string id, std::string label, bool on) {
    chips.push_back({std::move(id), std::move(label), on});
  };
  add("decision", words(Message("board.chip.decision").with("number", bare(board_.need_decision))),
      ask_.needs_decision);
  add("trouble", words(Message("board.chip.trouble").with("number", count([](const BoardRow& row) {
                                                            return row.trouble != nullptr;
                                                          }))),
      ask_.trouble);
  add("due", words(Message("board.chip.due").with("number", count(is_due_now))), ask_.due_now);
  for (std::size_t i = 0; i < board_.at_stage.size(); ++i) {
    const auto stage = static_cast<Stage>(i + 1);
    if (board_.at_stage[i] == 0 && ask_.stage != stage) continue;
    if (!table && !more_ && ask_.stage != stage) continue;
    add("stage/" + std::string(name_of(stage)),
        words(Message("board.chip.stage")
                  .with("stage", Text{stage_word(words, stage)})
                  .with("number", bare(board_.at_stage[i]))),
        ask_.stage == stage);
  }
  if (!table) add("more", words("board.chip.more"), more_);
  if (may_choose(app) && !table) add("several", words("board.chip.several"), choosing_);
  if (may_choose(app) && !table && choosing_) add("choose", words("board.chip.choose"), all_chosen());
  ui.gap();
  if (const auto pressed = ui.chips("board/chip", chips)) {
    asked_anew_ = *pressed != "choose" && *pressed != "several" && *pressed != "more";
    if (*pressed == "more") more_ = !more_;
    if (*pressed == "decision") ask_.needs_decision = !ask_.needs_decision;
    if (*pressed == "trouble") ask_.trouble = !ask_.trouble;
    if (*pressed == "due") ask_.due_now = !ask_.due_now;
    for (int number = 1; number <= static_cast<int>(Stage::early_cycle); ++number) {
      const auto stage = static_cast<Stage>(number);
      if (*pressed != "stage/" + std::string(name_of(stage))) continue;
      ask_.stage = ask_.stage == stage ? std::nullopt : std::optional(stage);
    }
    if (*pressed == "several") {
      choosing_ = !choosing_;
      if (!choosing_) chosen_.clear();
    }
    if (*pressed == "choose") choose_all(!all_chosen());
  }
  if (board_.rows.size() < 9 || (!table && !more_)) return;
  if (auto name = ui.text_field("board/name", words("board.name"), ask_.name, words("board.name.hint"), "text",
                                kNameLength)) {
    ask_.name = *std::move(name);
    asked_anew_ = true;
  }
}

void BoardPart::draw_sort(App& app, Ui& ui) {
  const Words& words = ui.words();
  std::vector<Option> options;
  for (const BoardKey key : {BoardKey::walk, BoardKey::decision, BoardKey::stage, BoardKey::secchi,
                             BoardKey::oldest, BoardKey::trouble}) {
    options.push_back({std::string(name_of(key)), words("board.sort." + std::string(name_of(key))), {}, {}});
  }
  if (const auto pressed = ui.choice("board/sort", words("board.sort"), options, name_of(ask_.key))) {
    sort_by(app, *board_key_of(*pressed));
  }
}

void BoardPart::sort_by(App& app, BoardKey key) {
  ask_.reversed = ask_.key == key && !ask_.reversed;
  ask_.key = key;
  app.set_setting("board.sort", name_of(key));
  app.set_setting("board.reversed", ask_.reversed ? "yes" : "no");
  asked_anew_ = true;
}

void BoardPart::draw_table(App& app, Ui& ui) {
  const Words& words = ui.words();
  std::vector<Ui::Column> columns;
  std::string_view sorted;
  for (const Head& head : kHeads) {
    if (head.id == "tick" && !may_choose(app)) continue;
    const bool tick = head.id == "tick";
    columns.push_back({std::string(head.id), words("board.column." + std::string(head.id)), head.width,
                       head.key.has_value(), tick ? std::optional(all_chosen()) : std::nullopt});
    if (head.key == ask_.key) sorted = head.id;
  }
  const auto pressed = ui.begin_table("board/column", columns, sorted, ask_.reversed);
  std::string opened;
  for (std::size_t place = 0; place < shown_.size(); ++place) {
    const BoardRow& row = board_.rows[shown_[place]];
    const std::string& pond = row.pond->history.pond.id;
    const std::string id = "board/row/" + pond;
    float& height = heights_.try_emplace(pond, kUnknownRow).first->second;
    if (ui.skip_unseen(height)) continue;
    ui.begin_table_row(id, board_row_name(words, row), chosen_.count(pond) > 0);
    if (may_choose(app)) {
      tick(ui, place);
      ui.next_column();
    }
    draw_board_cells(app, ui, id, row);
    if (ui.end_table_row(&height)) opened = pond;
  }
  ui.end_table();
  if (shown_.empty()) ui.text("board/nothing", words("board.nothing"));
  if (pressed == "tick") choose_all(!all_chosen());
  if (pressed) {
    for (const Head& head : kHeads) {
      if (head.id == *pressed && head.key) sort_by(app, *head.key);
    }
  }
  if (!opened.empty()) app.open(make_pond_screen(opened));
}

void BoardPart::draw_cards(App& app, Ui& ui) {
  const Words& words = ui.words();
  std::string opened;
  for (std::size_t place = 0; place < shown_.size(); ++place) {
    const BoardRow& row = board_.rows[shown_[place]];
    const std::string& pond = row.pond->history.pond.id;
    const std::string id = "board/row/" + pond;
    float& height = heights_.try_emplace(pond, kUnknownCard).first->second;
    if (ui.skip_unseen(height)) continue;
    ui.begin_card(id, board_row_name(words, row));
    draw_board_card(app, ui, id, row);
    if (choosing_ && may_choose(app)) tick(ui, place);
    if (ui.end_card(&height)) opened = pond;
  }
  if (shown_.empty()) ui.text("board/nothing", words("board.nothing"));
  if (!opened.empty()) app.open(make_pond_screen(opened));
}

bool BoardPart::may_choose(const App& app) const { return app.role() == Role::manager && app.can_write(); }

bool BoardPart::all_chosen() const {
  return !shown_.empty() && std::all_of(shown_.begin(), shown_.end(), [&](std::size_t row) {
    return chosen_.count(board_.rows[row].pond->history.pond.id) > 0;
  });
}

void BoardPart::choose_all(bool choose) {
  for (const std::size_t row : shown_) {
    const std::string& id = board_.rows[row].pond->history.pond.id;
    if (choose) {
      chosen_.insert(id);
    } else {
      chosen_.erase(id);
    }
  }
}

void BoardPart::tick(Ui& ui, std::size_t place) {
  const Pond& pond = board_.rows[shown_[place]].pond->history.pond;
  const bool ticked = chosen_.count(pond.id) > 0;
  if (!ui.tick_box("board/tick/" + pond.id, ui.words()(Message("board.tick").with("pond", Text{pond.name})),
                   ticked))
    return;
  std::size_t from = place;
  if (ui.range_key() && !last_ticked_.empty()) {
    for (std::size_t i = 0; i < shown_.size(); ++i) {
      if (board_.rows[shown_[i]].pond->history.pond.id == last_ticked_) from = i;
    }
  }
  for (std::size_t i = std::min(from, place); i <= std::max(from, place); ++i) {
    const std::string& id = board_.rows[shown_[i]].pond->history.pond.id;
    if (ticked) {
      chosen_.erase(id);
    } else {
      chosen_.insert(id);
    }
  }
  last_ticked_ = pond.id;
}

void BoardPart::draw_footer(App& app, Ui& ui) {
  const Words& words = ui.words();
  ui.begin_footer();
  ui.begin_cells(2);
  if (ui.button("board/choose_none", words("board.choose_none"))) {
    chosen_.clear();
    choosing_ = false;
  }
  ui.next_cell();
  const std::string decide = words(Message("board.decide").with("count", bare(chosen_.size())));
  if (ui.button("board/decide", decide, ButtonKind::primary, may_choose(app))) {
    // In the order in which they are walked.
    std::vector<std::string> ponds;
    for (const BoardRow& row : board_.rows) {
      if (chosen_.count(row.pond->history.pond.id) > 0) ponds.push_back(row.pond->history.pond.id);
    }
    app.open(make_decide_screen(std::move(ponds)));
  }
  ui.end_cells();
  ui.end_footer();
}

std::unique_ptr<Screen> make_board_screen() { return std::make_unique<BoardScreen>(); }

}  // namespace tawny::ui
