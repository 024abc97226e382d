// A booking of postlarvae: pond, day, number and a note; and what the farm has to do the work with.
#include <algorithm>
#include <utility>

#include "logbook/kinds.h"
#include "office/bookings.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/plan_work.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kNoteLength = 200;
constexpr int kBookingDigits = 12;
constexpr int kFirstDaysAhead = 30;

class BookingScreen : public Screen {
 public:
  explicit BookingScreen(std::string booking) : name_(std::move(booking)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, words("booking.title"));
    begin_form(app, ui, "booking");
    const std::string pond = booking_.pond.empty() ? words("booking.pond.none") : pond_name(app, booking_.pond);
    if (ui.value_field("booking/pond", words("booking.pond"), pond, "")) {
      app.open(make_pond_pick_screen("booking.pond.none", [this](App& inner, const std::string& id) {
        booking_.pond = id;
        inner.back();
      }));
    }
    ui.gap(16);
    draw_day(app, ui);
    ui.gap(16);
    number_field(app, ui, count_);
    ui.gap();
    if (auto note = ui.text_field("booking/note", words("booking.note"), booking_.note,
                                  words("booking.note.hint"), "note", kNoteLength)) {
      booking_.note = *note;
    }
    if (problem_) {
      ui.gap();
      ui.notice("booking/problem", Tone::alarm, words(problem_->message));
    }
    if (!name_.empty()) draw_cancel(app, ui);
    ui.gap(16);
    ui.end_content();
    const bool whole = count_.value.has_value();
    if (save_footer(app, ui, words(whole ? "booking.save" : "booking.needs"), whole)) save(app, false);
  }

  bool holds_unsaved() const override {
    return started_ && !(booking_ == at_first_ && count_.value.value_or(0) == at_first_.pl_count);
  }

 private:
  void start(App& app) {
    started_ = true;
    const CivilDay today = civil_day(app.now(), app.farm().place.offset);
    booking_.deliver_on = today.plus(kFirstDaysAhead);
    const Bookings all = bookings_of(app.logbook(), app.protocol());
    for (const Booking& one : all.all) {
      if (one.booking == name_) booking_ = one;
    }
    if (booking_.pl_count > 0) count_.value = booking_.pl_count;
    if (booking_.booking.empty()) booking_.booking = app.platform().random_hex(kBookingDigits);
    at_first_ = booking_;
  }

  void draw_day(App& app, Ui& ui) {
    const Words& words = ui.words();
    const CivilDay today = civil_day(app.now(), app.farm().place.offset);
    ui.number("booking/day", words("booking.day"), weekday_date(words, booking_.deliver_on), "");
    const std::pair<const char*, int> steps[] = {
        {"day_earlier", -1}, {"day_later", 1}, {"week_earlier", -7}, {"week_later", 7}};
    for (const auto& [id, days] : steps) {
      if (days < 0) {
        ui.begin_cells(2);
      } else {
        ui.next_cell();
      }
      const bool possible = days > 0 || booking_.deliver_on.plus(days) >= today;
      if (ui.button("booking/" + std::string(id), words("booking." + std::string(id)), ButtonKind::secondary,
                    possible)) {
        booking_.deliver_on = booking_.deliver_on.plus(days);
      }
      if (days > 0) ui.end_cells();
    }
  }

  void draw_cancel(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.gap(24);
    if (!sure_) {
      if (ui.button("booking/cancel", words("booking.cancel"), ButtonKind::quiet, app.can_write()))
        sure_ = true;
      return;
    }
    ui.text("booking/sure", words("booking.cancel.sure"));
    ui.begin_cells(2);
    if (ui.button("booking/keep", words("booking.keep"))) sure_ = false;
    ui.next_cell();
    if (ui.button("booking/cancel_it", words("booking.cancel"), ButtonKind::danger, app.can_write())) {
      save(app, true);
    }
    ui.end_cells();
  }

  void save(App& app, bool cancelled) {
    Booking booking = cancelled ? at_first_ : booking_;
    booking.cancelled = cancelled;
    if (!cancelled) booking.pl_count = count_.value.value_or(0);
    Draft draft;
    draft.kind = std::string(kind::kPlBooking);
    draft.pond = booking.pond;
    draft.values = booking_values(booking);
    const Result<Booking> read = read_pl_booking(as_entry(draft));
    if (!read) {
      problem_ = read.error();
      return;
    }
    problem_.reset();
    booking_ = at_first_ = booking;
    count_.value = booking.pl_count;
    app.put({std::move(draft)}, [&app] { app.back(); });
  }

  std::string name_;
  bool started_ = false, sure_ = false;
  Booking booking_, at_first_;
  NumberField count_{"booking/pl_count", "", 0, {}};
  std::optional<Problem> problem_;
};

class PlanSetupScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, words("plan.crew"));
    begin_form(app, ui, "plan_setup");
    ui.text("crew/about", words("plan.crew.form"), TextSize::body, Tone::quiet);
    ui.gap();
    for (NumberField* field : {&boats_, &crews_, &people_}) {
      number_field(app, ui, *field);
      ui.gap();
    }
    if (problem_) ui.notice("crew/problem", Tone::alarm, words(problem_->message));
    ui.gap(16);
    ui.end_content();
    if (save_footer(app, ui, words("form.save"), boats_.value && crews_.value && people_.value)) save(app);
  }

  bool holds_unsaved() const override { return started_ && !(values() == at_first_); }

 private:
  void start(App& app) {
    started_ = true;
    const PlanSetUp set_up = bookings_of(app.logbook(), app.protocol()).set_up;
    boats_.value = set_up.boats;
    crews_.value = set_up.bin_crews;
    people_.value = set_up.people;
    at_first_ = values();
  }

  Values values() const {
    Draft draft;
    put_number(draft, "boats", boats_);
    put_number(draft, "bin_crews", crews_);
    put_number(draft, "people", people_);
    return draft.values;
  }

  void save(App& app) {
    Draft draft;
    draft.kind = std::string(kind::kPlanSetup);
    draft.values = values();
    const auto read = read_plan_setup(as_entry(draft), PlanSetUp{});
    if (!read) {
      problem_ = read.error();
      return;
    }
    problem_.reset();
    at_first_ = values();
    app.put({std::move(draft)}, [&app] { app.back(); });
  }

  bool started_ = false;
  NumberField boats_{"crew/boats", "", 0, {}};
  NumberField crews_{"crew/bin_crews", "", 0, {}};
  NumberField people_{"crew/people", "", 0, {}};
  Values at_first_;
  std::optional<Problem> problem_;
};

}  // namespace

std::unique_ptr<Screen> make_booking_screen(const std::string& booking) {
  return std::make_unique<BookingScreen>(booking);
}
std::unique_ptr<Screen> make_plan_setup_screen() { return std::make_unique<PlanSetupScreen>(); }

}  // namespace tawny::ui
