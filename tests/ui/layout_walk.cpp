#include "ui/layout_walk.h"

#include <gtest/gtest.h>

#include <set>
#include <string_view>
#include <utility>

#include "farm/walk.h"
#include "logbook/bundle.h"
#include "logbook/kinds.h"
#include "reckon/reckon.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/pond_acts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

class Walk {
 public:
  Walk(AppBench& bench, const Visit& visit) : bench_(bench), visit_(visit) {}

  void areas() {
    for (const auto& [tab, name] : {std::pair<Tab, const char*>{Tab::rounds, "rounds"},
                                    {Tab::ponds, "ponds"},
                                    {Tab::dose, "dose"},
                                    {Tab::logbook, "logbook"},
                                    {Tab::office, "office"}}) {
      bench_.app->open_tab(tab);
      see(name);
    }
    EXPECT_TRUE(bench_.press("office/about"));
    see("about");
    open(make_board_screen(), "board");
    if (bench_.find("board/chip/more") != nullptr) {
      EXPECT_TRUE(bench_.press("board/chip/more"));
      see("board, filters and order");
    }
    EXPECT_TRUE(bench_.press("board/chip/several"));
    EXPECT_TRUE(bench_.press("board/chip/choose"));
    see("board, all chosen");
    EXPECT_TRUE(bench_.press("board/decide"));
    see("one decision");
    bench_.app->on_text("decide/reason", "Looked at all of them myself");
    bench_.frames(2);
    EXPECT_TRUE(bench_.press("decide/pass"));
    see("one decision, sure");
    open(make_questions_screen(), "questions");
    open(make_office_things_screen(), "office things");
    bench_.app->open_tab(Tab::rounds);
    bench_.frames(2);
    EXPECT_TRUE(bench_.press("rounds/whose/mine"));
    see("rounds, mine");
    bench_.press("rounds/whose/all");
    if (bench_.press("rounds/done/show")) see("rounds, done");
  }

  void files() {
    bench_.app->open_tab(Tab::office);
    // Cut off, with a damaged line before that, and read on a phone that lacks none of it.
    std::string cut = write_bundle(bench_.app->logbook(), bench_.app->now(), "a1b2c3d4e5f6");
    cut.resize(cut.size() * 2 / 3);
    cut[cut.size() / 2] ^= '\1';
    BundleIndex other;
    other.farm = "a1b2c3d4e5f6";
    other.farm_name = bench_.app->farm().name;
    for (const std::string& text : {cut, to_line(other) + "\n"}) {
      bench_.app->on_file("tawny-heron-bend-2026-11-25.txt", text);
      bench_.frames(2);
      see("office, a file");
      EXPECT_TRUE(bench_.press("incoming/drop"));
    }
  }

  void ponds() {
    for (const FarmPond& pond : bench_.app->farm().ponds) {
      const std::string id = pond.history.pond.id;
      open(make_pond_screen(id), "pond " + id);
      for (const Criterion& criterion : pond.state.criteria) bench_.press("criterion/" + criterion.id);
      bench_.press("outlook/dose/2");
      bench_.press("outlook/days");
      see("pond " + id + ", unfolded");
      open(make_guide_screen(id), "guide " + id);
      open(make_charts_screen(id), "charts " + id);
      for (const char* part : {"charts/table", "charts/month"}) {
        if (bench_.press(part)) see("charts " + id + ", " + part);
      }
      open(make_report_screen(id), "report " + id);
      open(make_gate_screen(id), "gate " + id);
      bench_.app->on_text("gate/reason", "Looked at it myself");
      bench_.frames(2);
      if (bench_.press("gate/pass")) see("gate " + id + ", sure");
      open(make_filling_screen(id), "filling " + id);
    }
    open(make_report_screen(), "report");
    open(make_pond_screen("p6"), "pond p6");
    if (bench_.press("pond/cycle/0")) see("pond p6, earlier cycle");
    compare();
    open(make_pond_acts_screen("p3"), "acts");
    open(make_logbook_screen("p3"), "logbook of a pond");
  }

