#include "farm/series.h"

#include <algorithm>
#include <set>
#include <utility>

#include "farm/pond_filling.h"
#include "protocol/protocol_times.h"
#include "protocol/usable.h"

namespace tawny {
namespace {

constexpr std::size_t kLeastDaysOfTrend = 3, kMostDaysOfTrend = 180;

double middle(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  if (values.size() % 2 == 1) return *half;
  return (*std::max_element(values.begin(), half) + *half) / 2;
}

SeriesReading reading_of(const Observed& observed, double value) {
  return {observed.at, value, observed.entry->who};
}

class Reader {
 public:
  Reader(const FarmPond& pond, const Protocol& standard, const FarmPlace& place, Instant now)
      : pond_(pond),
        history_(pond.history),
        times_(standard, pond.history.protocol_changes),
        place_(place),
        usable_(pond.history, times_, place),
        now_(now),
        protocol_(times_.at(now)) {}

  PondSeries read() {
    series_.from = history_.cycle_start;
    series_.until = now_;
    if (history_.cycle.empty()) return std::move(series_);
    read_stages();
    read_water();
    read_temperature();
    read_salinity();
    read_sky();
    read_secchi();
    read_doses();
    read_levels();
    return std::move(series_);
  }

 private:
  void read_stages() {
    series_.stages.push_back({history_.cycle_start, Stage::bottom});
    for (const GateOpened& gate : pond_.state.gates) {
      if (gate.stage >= Stage::early_cycle) continue;
      series_.stages.push_back({gate.at, static_cast<Stage>(static_cast<int>(gate.stage) + 1)});
    }
  }

  void read_water() {
    PairedSeries& oxygen = series_.oxygen;
    PairedSeries& ph = series_.ph;
    oxygen.gap_days = ph.gap_days = protocol_.number("series.gap.water_days");
    oxygen.low_limit = protocol_.number("stage.release.dawn_do_mg_l");
    ph.low_limit = protocol_.number("stage.release.ph_low");
    ph.high_limit = protocol_.number("stage.release.ph_high");
    std::set<const WaterReading*> oxygen_used, ph_used;
    for (const DayWater& day : usable_.all_water_days(now_)) {
      add_day(oxygen, day.day, day.dawn_do, day.dawn_do_mg_l, day.afternoon_do, day.afternoon_do_mg_l);
      add_day(ph, day.day, day.dawn_ph_reading, day.dawn_ph, day.afternoon_ph_reading, day.afternoon_ph);
      oxygen_used.insert({day.dawn_do, day.afternoon_do});
      ph_used.insert({day.dawn_ph_reading, day.afternoon_ph_reading});
    }
    for (const WaterReading& reading : history_.water) {
      if (reading.at > now_) break;
      if (usable_.possible_do(reading) && oxygen_used.count(&reading) == 0) {
        oxygen.apart.push_back(reading_of(reading, *reading.do_mg_l));
      }
      if (usable_.possible_ph(reading) && ph_used.count(&reading) == 0) {
        ph.apart.push_back(reading_of(reading, *reading.ph));
      }
    }
  }

  // The last reading of each window stands for it, as with oxygen and pH.
  void read_temperature() {
    PairedSeries& series = series_.temperature;
    series.gap_days = protocol_.number("series.gap.water_days");
    series.low_limit = protocol_.number("stage.release.temperature_low_c");
    series.high_limit = protocol_.number("stage.release.temperature_high_c");
    for (const WaterReading& reading : history_.water) {
      if (reading.at > now_) break;
      if (!possible(reading.temperature_c, reading.at, "temperature_low_c", "temperature_high_c")) continue;
      const SeriesReading one = reading_of(reading, *reading.temperature_c);
      const DayWindows* windows = usable_.windows_at(reading.at);
      const bool dawn = windows != nullptr && windows->dawn.contains(reading.at);
      if (!dawn && (windows == nullptr || !windows->afternoon.contains(reading.at))) {
        series.apart.push_back(one);
        continue;
      }
      if (series.days.empty() || series.days.back().day != windows->day)
        series.days.push_back({windows->day, {}, {}});
      std::optional<SeriesReading>& place = dawn ? series.days.back().dawn : series.days.back().afternoon;
      if (place) series.apart.push_back(*place);
      place = one;
    }
  }

