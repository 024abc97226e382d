// The high and low waters before a pond's gate, as they stand in the port's table moved to the pond's gauge.
#include <algorithm>
#include <utility>

#include "farm/inlet_setup.h"
#include "logbook/kinds.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

// A water that is over this long is of no use to a plan, except the last before it.
constexpr double kKeptHours = 24;

class TideScreen : public Screen {
 public:
  explicit TideScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, words("tide.title"));
    begin_form(app, ui, "tide");
    ui.text("tide/about", words("tide.about"), TextSize::body, Tone::quiet);
    ui.gap();
    if (ui.button("tide/add", words("tide.add"), ButtonKind::secondary, true, "plus")) ask_point(app);
    ui.gap();
    if (!points_.empty()) draw_points(app, ui);
    const std::vector<Option> scopes = {{"pond", pond_name(app, pond_), {}, {}},
                                        {"farm", words("tide.every_pond"), {}, {}}};
    if (app.farm().ponds.size() > 1) {
      const std::string chosen = for_farm_ ? "farm" : "pond";
      if (auto scope = ui.choice("tide/scope", words("tide.scope"), scopes, chosen)) {
        for_farm_ = *scope == "farm";
      }
      if (for_farm_) ui.text("tide/scope/about", words("tide.scope.about"), TextSize::body, Tone::quiet);
    }
    if (problem_) ui.notice("tide/problem", Tone::alarm, words(problem_->message));
    ui.end_content();
    const bool enough = points_.size() > 1;
    if (save_footer(app, ui, words(enough ? "form.save" : "tide.needs"), enough)) save(app);
  }
  bool holds_unsaved() const override { return changed_; }

 private:
  void start(const App& app) {
    started_ = true;
    const FarmPond* pond = app.farm().pond(pond_);
    if (pond == nullptr || !pond->tide) return;
    for_farm_ = !pond->own_tide;
    points_ = pond->tide->points();
    while (points_.size() > 1 && hours_between(points_[1].at, app.now()) > kKeptHours) {
      points_.erase(points_.begin());
    }
  }

  void draw_points(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_card("tide/points");
    std::optional<std::size_t> pressed;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const double other = points_[i == 0 ? 1 % points_.size() : i - 1].level_cm;
      const std::string level = words.quantity({points_[i].level_cm, 0, "cm"});
      const std::string time = words.time(points_[i].at);
      const std::string kind = points_[i].level_cm == other
                                   ? std::string()
                                   : words(points_[i].level_cm > other ? "tide.high" : "tide.low");
      const std::string title =
          words(Message("tide.point").with("time", Text{capitalised(time)}).with("level", Text{level}));
      Ui::Row row;
      row.title = title;
      row.remark = kind;
      if (ui.row("tide/point/" + std::to_string(i), row)) pressed = i;
    }
    ui.end_card();
    ui.gap();
    if (pressed) ask_level(app, points_[*pressed].at, points_[*pressed].level_cm);
  }

  void ask_point(App& app) {
    MomentAsk ask;
    ask.title = app.ui().words()("tide.add");
    ask.about = app.ui().words()("tide.when");
    if (!points_.empty()) ask.day_of = points_.back().at;
    app.open(make_moment_screen(std::move(ask),
                                [this](App& then, Instant at) { ask_level(then, at, std::nullopt); }));
  }

  void ask_level(App& app, Instant at, std::optional<double> present) {
    const Words& words = app.ui().words();
    NumberAsk ask;
    ask.title = words(Message("tide.level").with("time", at));
    ask.unit = "cm";
    ask.decimals = 0;
    ask.sign = true;
    ask.present = present;
    if (present) {
      ask.clear = words("tide.remove");
      ask.on_clear = [this, at](App&) { remove(at); };
    }
    app.open(make_number_screen(std::move(ask), [this, at](App&, double level_cm) {
      remove(at);
      const auto next =
          std::find_if(points_.begin(), points_.end(), [at](const TidePoint& point) { return at < point.at; });
      points_.insert(next, TidePoint{at, level_cm});
    }));
  }

  void remove(Instant at) {
    changed_ = true;
    points_.erase(
        std::remove_if(points_.begin(), points_.end(), [at](const TidePoint& point) { return point.at == at; }),
        points_.end());
  }

  void save(App& app) {
    Draft draft;
    draft.kind = kind::kTideTable;
    if (!for_farm_) draft.pond = pond_;
    draft.values = tide_table_values(points_);
    if (const Result<TideTable> table = read_tide_table(as_entry(draft)); !table) {
      problem_ = table.error();
      return;
    }
    problem_.reset();
    changed_ = false;
    app.put({std::move(draft)}, [&app] { app.back(); });
  }

  std::string pond_;
  bool started_ = false, changed_ = false, for_farm_ = false;
  std::vector<TidePoint> points_;
  std::optional<Problem> problem_;
};

}  // namespace

std::unique_ptr<Screen> make_tide_screen(const std::string& pond) { return std::make_unique<TideScreen>(pond); }

}  // namespace tawny::ui
