// The plan: booked deliveries of postlarvae against the days that their ponds need. On a laptop a calendar
// whose marks can be dragged, on a phone a column of bookings; both show what a move would change before it is
// saved.
#include <algorithm>
#include <cmath>
#include <map>

#include "logbook/kinds.h"
#include "ui/screens/outlook_card.h"
#include "ui/screens/parts.h"
#include "ui/screens/plan_calendar.h"
#include "ui/screens/plan_conflicts.h"
#include "ui/screens/plan_work.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kColumnGap = 24;
constexpr float kUnknownRow = 84;  // until a row was first drawn
constexpr float kFooter = Sizes::kTarget + 2 * Sizes::kGrid;

class PlanScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    work_.refresh(app);
    end_saved_move();
    if (move_ && booking(move_->booking) == nullptr) move_.reset();
    app.frame_bars(ui, words("plan.title"));
    const bool moving = is_moving();
    if (ui.wide()) {
      ui.begin_whole_content("plan", moving ? kFooter : 0);
    } else {
      ui.begin_content("plan", moving ? kFooter : 0);
    }
    draw_app_notices(app, ui);
    if (draw_act_left_behind(app, ui)) ui.gap(16);
    for (std::size_t i = 0; i < work_.bookings().problems.size(); ++i) {
      ui.notice("plan/problem/" + std::to_string(i), Tone::warn, words(work_.bookings().problems[i]));
      ui.gap(8);
    }
    if (height_width_ != ui.width()) {
      heights_.clear();
      card_heights_.clear();
      conflicts_.forget_heights();
      height_width_ = ui.width();
    }
    if (ui.wide()) {
      draw_calendar_part(app, ui);
      ui.gap(16);
      ui.begin_cells(ui.columns(), kColumnGap);
      draw_picked(app, ui);
      ui.next_cell();
      draw_conflicts(app, ui);
      ui.gap(16);
      draw_ways(app, ui);
      ui.end_cells();
    } else {
      draw_bookings(app, ui);
      draw_conflicts(app, ui);
      ui.gap(16);
      draw_ways(app, ui);
    }
    ui.gap(16);
    ui.end_content();
    if (moving) draw_move_footer(app, ui);
  }

  bool holds_unsaved() const override { return is_moving(); }

 private:
  struct Move {
    std::string booking;
    CivilDay was;
    double days = 0;  // how far it was dragged
    CivilDay to() const { return was.plus(static_cast<int>(std::lround(days))); }
  };

  bool is_moving() const { return move_ && move_->to() != move_->was; }

  void end_saved_move() {
    if (!saved_ || !*saved_) return;
    move_.reset();
    saved_.reset();
  }

  // As it is saved.
  const BookingPlan* booking(std::string_view name) const { return work_.plan().find(name); }

  // As it would be, while a delivery is being moved.
  const Plan& plan(const App& app) {
    return is_moving() ? work_.moved(app, move_->booking, move_->to()).plan : work_.plan();
  }

  void move_by(const BookingPlan& one, double days) {
    if (!move_ || move_->booking != one.booking.booking)
      move_ = Move{one.booking.booking, one.booking.deliver_on, 0};
    move_->days += days;
    // Nothing is delivered yesterday.
    const double least = work_.plan().today.days - move_->was.days;
    move_->days = std::max(move_->days, std::min(0.0, least));
  }

  void draw_calendar_part(App& app, Ui& ui) {
    const Words& words = ui.words();
    if (work_.plan().bookings.empty()) ui.text("plan/none", words("plan.none"), TextSize::lead);
    renew_calendar(app, ui);
    const Rect where = ui.picture("plan/calendar", words("plan.calendar"), calendar_height(ui, calendar_));
    const CalendarTouch touched = draw_calendar(ui, "plan/days", where, calendar_);
    if (!touched.dragged.empty()) {
      const std::string name = booking_of_mark(touched.dragged);
      if (const BookingPlan* one = booking(name); one != nullptr && app.can_write()) {
        picked_ = name;
        move_by(*one, touched.days);
        ui.want_frames(2);
      }
    } else if (!touched.pressed.empty()) {
      const std::string name = booking_of_mark(touched.pressed);
      if (name != picked_) move_.reset();
      picked_ = name;
    } else if (touched.elsewhere) {
      move_.reset();
      picked_.clear();
    }
  }

  // The words of every row are made once for what they tell, not once a frame.
  void renew_calendar(App& app, const Ui& ui) {
    CalendarOf of;
    of.folds = app.folds();
    of.language = app.language();
    of.night = app.night();
    of.picked = picked_;
    if (move_) of.was = move_->was;
    if (is_moving()) of.to = move_->to();
    if (calendar_of_ == of) return;
    calendar_of_ = of;
    CalendarAsk ask;
    ask.picked = picked_;
    ask.was = of.was;
    calendar_ = plan_calendar(app, ui, plan(app), work_.plan(), ask);
  }

  void draw_picked(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("plan/delivery", words("plan.deliveries"));
    const Plan& shown = plan(app);
    const BookingPlan* one = shown.find(picked_);
    if (one == nullptr) {
      ui.text("plan/hint", words("plan.hint"), TextSize::body, Tone::quiet);
      ui.gap(8);
      const auto is_coming = [](const BookingPlan& each) { return each.state != BookingState::past; };
      if (std::any_of(shown.bookings.begin(), shown.bookings.end(), is_coming)) {
        ui.begin_card("plan/lines");
        for (const BookingPlan& each : shown.bookings) {
          if (is_coming(each)) draw_line(app, ui, each);
        }
        ui.end_card();
      }
    } else {
      draw_booking(app, ui, *one, true);
    }
    ui.gap(8);
    if (ui.button("plan/add", words("plan.add"), ButtonKind::secondary, app.can_write())) {
      app.open(make_booking_screen({}));
    }
    draw_past(app, ui, shown);
  }

  // Of a long list only what is near the view is drawn; a shorter one stands whole in the screen model, where a
  // screen reader goes through it.
  bool is_long(const App& app) {
    constexpr std::size_t kWhole = 60;
    return plan(app).bookings.size() > kWhole;
  }

  void draw_line(App& app, Ui& ui, const BookingPlan& one) {
    const std::string id = "plan/booking/" + one.booking.booking;
    float& height = heights_.try_emplace(one.booking.booking, kUnknownRow).first->second;
    if (is_long(app) && ui.skip_unseen_row(height)) return;
    const Words& words = ui.words();
    Ui::Row row;
    row.title = title_of(app, words, one);
    row.name = booking_name(app, words, one);
    row.status = status_of_plan(one);
    row.word = words(slack_message(one));
    row.remark = words(chance_message(one));
    if (ui.row(id, row, &height)) {
      picked_ = one.booking.booking;
      move_.reset();
    }
  }

  void draw_bookings(App& app, Ui& ui) {
    const Words& words = ui.words();
    const Plan& shown = plan(app);
    if (shown.bookings.empty()) ui.text("plan/none", words("plan.none"), TextSize::lead);
    for (const BookingPlan& one : shown.bookings) {
      if (one.state == BookingState::past) continue;
      const bool picked = one.booking.booking == picked_;
      if (picked) {
        draw_booking(app, ui, one, false);
      } else {
        float& height = card_heights_.try_emplace(one.booking.booking, kUnknownRow).first->second;
        if (!is_long(app) || !ui.skip_unseen(height)) {
          ui.begin_card("plan/card/" + one.booking.booking);
          draw_line(app, ui, one);
          ui.end_card(&height);
        }
      }
      ui.gap(8);
    }
    if (ui.button("plan/add", words("plan.add"), ButtonKind::secondary, app.can_write())) {
      app.open(make_booking_screen({}));
    }
    draw_past(app, ui, shown);
    ui.gap(16);
  }

  static std::string title_of(const App& app, const Words& words, const BookingPlan& one) {
    return words(Message("plan.booking.title")
                     .with("pond", Text{one.booking.pond.empty() ? words("booking.pond.none")
                                                                 : pond_name(app, one.booking.pond)})
                     .with("day", Text{weekday_date(words, one.booking.deliver_on)}));
  }

  static Status status_of_plan(const BookingPlan& one) {
    switch (one.state) {
      case BookingState::planned:
        return one.slack_days < 0 ? Status::overdue : one.slack_days == 0 ? Status::due : Status::open;
      case BookingState::ready:
        return Status::done;
      case BookingState::no_pond:
        return Status::unknown;
      case BookingState::unknown:
      case BookingState::unsupported:
      case BookingState::past:
        break;
    }
    return Status::stopped;
  }

  void draw_booking(App& app, Ui& ui, const BookingPlan& one, bool wide) {
    const Words& words = ui.words();
    const std::string id = "plan/picked";
    ui.begin_card(id);
    ui.text(id + "/title", title_of(app, words, one), TextSize::lead, Tone::ink, true);
    ui.status(id + "/slack", status_of_plan(one), words(slack_message(one)));
    ui.text(id + "/chance", words(chance_message(one)));
    draw_booked_outlook(app, ui, id + "/outlook", one, work_.plan().today);
    ui.fact(id + "/count", words("plan.count"), words.number(one.booking.pl_count, 0));
    if (!one.booking.note.empty()) ui.text(id + "/note", one.booking.note, TextSize::body, Tone::quiet);
    if (!one.stages.empty()) {
      if (one.not_before && *one.not_before > work_.plan().today) {
        ui.text(id + "/after", words(Message("plan.after_cycle").with("day", *one.not_before)), TextSize::body,
                Tone::quiet);
      }
      ui.text(id + "/ready",
              words(Message("plan.ready")
                        .with("day", one.ready)
                        .with("early", one.ready_early)
                        .with("late", one.ready_late)),
              TextSize::body, Tone::quiet);
      draw_stages(ui, id, one);
    }
    draw_steps(app, ui, one);
    if (!wide) {
      ui.gap(8);
      if (ui.button("plan/fold", words("plan.fold"), ButtonKind::quiet)) {
        picked_.clear();
        move_.reset();
      }
    }
    ui.end_card();
  }

  // Whole days without a decimal; quarter days are finer than anybody plans by.
  static Quantity in_days(double days, std::string unit) {
    return {days, days == std::floor(days) ? 0 : 1, std::move(unit)};
  }

  static void draw_stages(Ui& ui, const std::string& id, const BookingPlan& one) {
    const Words& words = ui.words();
    ui.gap(8);
    ui.text(id + "/stages", words("plan.stages"), TextSize::body, Tone::ink, true);
    for (const PlannedStage& stage : one.stages) {
      const std::string line = id + "/stage/" + std::string(name_of(stage.stage));
      ui.fact(line, stage_word(words, stage.stage),
              stage.running ? words("plan.stage.running")
                            : words(Message("plan.stage.by").with("day", stage.start_by)));
      const Message takes = Message("plan.stage.takes")
                                .with("days", in_days(stage.median_d, "days"))
                                .with("early", in_days(stage.early_d, {}))
                                .with("late", in_days(stage.late_d, "days"));
      std::string rests = words(takes);
      if (stage.by_inlets) rests += ", " + words("plan.stage.by_inlets");
      if (stage.own > 0) rests += ", " + words(Message("plan.stage.own").with("count", bare(stage.own)));
      ui.text(line + "/takes", rests, TextSize::body, Tone::quiet);
    }
  }

  void draw_steps(App& app, Ui& ui, const BookingPlan& one) {
    const Words& words = ui.words();
    const bool may = app.can_write() && booking(one.booking.booking) != nullptr;
    const BookingPlan* saved = booking(one.booking.booking);
    ui.gap(8);
    ui.begin_cells(2);
    const bool earlier = ui.button("plan/earlier", words("plan.earlier"), ButtonKind::secondary,
                                   may && one.booking.deliver_on > work_.plan().today);
    ui.next_cell();
    const bool later = ui.button("plan/later", words("plan.later"), ButtonKind::secondary, may);
    ui.end_cells();
    if (saved != nullptr && earlier) move_by(*saved, -1);
    if (saved != nullptr && later) move_by(*saved, 1);
    ui.gap(8);
    if (ui.button("plan/change", words("plan.change"), ButtonKind::quiet, app.can_write())) {
      move_.reset();
      app.open(make_booking_screen(one.booking.booking));
    }
  }

  static void draw_past(App& app, Ui& ui, const Plan& shown) {
    const Words& words = ui.words();
    const auto past = std::count_if(shown.bookings.begin(), shown.bookings.end(),
                                    [](const BookingPlan& one) { return one.state == BookingState::past; });
    if (past == 0) return;
    ui.gap(8);
    ui.text("plan/past", words("plan.past"), TextSize::body, Tone::quiet);
    for (const BookingPlan& one : shown.bookings) {
      if (one.state != BookingState::past) continue;
      ui.text("plan/past/" + one.booking.booking, title_of(app, words, one), TextSize::body, Tone::quiet);
    }
  }

  void draw_conflicts(App& app, Ui& ui) {
    ConflictList::Of of;
    of.folds = app.folds();
    of.language = app.language();
    if (is_moving()) {
      of.moved = move_->booking;
      of.to = move_->to();
    }
    conflicts_.draw(ui, of, work_.conflicts(),
                    is_moving() ? work_.moved(app, move_->booking, move_->to()).conflicts : work_.conflicts());
  }

  void draw_ways(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_card("plan/ways");
    Ui::Row tomorrow;
    tomorrow.icon = "rounds";
    tomorrow.title = words("plan.tomorrow");
    tomorrow.remark = words("plan.tomorrow.about");
    if (ui.row("plan/tomorrow", tomorrow)) app.open(make_tomorrow_screen());
    Ui::Row crew;
    crew.icon = "person";
    crew.title = words("plan.crew");
    crew.remark = words(Message("plan.crew.about")
                            .with("boats", bare(work_.bookings().set_up.boats))
                            .with("bin_crews", bare(work_.bookings().set_up.bin_crews))
                            .with("people", bare(work_.bookings().set_up.people)));
    crew.enabled = app.can_write();
    if (ui.row("plan/crew", crew)) app.open(make_plan_setup_screen());
    Ui::Row persons;
    persons.icon = "person";
    persons.title = words("plan.persons");
    const std::vector<FarmPond>& ponds = app.farm().ponds;
    const auto given =
        std::count_if(ponds.begin(), ponds.end(), [](const FarmPond& pond) { return !pond.persons.empty(); });
    persons.remark =
        words(Message("plan.persons.given").with("given", bare(given)).with("all", bare(ponds.size())));
    persons.enabled = app.can_write() && app.role() == Role::manager;
    if (ui.row("plan/persons", persons)) app.open(make_persons_screen());
    ui.end_card();
  }

  void draw_move_footer(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_footer();
    ui.begin_cells(2);
    if (ui.button("move/give_up", words("plan.leave"), ButtonKind::quiet)) {
      move_.reset();
      ui.end_cells();
      ui.end_footer();
      return;
    }
    ui.next_cell();
    const bool saving = app.news().state == SaveNews::State::saving;
    const std::string label =
        saving ? words("save.saving")
               : words(Message("plan.move_to").with("day", Text{weekday_date(words, move_->to())}));
    if (ui.button("save", label, ButtonKind::primary, !saving && app.can_write())) save_move(app);
    ui.end_cells();
    ui.end_footer();
  }

  void save_move(App& app) {
    const BookingPlan* one = booking(move_->booking);
    if (one == nullptr) return;
    Booking moved = one->booking;
    moved.deliver_on = move_->to();
    Draft draft;
    draft.kind = std::string(kind::kPlBooking);
    draft.pond = moved.pond;
    draft.values = booking_values(moved);
    // The store may answer when this screen is gone.
    saved_ = std::make_shared<bool>(false);
    app.put({std::move(draft)}, [saved = saved_] { *saved = true; });
  }

  // What the calendar was made of.
  struct CalendarOf {
    int folds = -1;
    std::string language, picked;
    bool night = false;
    std::optional<CivilDay> was, to;
    bool operator==(const CalendarOf&) const = default;
  };

  PlanWork work_;
  ConflictList conflicts_;
  std::optional<CalendarOf> calendar_of_;
  Calendar calendar_;
  std::map<std::string, float> heights_, card_heights_;  // as last drawn, by booking
  float height_width_ = 0;                               // of the column when they were
  std::string picked_;
  std::optional<Move> move_;
  std::shared_ptr<bool> saved_;
};

}  // namespace

std::unique_ptr<Screen> make_plan_screen() { return std::make_unique<PlanScreen>(); }

}  // namespace tawny::ui
