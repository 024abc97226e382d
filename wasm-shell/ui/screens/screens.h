// Every screen by the function that makes it; see the file of the same name for what it is for.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "farm/rounds.h"
#include "reckon/reckon.h"
#include "ui/app.h"

namespace tawny::ui {

// The five areas.
std::unique_ptr<Screen> make_rounds_screen();
std::unique_ptr<Screen> make_ponds_screen();
std::unique_ptr<Screen> make_dose_screen();  // the walk under way, or the choice of a pond
std::unique_ptr<Screen> make_logbook_screen(const std::string& pond = {});  // empty: of all ponds
std::unique_ptr<Screen> make_office_screen();                               // opens with the board on a laptop
std::unique_ptr<Screen> make_office_things_screen();  // this device, files, sync, settings

std::unique_ptr<Screen> make_pond_screen(const std::string& pond);
// Entry of one act at one pond. `detail`: an inlet's name where the act asks for one.
std::unique_ptr<Screen> make_entry_screen(Act act, const std::string& pond, const std::string& detail = {});
// The same form, filled in with an entry that it then replaces.
std::unique_ptr<Screen> make_correction_screen(const Entry& wrong);
// What was read and given in the running cycle over time; or the same as a table.
std::unique_ptr<Screen> make_charts_screen(const std::string& pond);
// The record of each cycle of the pond, as a page to print and as a table. Empty id: asks which pond first.
std::unique_ptr<Screen> make_report_screen(const std::string& pond = {});
// Cycles of this and other ponds side by side, their days counted from the same event.
std::unique_ptr<Screen> make_compare_screen(const std::string& pond);
// What to do now at the pond's stage, why, what opens its gate, and what would be a mistake.
std::unique_ptr<Screen> make_guide_screen(const std::string& pond);
// The gate of a pond's stage: pass by hand or refuse, with a reason.
std::unique_ptr<Screen> make_gate_screen(const std::string& pond);
// Every pond as one row, to be sorted and filtered; several can be chosen for one decision.
std::unique_ptr<Screen> make_board_screen();
// One decision about the gates of several ponds, with one reason.
std::unique_ptr<Screen> make_decide_screen(std::vector<std::string> ponds);
// What the manager is asked about entries, with the evidence side by side, and what was decided so far. With a
// pond: its questions only.
std::unique_ptr<Screen> make_questions_screen(const std::string& pond = {});
// A new dose walk at this pond: plan, checks, bins, lanes, end. Resumes an open walk of the pond.
std::unique_ptr<Screen> make_dose_walk_screen(const std::string& pond);
// One entry of the logbook: all of it, correct or take back.
std::unique_ptr<Screen> make_logbook_entry_screen(const std::string& reference);

// First run: own farm or demo; then farm, position, ponds, bins, products, person.
std::unique_ptr<Screen> make_welcome_screen();
std::unique_ptr<Screen> make_farm_setup_screen();
// The office's folder: where it is, under which account. `brought`: settings from the office's code, or empty.
std::unique_ptr<Screen> make_depot_setup_screen(std::map<std::string, std::string> brought = {});
// A code with which another phone finds the office's folder.
std::unique_ptr<Screen> make_depot_code_screen();
// Every device of the farm: who has it, when it was last heard of, how far the office has its entries.
std::unique_ptr<Screen> make_devices_screen();
// One device: its six words, whether it counts; on an office phone, to admit it or shut it out.
std::unique_ptr<Screen> make_device_screen(const std::string& device);
// Empty id: a new pond.
std::unique_ptr<Screen> make_pond_setup_screen(const std::string& pond);
std::unique_ptr<Screen> make_bin_setup_screen();
std::unique_ptr<Screen> make_person_setup_screen();

// In place of every other screen while the app is locked; and where the PIN is set (ui/app_lock.h).
std::unique_ptr<Screen> make_lock_screen();
std::unique_ptr<Screen> make_lock_setup_screen();
// What is stored where, and wiping this device.
std::unique_ptr<Screen> make_privacy_screen();
std::unique_ptr<Screen> make_wipe_screen();

// Stock and cost: what is on hand, what the ponds need, when to order, what it cost.
std::unique_ptr<Screen> make_stock_screen();
// The farm's products: which are in use, their bags and prices.
std::unique_ptr<Screen> make_products_screen();
// Every value of the protocol, of the farm (empty) or of a pond, beside the standard one; and one of them.
std::unique_ptr<Screen> make_protocol_screen(const std::string& pond = {});
std::unique_ptr<Screen> make_protocol_value_screen(const std::string& path, const std::string& pond = {});

// The calculators. With a pond, what is known of it stands in their inputs.
std::unique_ptr<Screen> make_reckon_list_screen(const std::string& pond = {});
std::unique_ptr<Screen> make_reckon_screen(const Reckoning& reckoning, const std::string& pond = {});

// A number typed with our own keys. Opened on top of the asking screen; it has closed itself when `done` is
// given the accepted number.
struct NumberAsk {
  std::string title;  // "Pond 3, dissolved oxygen"
  std::string unit;   // unit key
  int decimals = 1;
  bool sign = false;
  std::optional<double> present;
  std::string last;                 // "last 4.2 mg/L, 22 h ago", may be empty
  std::optional<double> low, high;  // refused outside
  // Where it may be left empty: the word of the button, and what is done in place of `done`.
  std::string clear;
  std::function<void(App&)> on_clear;
};
std::unique_ptr<Screen> make_number_screen(NumberAsk ask, std::function<void(App&, double)> done);

// A day and a time of day, by steps and our own keys; opened and closed like the number screen.
struct MomentAsk {
  std::string title;
  std::string about;               // over the time
  std::optional<Instant> present;  // stands there at first
  std::optional<Instant> day_of;   // without a present one: its day stands there; else today
};
std::unique_ptr<Screen> make_moment_screen(MomentAsk ask, std::function<void(App&, Instant)> done);

// Booked deliveries of postlarvae, what each of them asks for by when, and what is in the way.
std::unique_ptr<Screen> make_plan_screen();
// Empty: a new booking.
std::unique_ptr<Screen> make_booking_screen(const std::string& booking);
// Boats, bin crews and people that conflicts are counted against.
std::unique_ptr<Screen> make_plan_setup_screen();
// Which person has which ponds.
std::unique_ptr<Screen> make_persons_screen();
// What is before everybody tomorrow.
std::unique_ptr<Screen> make_tomorrow_screen();
// A pond of the farm, or none; `none` is the word id of that.
std::unique_ptr<Screen> make_pond_pick_screen(const std::string& none,
                                              std::function<void(App&, const std::string&)> picked);

// How long the pond's next fill takes and when to start it, by its inlets, its tide and its losses.
std::unique_ptr<Screen> make_filling_screen(const std::string& pond);
// One inlet of the pond: what it is, and its sizes.
std::unique_ptr<Screen> make_inlet_setup_screen(const std::string& pond, const std::string& inlet);
// The high and low waters before the pond's gate.
std::unique_ptr<Screen> make_tide_screen(const std::string& pond);

}  // namespace tawny::ui
