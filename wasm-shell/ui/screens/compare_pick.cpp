// Picks one more cycle to stand beside the others: of this pond, or of any other, found by a part of its name.
#include "ui/screens/compare_pick.h"

#include <algorithm>
#include <cctype>
#include <utility>

#include "office/side_by_side.h"
#include "ui/screens/parts.h"
#include "ui/screens/pond_cycles.h"

namespace tawny::ui {
namespace {

constexpr std::size_t kRowsAtFirst = 20, kRowsMore = 30;

// Letters beyond ASCII are compared as they are.
std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

class ComparePickScreen : public Screen {
 public:
  ComparePickScreen(std::string pond, std::shared_ptr<std::vector<CycleChosen>> chosen)
      : pond_(std::move(pond)), chosen_(std::move(chosen)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("compare.add"));
    renew(app, words);
    ui.begin_content("compare_pick");
    bool picked = draw_group(ui, "compare.this_pond", own_, own_.size());
    ui.gap(16);
    if (const auto find = ui.text_field("compare/find", words("compare.find"), find_,
                                        words("compare.find_hint"), "text", 40)) {
      find_ = *find;
      shown_ = kRowsAtFirst;
    }
    std::vector<Row> fit;
    for (const Row& row : others_) {
      if (lower(row.name).find(lower(find_)) != std::string::npos) fit.push_back(row);
    }
    picked = draw_group(ui, "compare.other_ponds", fit, shown_) || picked;
    if (fit.empty()) ui.text("compare/none_found", words("compare.none_found"), TextSize::body, Tone::quiet);
    if (fit.size() > shown_ && ui.button("compare/more", words("pond.history.more"), ButtonKind::quiet)) {
      shown_ += kRowsMore;
    }
    ui.gap(16);
    ui.end_content();
    if (picked) app.back();
  }

 private:
  struct Row {
    CycleChosen cycle;
    std::string name;
  };

  void renew(const App& app, const Words& words) {
    const std::pair<Instant, std::size_t> stand(app.farm().at, app.logbook().size());
    if (stand_ == stand) return;
    stand_ = stand;
    own_.clear();
    others_.clear();
    for (const CycleName& name : cycle_names(app.logbook(), app.farm(), app.now())) {
      const CycleChosen cycle{name.pond, name.start};
      if (std::find(chosen_->begin(), chosen_->end(), cycle) != chosen_->end()) continue;
      const std::string when = cycle_word(words, name.label, name.start, name.end, app.farm().place.offset);
      (name.pond == pond_ ? own_ : others_).push_back({cycle, pond_name(app, name.pond) + ", " + when});
    }
  }

  bool draw_group(Ui& ui, std::string_view title, const std::vector<Row>& rows, std::size_t most) const {
    if (rows.empty()) return false;
    bool picked = false;
    ui.heading(title, ui.words()(title));
    ui.begin_card(std::string(title) + "/card");
    for (std::size_t i = 0; i < std::min(rows.size(), most); ++i) {
      Ui::Row row;
      row.title = rows[i].name;
      const std::string id =
          "compare/pick/" + rows[i].cycle.pond + "/" + std::to_string(rows[i].cycle.start.unix_s);
      if (!ui.row(id, row)) continue;
      chosen_->push_back(rows[i].cycle);
      picked = true;
    }
    ui.end_card();
    return picked;
  }

  std::string pond_;
  std::shared_ptr<std::vector<CycleChosen>> chosen_;
  std::optional<std::pair<Instant, std::size_t>> stand_;
  std::vector<Row> own_, others_;
  std::string find_;
  std::size_t shown_ = kRowsAtFirst;
};

}  // namespace

std::unique_ptr<Screen> make_compare_pick_screen(std::string pond,
                                                 std::shared_ptr<std::vector<CycleChosen>> chosen) {
  return std::make_unique<ComparePickScreen>(std::move(pond), std::move(chosen));
}

}  // namespace tawny::ui