  void read_salinity() {
    SalinitySeries& series = series_.salinity;
    series.gap_days = protocol_.number("series.gap.water_days");
    series.low_limit = protocol_.number("stage.release.salinity_low");
    series.high_limit = protocol_.number("stage.release.salinity_high");
    for (const WaterReading& reading : history_.water) {
      if (reading.at > now_) break;
      if (possible(reading.salinity, reading.at, "salinity_low", "salinity_high"))
        series.readings.push_back(reading_of(reading, *reading.salinity));
    }
  }

  void read_sky() {
    for (const SkyLook& look : history_.skies) {
      if (look.at > now_) break;
      const CivilDay day = civil_day(look.at, place_.offset);
      if (series_.sky.empty() || series_.sky.back().day != day) series_.sky.emplace_back();
      series_.sky.back() = {day, look.at, look.sky, look.entry->who};
    }
  }

  bool possible(const std::optional<double>& value, Instant at, std::string_view low,
                std::string_view high) const {
    const Protocol& then = times_.at(at);
    const auto limit = [&](std::string_view key) { return then.number("entry.refused." + std::string(key)); };
    return value && *value >= limit(low) && *value <= limit(high);
  }

  static void add_day(PairedSeries& series, CivilDay day, const WaterReading* dawn,
                      std::optional<double> dawn_value, const WaterReading* afternoon,
                      std::optional<double> afternoon_value) {
    PairedDay one;
    one.day = day;
    if (dawn != nullptr && dawn_value) one.dawn = reading_of(*dawn, *dawn_value);
    if (afternoon != nullptr && afternoon_value) one.afternoon = reading_of(*afternoon, *afternoon_value);
    if (one.dawn || one.afternoon) series.days.push_back(std::move(one));
  }

  void read_secchi() {
    SecchiSeries& secchi = series_.secchi;
    secchi.gap_days = protocol_.number("series.gap.secchi_days");
    std::set<const Entry*> used;
    for (const DaySecchi& day : usable_.all_secchi_days(now_)) {
      used.insert(day.entries.begin(), day.entries.end());
      const Entry& last = *day.entries.back();
      secchi.days.push_back(
          {day.day, last.observed, day.secchi_cm, day.more_than, day.asks_for_another, last.who});
    }
    for (const SecchiPair& pair : history_.secchi) {
      // Seen on the bottom outside the window says too little to stand as a depth.
      if (pair.at > now_ || used.count(pair.entry) > 0 || !pair.vanish_cm || !pair.return_cm) continue;
      const double secchi_cm = (*pair.vanish_cm + *pair.return_cm) / 2;
      const Protocol& then = times_.at(pair.at);
      if (secchi_cm < then.number("entry.refused.secchi_low_cm")) continue;
      if (secchi_cm > then.number("entry.refused.secchi_high_cm")) continue;
      secchi.apart.push_back(reading_of(pair, secchi_cm));
    }
    for (const auto& [from, until, stage] : stretches()) add_band(from, until, stage);
  }

  void add_band(Instant from, Instant until, Stage stage) {
    const Protocol& then = times_.at(from);
    for (int of = static_cast<int>(stage); of >= static_cast<int>(Stage::bottom); --of) {
      const std::string path = "stage." + std::string(name_of(static_cast<Stage>(of)));
      if (then.find(path + ".secchi_low_cm") == nullptr) continue;
      const double low_cm = then.number(path + ".secchi_low_cm");
      const double high_cm = then.number(path + ".secchi_high_cm");
      std::vector<SecchiBand>& bands = series_.secchi.bands;
      const bool goes_on = !bands.empty() && bands.back().low_cm == low_cm && bands.back().high_cm == high_cm;
      if (goes_on) {
        bands.back().until = until;
      } else {
        bands.push_back({from, until, low_cm, high_cm});
      }
      return;
    }
  }

