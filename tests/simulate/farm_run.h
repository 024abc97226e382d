// One farm from its first to its last day: what happens stands in a queue of moments, what is to be done comes
// each morning from tawny's own rounds, and everybody does about that.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <queue>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "farm/farm.h"
#include "simulate/farm.h"

namespace tawny::simulate {

class FarmRun {
 public:
  FarmRun(const Options& options, const Protocol& protocol);
  SimulatedFarm run();

 private:
  struct OnePond {
    Pond pond;
    PondLife life;
    PondTruth truth;
    CivilDay next_start;  // when the next cycle is to begin
    int cycles = 0;
    double fill_to_cm = 0;  // while its inlets stand open
    int patience_days = 6;  // of the manager, with a gate that one criterion holds
    int crop_days = 45;     // from the release to the end of the cycle
    int despair_days = 45;  // after which a cycle that does not get there is ended
    double broadcast_kg_ha = 75;
    std::string product = "sodium_nitrate";
    double nitrogen_share = 0.1648;
    std::set<std::string> answered{};  // questions that the manager has settled, synced or not
  };
  struct Moment {
    Instant at;
    std::uint64_t order = 0;
    std::function<void()> act;
  };
  struct Later {
    bool operator()(const Moment& a, const Moment& b) const {
      return a.at != b.at ? a.at > b.at : a.order > b.order;
    }
  };
  // A draft on its way into a phone: `truly` is what it should have said, where a slip of the hand is in it.
  struct Telling {
    Draft draft;
    std::optional<Draft> truly;
  };

  // farm_run.cpp
  void set_up_place();
  void set_up_ponds();
  void set_up_entries();
  void in_a_moment(Instant at, std::function<void()> act);
  void live_until(Instant at);
  void morning(CivilDay day);
  void evening(const DayWindows& windows, bool last);
  OnePond* pond_of(const std::string& id);
  Random& chance() { return hand_.random(); }
  bool slips(double chance) { return hand_.slips(chance); }

  // farm_plan.cpp: what the morning's list makes people do.
  void plan(const DueItem& item, const DayWindows& windows, const Farm& farm);
  void plan_reading(const DueItem& item, const DayWindows& windows, OnePond& pond);
  void plan_dose(const DueItem& item, const DayWindows& windows, OnePond& pond, double rate_kg_ha);
  void plan_decision(const DueItem& item, const DayWindows& windows, OnePond& pond, const FarmPond& known);
  void think_over(OnePond& pond, const FarmPond& known, const DayWindows& windows);
  void mend_decisions(OnePond& pond, const FarmPond& known, Instant at);
  std::optional<Instant> moment_for(const DueItem& item, const DayWindows& windows);

  // farm_acts.cpp: what is seen or done, and how it is told.
  Draft draft_of(std::string_view kind, const OnePond& pond, Instant at) const;
  void tell(Phone& phone, Telling telling, Instant at);
  void note(Phone& phone, Draft draft, Instant at);
  void number(Telling& telling, const char* key, double value, int decimals, double low, double high);
  void read_water(OnePond& pond, Phone& phone, Instant at);
  void read_level(OnePond& pond, Phone& phone, Instant at);
  void read_secchi(OnePond& pond, Phone& phone, Instant at);
  void look_at_colour(OnePond& pond, Phone& phone, Instant at);
  void look_at_bottom(OnePond& pond, Phone& phone, Instant at);
  void look_at_source(OnePond& pond, Phone& phone, Instant at);
  void look_for_pests(OnePond& pond, Phone& phone, Instant at);
  void check_screen(OnePond& pond, Phone& phone, const std::string& inlet, Instant at);
  void count_grazers(OnePond& pond, Phone& phone, Instant at);
  void grab_bottom(OnePond& pond, Phone& phone, Instant at);
  void test_water(OnePond& pond, Phone& phone, Instant at);
  void look_at_sky(Phone& phone, Instant at);
  void broadcast(OnePond& pond, Phone& phone, Instant at);
  void give_dose(OnePond& pond, Phone& phone, double rate_kg_ha, Instant started, int minutes);
  void open_inlets(OnePond& pond, Phone& phone, double share, Instant at);
  void watch_filling(OnePond& pond, Instant at);
  void start_cycle(OnePond& pond, Instant at);
  void end_cycle(OnePond& pond, const std::string& reason, Instant at);

  const Options& options_;
  const Protocol& protocol_;
  Random random_;
  std::string id_, name_;
  FarmPlace place_;
  Crew crew_;
  Hand hand_;
  std::optional<Weather> weather_;
  std::vector<OnePond> ponds_;
  std::priority_queue<Moment, std::vector<Moment>, Later> queue_;
  std::uint64_t order_ = 0;
  Instant begin_, end_;
  Instant hour_;  // all that comes before it has happened
};

}  // namespace tawny::simulate
