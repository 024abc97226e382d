// Gives ponds to persons, several at once: one person of the crew is picked, then the ponds are ticked.
#include <algorithm>
#include <map>
#include <memory>
#include <set>

#include "farm/own_ponds.h"
#include "logbook/kinds.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kFooter = Sizes::kTarget + 2 * Sizes::kGrid;
constexpr float kBox = 300;  // least width of a pond's box

class PersonsScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    renew(app);
    app.frame_bars(ui, words("plan.persons"));
    const bool changed = picked_ && !changes(app).empty();
    ui.begin_content("persons", changed ? kFooter : 0);
    draw_app_notices(app, ui);
    draw_act_left_behind(app, ui);
    ui.text("persons/about", words("persons.about"), TextSize::body, Tone::quiet);
    ui.gap();
    if (crew_.empty()) {
      ui.notice("persons/nobody_here", Tone::quiet, words("persons.nobody_here"));
    } else {
      draw_crew(ui);
      if (picked_) draw_ponds(app, ui);
    }
    ui.gap(16);
    ui.end_content();
    if (changed) draw_footer(app, ui);
  }

  bool holds_unsaved() const override { return touched_; }

 private:
  void renew(const App& app) {
    if (saved_ && *saved_) {
      saved_.reset();
      touched_ = false;
      folds_ = -1;
    }
    if (folds_ == app.folds()) return;
    folds_ = app.folds();
    crew_ = crew_of(app.farm());
    if (!touched_) read_present(app);
  }

  // What the picked person has now stands ticked.
  void read_present(const App& app) {
    ticked_.clear();
    if (!picked_) return;
    for (const FarmPond& pond : app.farm().ponds) {
      const std::string* person = person_of(pond, picked_->role);
      if (person != nullptr && *person == picked_->person) ticked_.insert(pond.history.pond.id);
    }
  }

  void draw_crew(Ui& ui) {
    const Words& words = ui.words();
    std::vector<Option> options;
    std::string selected;
    for (std::size_t i = 0; i < crew_.size(); ++i) {
      Option option;
      option.id = std::to_string(i);
      option.label = words(Message("persons.member")
                               .with("person", Text{crew_[i].person})
                               .with("role", Word{"role." + std::string(name_of(crew_[i].role))}));
      if (picked_ == crew_[i]) selected = option.id;
      options.push_back(std::move(option));
    }
    const auto pressed = ui.choice("persons/who", words("persons.who"), options, selected);
    if (!pressed || *pressed == selected) return;
    picked_ = crew_[static_cast<std::size_t>(std::stoul(*pressed))];
    touched_ = false;
    folds_ = -1;
  }

  void draw_ponds(App& app, Ui& ui) {
    const Words& words = ui.words();
    const std::vector<FarmPond>& ponds = app.farm().ponds;
    ui.gap(16);
    ui.heading("persons/ponds", words("persons.ponds"));
    const bool all = ticked_.size() == ponds.size();
    if (ui.checkbox("persons/all", words("persons.all"), all)) {
      touched_ = true;
      ticked_.clear();
      for (const FarmPond& pond : ponds) {
        if (!all) ticked_.insert(pond.history.pond.id);
      }
    }
    ui.gap();
    // Row by row of boxes: what is far from the view keeps its place undrawn.
    const auto columns = static_cast<std::size_t>(std::max(1, static_cast<int>(ui.width() / kBox)));
    for (std::size_t at = 0; at < ponds.size(); at += columns) {
      float& height = heights_.try_emplace(std::pair(at, ui.width()), 0).first->second;
      if (ui.skip_unseen(height)) continue;
      ui.begin_cells(static_cast<int>(columns));
      const float top = ui.down();
      for (std::size_t i = at; i < std::min(at + columns, ponds.size()); ++i) {
        if (i > at) ui.next_cell();
        draw_pond(ui, ponds[i]);
      }
      ui.end_cells();
      height = ui.down() - top;
    }
  }

  void draw_pond(Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    const std::string& id = pond.history.pond.id;
    const std::string* person = person_of(pond, picked_->role);
    const std::string label =
        words(Message("persons.row")
                  .with("pond", Text{pond.history.pond.name})
                  .with("person", Text{person == nullptr ? words("key.person.none") : *person}));
    if (!ui.checkbox("persons/tick/" + id, label, ticked_.count(id) > 0)) return;
    touched_ = true;
    if (ticked_.erase(id) == 0) ticked_.insert(id);
  }

  // One entry for each pond that changes hands.
  std::vector<Draft> changes(const App& app) const {
    std::vector<Draft> drafts;
    for (const FarmPond& pond : app.farm().ponds) {
      const std::string* person = person_of(pond, picked_->role);
      const bool has = person != nullptr && *person == picked_->person;
      const bool ticked = ticked_.count(pond.history.pond.id) > 0;
      if (has == ticked) continue;
      Draft draft;
      draft.kind = std::string(kind::kPondPerson);
      draft.pond = pond.history.pond.id;
      draft.observed = app.now();
      draft.values = pond_person_values({picked_->role, ticked ? picked_->person : std::string()});
      drafts.push_back(std::move(draft));
    }
    return drafts;
  }

  void draw_footer(App& app, Ui& ui) {
    const Words& words = ui.words();
    const bool saving = app.news().state == SaveNews::State::saving;
    ui.begin_footer();
    if (ui.button("save", words(saving ? "save.saving" : "form.save"), ButtonKind::primary,
                  !saving && app.can_write() && app.role() == Role::manager)) {
      // The store may answer when this screen is gone.
      saved_ = std::make_shared<bool>(false);
      app.put(changes(app), [saved = saved_] { *saved = true; });
    }
    ui.end_footer();
  }

  int folds_ = -1;
  std::vector<CrewMember> crew_;
  std::optional<CrewMember> picked_;
  std::set<std::string> ticked_;  // ponds that are to be the picked person's
  bool touched_ = false;
  std::shared_ptr<bool> saved_;
  std::map<std::pair<std::size_t, float>, float> heights_;  // of rows as last drawn, by first pond and width
};

}  // namespace

std::unique_ptr<Screen> make_persons_screen() { return std::make_unique<PersonsScreen>(); }

}  // namespace tawny::ui