  // Both cycles of one pond and one of another, then a fourth.
  void compare() {
    open(make_compare_screen("p6"), "side by side");
    EXPECT_TRUE(bench_.press("compare/add"));
    see("side by side, add");
    for (int more = 0; more < 2; ++more) {
      for (const Node& node : bench_.model().nodes()) {
        if (node.id.rfind("compare/pick/", 0) != 0) continue;
        EXPECT_TRUE(bench_.press(std::string(node.id)));
        break;
      }
      see("side by side, " + std::to_string(3 + more));
      bench_.press("compare/add");
    }
    EXPECT_TRUE(bench_.press("compare/from/first_dose"));
    see("side by side, from the first dose");
  }

  void filling() {
    open(make_tide_screen("p1"), "tide");
    open(make_inlet_setup_screen("p1", "east gate"), "inlet");
    for (const char* kind : {"pump", "gate", "culvert", "weir", "pipe"}) {
      if (bench_.press("inlet/kind/" + std::string(kind))) see(std::string("inlet, ") + kind);
    }
  }

  void plan() {
    open(make_plan_screen(), "plan");
    EXPECT_TRUE(bench_.press("plan/booking/d-long-pond"));
    see("plan, a delivery");
    EXPECT_TRUE(bench_.press("plan/later"));
    see("plan, moved");
    EXPECT_TRUE(bench_.press("move/give_up"));
    open(make_booking_screen({}), "booking, new");
    open(make_booking_screen("d-long-pond"), "booking");
    EXPECT_TRUE(bench_.press("booking/cancel"));
    see("booking, cancel");
    open(make_plan_setup_screen(), "crew");
    open(make_persons_screen(), "persons");
    EXPECT_TRUE(bench_.press("persons/who/0"));
    EXPECT_TRUE(bench_.press("persons/tick/p1"));
    see("persons, ponds");
    open(make_tomorrow_screen(), "tomorrow");
  }

  void entries() {
    for (int number = 0; number <= static_cast<int>(Act::start_cycle); ++number) {
      const Act act = static_cast<Act>(number);
      if (act == Act::dose || act == Act::sign_release || act == Act::decide_gate) continue;
      const std::string name = "entry " + std::string(name_of(act));
      const bool inlet = act == Act::screen_check;
      open(make_entry_screen(act, "p3", inlet ? "east gate" : ""), name);
      if (bench_.press("entry/more")) see(name + ", more");
      if (bench_.press("when")) {
        see(name + ", when");
        bench_.press("back");
      }
      if (!bench_.press("save")) continue;
      see(name + ", refused");
      if (bench_.platform.waiting.empty()) continue;
      bench_.answer(SaveOutcome::failed);
      EXPECT_TRUE(bench_.press("save/give_up"));
    }
    for (const std::string_view kind : {kind::kNote, kind::kOutflow, kind::kDose}) {
      open(make_entry_screen_of_kind(kind, "p3"), "entry " + std::string(kind));
    }
    const Act reading = Act::water_reading;
    open(make_entry_screen(reading, "p3"), "entry");
    EXPECT_TRUE(bench_.press("entry/fields/ph") || bench_.press("entry/next_value"));
    EXPECT_TRUE(bench_.type("keys", "10.4"));
    see("entry, typed");
    EXPECT_TRUE(bench_.press("save"));
    see("entry, questioned");
    if (bench_.find("entry/sure") != nullptr) bench_.press("save");
    see("entry, saving");
    bench_.answer(SaveOutcome::full);
    see("entry, failed");
    bench_.press("save/retry");
    bench_.answer(SaveOutcome::saved);
    see("entry, saved");
    if (bench_.press("entry/next_place")) see("entry, next pond");
    bench_.app->open_tab(Tab::rounds);
    see("rounds, just saved");
    EXPECT_TRUE(bench_.press("undo"));
    bench_.answer(SaveOutcome::saved);
    open(make_entry_screen(reading, "p3"), "entry");
    EXPECT_TRUE(bench_.type("keys", "5.4"));
    EXPECT_TRUE(bench_.press("save"));
    if (bench_.find("entry/sure") != nullptr) bench_.press("save");
    bench_.answer(SaveOutcome::saved);
    EXPECT_TRUE(bench_.press("entry/take_back"));
    bench_.answer(SaveOutcome::saved);
    see("entry, taken back");
  }