  void read_doses() {
    for (const DoseRecord& dose : history_.doses) {
      if (dose.at > now_) break;
      series_.secchi.doses.push_back(
          {dose.at, dose.product, dose.product_kg, dose.rate_kg_ha, dose.entry->who});
    }
  }

  void read_levels() {
    LevelSeries& level = series_.level;
    level.gap_days = protocol_.number("series.gap.level_days");
    for (const LevelReading& reading : history_.levels) {
      if (reading.at > now_) break;
      level.readings.push_back(reading_of(reading, reading.level_cm));
    }
    for (const auto& [from, until, stage] : stretches()) {
      std::optional<PlannedLevel> planned;
      for (const Stage fill : kFills) {
        if (fill <= stage) planned = planned_for(fill, from, until);
      }
      if (!planned) continue;
      const bool goes_on = !level.planned.empty() && level.planned.back().fill == planned->fill &&
                           level.planned.back().low_cm == planned->low_cm &&
                           level.planned.back().high_cm == planned->high_cm &&
                           level.planned.back().aim_cm == planned->aim_cm;
      if (goes_on) {
        level.planned.back().until = until;
      } else {
        level.planned.push_back(*planned);
      }
    }
    if (pond_.state.finished) return;
    for (const Stage fill : kFills) {
      if (fill <= series_.stages.back().stage) continue;
      level.next = planned_for(fill, now_, now_);
      return;
    }
  }

  std::optional<PlannedLevel> planned_for(Stage fill, Instant from, Instant until) const {
    const auto target = fill_target(pond_, times_.at(from), fill);
    if (!target) return std::nullopt;
    return PlannedLevel{from, until, fill, target->low_cm, target->high_cm, target->aim_cm};
  }

  struct Stretch {
    Instant from, until;
    Stage stage;
  };
  // From one stage, or one protocol, to the next.
  std::vector<Stretch> stretches() const {
    std::vector<Stretch> all;
    const std::vector<Instant> changes = times_.changes();
    for (std::size_t i = 0; i < series_.stages.size(); ++i) {
      const StageBegun& begun = series_.stages[i];
      const Instant end = i + 1 < series_.stages.size() ? series_.stages[i + 1].at : now_;
      Instant from = begun.at;
      for (const Instant change : changes) {
        if (change <= from || change >= end) continue;
        all.push_back({from, change, begun.stage});
        from = change;
      }
      if (from < end) all.push_back({from, end, begun.stage});
    }
    return all;
  }

  const FarmPond& pond_;
  const PondHistory& history_;
  ProtocolTimes times_;
  FarmPlace place_;
  Usable usable_;
  Instant now_;
  const Protocol& protocol_;
  PondSeries series_;
};

}  // namespace

std::optional<double> swing_trend_per_day(const PairedSeries& series, CivilDay first, CivilDay last) {
  std::vector<std::pair<double, double>> swings;
  for (const PairedDay& day : series.days) {
    if (day.day < first || day.day > last) continue;
    if (const auto swing = day.swing()) swings.emplace_back(day.day.days, *swing);
  }
  if (swings.size() < kLeastDaysOfTrend) return std::nullopt;
  if (swings.size() > kMostDaysOfTrend) swings.erase(swings.begin(), swings.end() - kMostDaysOfTrend);
  std::vector<double> slopes;
  slopes.reserve(swings.size() * (swings.size() - 1) / 2);
  for (std::size_t i = 0; i < swings.size(); ++i) {
    for (std::size_t k = i + 1; k < swings.size(); ++k) {
      slopes.push_back((swings[k].second - swings[i].second) / (swings[k].first - swings[i].first));
    }
  }
  return middle(std::move(slopes));
}

bool PondSeries::empty() const {
  const auto nothing = [](const PairedSeries& pairs) { return pairs.days.empty() && pairs.apart.empty(); };
  return nothing(oxygen) && nothing(ph) && nothing(temperature) && salinity.readings.empty() &&
         secchi.days.empty() && secchi.apart.empty() && secchi.doses.empty() && level.readings.empty();
}

PondSeries series_of(const FarmPond& pond, const Protocol& standard, const FarmPlace& place, Instant now) {
  return Reader(pond, standard, place, now).read();
}

}  // namespace tawny