  void logbook() {
    std::set<std::string> kinds;
    std::vector<std::string> references;
    for (const Entry* entry : bench_.app->logbook().effective()) {
      if (kinds.insert(entry->kind).second) references.push_back(to_reference(entry->id));
    }
    for (const std::string& reference : references) {
      open(make_logbook_entry_screen(reference), "logbook entry " + reference);
    }
  }

  void set_ups() {
    open(make_pond_setup_screen({}), "new pond");
    open(make_pond_setup_screen("p2"), "pond set-up");
    for (const char* way : {"sizes", "table", "levels"}) {
      if (bench_.press("pond/shape/" + std::string(way))) see(std::string("pond set-up, ") + way);
    }
    open(make_bin_setup_screen(), "bin set-up");
    EXPECT_TRUE(bench_.press("save"));
    bench_.answer(SaveOutcome::full);
    see("bin set-up, failed");
    EXPECT_TRUE(bench_.press("save/give_up"));
    open(make_farm_setup_screen(), "farm set-up");
    open(make_person_setup_screen(), "person set-up");
    open(make_depot_setup_screen({{"kind", "webdav"}}), "office folder");
    open(make_depot_setup_screen({{"kind", "s3"}}), "office bucket");
    open(make_devices_screen(), "devices");
    open(make_depot_code_screen(), "code for a phone");
    NumberAsk ask;
    ask.title = bench_.app->ui().words()("key.do_mg_l");
    ask.unit = "mg_l";
    ask.sign = true;
    ask.present = -104.25;
    ask.decimals = 2;
    ask.low = 0;
    ask.high = 30;
    ask.last = bench_.app->ui().words()("entry.outside_window");
    ask.clear = bench_.app->ui().words()("reckon.clear");
    ask.on_clear = [](App&) {};
    open(make_number_screen(std::move(ask), [](App&, double) {}), "number");
    bench_.press("number/accept");
    see("number, refused");
    MomentAsk moment;
    moment.title = bench_.app->ui().words()("dose.started");
    moment.about = bench_.app->ui().words()("entry.outside_window");
    moment.present = bench_.app->now();
    open(make_moment_screen(std::move(moment), [](App&, Instant) {}), "moment");
  }

  void stock_and_protocol() {
    open(make_stock_screen(), "stock");
    for (const char* form : {"stock/deliver", "stock/count", "stock/order", "stock/figures/change"}) {
      open(make_stock_screen(), "stock");
      if (bench_.press(form)) see(form);
    }
    open(make_products_screen(), "products");
    if (bench_.press("products/sodium_nitrate")) see("product");
    open(make_protocol_screen(), "protocol");
    for (const char* group : {"windows", "stage.release", "dose", "trouble"}) {
      if (bench_.press("protocol/" + std::string(group))) see(std::string("protocol, ") + group);
    }
    open(make_protocol_screen("p3"), "protocol of a pond");
    if (bench_.press("protocol/whose")) see("whose protocol");
    for (const char* path : {"stage.hold_band.secchi_low_cm", "stage.bloom.colours", "dose.area_counted",
                             "windows.dose.clock_from_min"}) {
      open(make_protocol_value_screen(path, "p3"), std::string("value ") + path);
      if (!bench_.press("value/change")) continue;
      bench_.press("save");
      see(std::string("value changed, ") + path);
    }
  }

  void calculators() {
    open(make_reckon_list_screen("p3"), "calculators");
    for (const Reckoning& reckoning : reckonings()) {
      const std::string name(reckoning.name);
      open(make_reckon_screen(reckoning), "calculator " + name);
      ReckonTyped& typed = bench_.app->calculators()[name + "@"];
      typed.unfolded = true;
      give_example(reckoning, typed);
      open(make_reckon_screen(reckoning), "calculator " + name + ", answered");
    }
  }

  void dose() {
    std::string pond;
    for (const FarmPond& each : bench_.app->farm().ponds) {
      if (each.state.dose.advised) pond = each.history.pond.id;
      open(make_dose_walk_screen(each.history.pond.id), "dose plan " + each.history.pond.id);
    }
    ASSERT_FALSE(pond.empty()) << "no pond takes a dose now";
    open(make_dose_walk_screen(pond), "dose plan");
    EXPECT_TRUE(bench_.press("plan/sky/bright"));
    EXPECT_TRUE(bench_.press("plan/confirm"));
    see("dose plan, confirmed");
    EXPECT_TRUE(bench_.press("save"));
    bench_.answer(SaveOutcome::saved);
    for (int guard = 0; guard < 100; ++guard) {
      const std::optional<DoseWalk>& walk = bench_.app->farm().pond(pond)->state.open_walk;
      ASSERT_TRUE(walk);
      const WalkStep step = next_step(*walk);
      if (step.what == WalkStep::What::record) break;
      if (step.bin == 1) see(step.what == WalkStep::What::mix ? "mix" : "spread");
      if (step.bin == 1 && bench_.press("walk/stop")) {
        see("dose walk, stop");
        bench_.press("stop/back");
      }
      bench_.platform.clock = bench_.platform.clock.plus_min(2);
      bench_.frames(2);
      ASSERT_TRUE(bench_.press("save"));
      bench_.answer(SaveOutcome::saved);
    }
    see("dose walk, record");
    bench_.press("save");
    if (bench_.find("findings/go_on") != nullptr) {
      see("dose walk, findings");
      bench_.press("findings/go_on");
    }
    bench_.answer(SaveOutcome::saved);
    see("dose walk, done");
  }

  void first_run() {
    see("welcome");
    open(make_farm_setup_screen(), "farm, first");
    bench_.app->on_text("farm/name", "Heron Bend");
    bench_.app->on_text("person/name", "Ines");
    bench_.app->on_position(-2.2, -79.9);
    see("farm, first, filled");
  }

 private:
  void see(const std::string& name) {
    bench_.frames(2);
    visit_(name);
  }
  void open(std::unique_ptr<Screen> screen, const std::string& name) {
    bench_.app->open_tab(Tab::rounds);
    bench_.app->open(std::move(screen));
    see(name);
  }
  static void give_example(const Reckoning& reckoning, ReckonTyped& typed) {
    std::string part;
    for (const char c : std::string(reckoning.example) + " ") {
      if (c != ' ') {
        part += c;
        continue;
      }
      const std::size_t equals = part.find('=');
      const ReckonInput* input =
          equals == std::string::npos ? nullptr : reckoning.input(part.substr(0, equals));
      if (input != nullptr) {
        const std::string text = part.substr(equals + 1);
        if (input->kind == ReckonInput::Kind::number) {
          typed.values[part.substr(0, equals)] = std::stod(text);
        } else {
          typed.values[part.substr(0, equals)] = text;
        }
        if (!input->either.empty()) typed.either[std::string(input->either)] = part.substr(0, equals);
      }
      part.clear();
    }
  }

  AppBench& bench_;
  const Visit& visit_;
};

}  // namespace

void walk_all_screens(AppBench& bench, const Visit& visit) {
  Walk walk(bench, visit);
  walk.areas();
  walk.files();
  walk.ponds();
  walk.filling();
  walk.plan();
  walk.entries();
  walk.logbook();
  walk.set_ups();
  walk.stock_and_protocol();
  walk.calculators();
  walk.dose();
}

void walk_first_run(AppBench& bench, const Visit& visit) { Walk(bench, visit).first_run(); }

}  // namespace tawny::ui
