#include "outlook/dawn_outlook.h"

#include <algorithm>
#include <cmath>

#include "protocol/windows.h"
#include "science/dawn_oxygen.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

constexpr double kEightyPercent = 1.2816;
constexpr int kNoonS = 12 * 3600;
constexpr double kSdOfMeanError = 1.2533;    // of a normal error, sd over mean distance
constexpr double kSdOfMedianError = 1.4826;  // and over the median of the distances

double median_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

double normal_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

class Evening {
 public:
  Evening(const PondHistory& history, const PondState& state, const Protocol& protocol, const FarmPlace& place,
          const OutlookPriors& priors, Instant now)
      : history_(history), state_(state), protocol_(protocol), place_(place), priors_(priors.dawn), now_(now) {}

  Result<DawnOutlook> look() {
    CivilDay day = civil_day(now_, place_.offset);
    auto windows = windows_of(day, place_, protocol_);
    if (!windows) return tl::unexpected<Problem>(windows.error());
    if (now_ < windows->sun.sunrise) {
      // Before sunrise it is still the evening of the day before.
      day = day.plus(-1);
      windows = windows_of(day, place_, protocol_);
      if (!windows) return tl::unexpected<Problem>(windows.error());
    }
    const auto next = windows_of(day.plus(1), place_, protocol_);
    if (!next) return tl::unexpected<Problem>(next.error());
    outlook_.dawn = next->sun.sunrise;
    outlook_.floor_mg_l = protocol_.number("stage.release.dawn_do_mg_l");
    last_ = last_reading(windows->afternoon.from, std::min(now_, outlook_.dawn));
    if (last_ == nullptr) return refuse(ProblemKind::missing, "do_mg_l", Message("outlook.missing.evening"));
    temperature_c_ = temperature_of(*last_);
    if (by_two_dusk(windows->sun.sunset)) return outlook_;
    return by_own_nights(day);
  }

 private:
  bool between(const std::optional<double>& value, std::string_view low, std::string_view high) const {
    return value && *value >= protocol_.number(low) && *value <= protocol_.number(high);
  }
  bool has_oxygen(const WaterReading& reading) const {
    return between(reading.do_mg_l, "entry.refused.do_low_mg_l", "entry.refused.do_high_mg_l");
  }
  std::optional<double> temperature_of(const WaterReading& reading) const {
    const bool can_be =
        between(reading.temperature_c, "entry.refused.temperature_low_c", "entry.refused.temperature_high_c");
    return can_be ? reading.temperature_c : std::nullopt;
  }

  const WaterReading* last_reading(Instant from, Instant until) const {
    const WaterReading* found = nullptr;
    for (const WaterReading& reading : history_.water) {
      if (reading.at > until) break;
      if (reading.at >= from && has_oxygen(reading)) found = &reading;
    }
    return found;
  }

  void conclude(double middle, double sd) {
    const double reading = priors_.reading_error_mg_l;
    const double whole = std::sqrt(sd * sd + reading * reading);
    outlook_.under_floor = normal_below((outlook_.floor_mg_l - middle) / whole);
    outlook_.middle_mg_l = std::max(0.0, middle);
    outlook_.low_mg_l = std::max(0.0, middle - kEightyPercent * whole);
    outlook_.high_mg_l = std::max(0.0, middle + kEightyPercent * whole);
  }

  bool by_two_dusk(Instant sunset) {
    const WaterReading* first = nullptr;
    for (const WaterReading& reading : history_.water) {
      if (reading.at >= last_->at) break;
      if (reading.at >= sunset && has_oxygen(reading) &&
          hours_between(reading.at, last_->at) >= priors_.dusk_hours_apart) {
        first = &reading;
        break;
      }
    }
    if (first == nullptr || last_->at < sunset) return false;
    const auto pressure = pressure_at_altitude_atm(place_.altitude_m);
    EveningPair pair;
    pair.first_mg_l = *first->do_mg_l;
    pair.second_mg_l = *last_->do_mg_l;
    pair.hours_between = hours_between(first->at, last_->at);
    pair.hours_to_dawn = hours_between(first->at, outlook_.dawn);
    pair.temperature_c = temperature_c_.value_or(priors_.temperature_c);
    pair.salinity = last_->salinity.value_or(priors_.salinity);
    pair.depth_m = depth_m();
    pair.wind_10_m_s = priors_.wind_m_s;
    pair.pressure_atm = pressure ? *pressure : 1;
    const auto dawn = dawn_oxygen(pair, outlook_.floor_mg_l);
    if (!dawn) return false;
    outlook_.way = DawnWay::two_dusk;
    outlook_.evidence = {first->entry->id, last_->entry->id};
    conclude(dawn->respiration_diffusion_mg_l, kSdOfMeanError * priors_.two_dusk_error_mg_l);
    return true;
  }

  double depth_m() const {
    if (history_.pond.curve && state_.level_cm) {
      const auto depth = history_.pond.curve->mean_depth_m(*state_.level_cm);
      if (depth && *depth >= 0.05) return *depth;
    }
    return priors_.depth_m;
  }

  // Of the night after `day`; nothing without both readings. In mg/L an hour, at tonight's temperature.
  std::optional<double> loss_after(CivilDay day) {
    // Most days without readings are passed by before the sun is asked.
    const Instant noon = instant_at(day, kNoonS, place_.offset);
    if (last_reading(noon, noon.plus_h(24)) == nullptr) return std::nullopt;
    const auto windows = windows_of(day, place_, protocol_);
    const auto next = windows_of(day.plus(1), place_, protocol_);
    if (!windows || !next) return std::nullopt;
    const WaterReading* evening = last_reading(windows->afternoon.from, windows->sun.sunset.plus_h(6));
    if (evening == nullptr) return std::nullopt;
    const WaterReading* dawn = nullptr;
    for (const WaterReading& reading : history_.water) {
      if (reading.at > next->dawn.until || reading.at > now_) break;
      if (reading.at >= next->dawn.from && has_oxygen(reading)) dawn = &reading;
    }
    if (dawn == nullptr) return std::nullopt;
    const double loss = (*evening->do_mg_l - *dawn->do_mg_l) / hours_between(evening->at, dawn->at);
    outlook_.evidence.push_back(evening->entry->id);
    outlook_.evidence.push_back(dawn->entry->id);
    const std::optional<double> then_c = temperature_of(*evening);
    if (!temperature_c_ || !then_c) return loss;
    return loss * std::pow(priors_.q10, (*temperature_c_ - *then_c) / 10);
  }

  Result<DawnOutlook> by_own_nights(CivilDay today) {
    outlook_.evidence = {last_->entry->id};
    std::vector<double> losses;
    const CivilDay first = civil_day(history_.water.front().at, place_.offset);
    for (CivilDay day = today.plus(-1); day >= first && losses.size() < priors_.nights_most;
         day = day.plus(-1)) {
      if (const auto loss = loss_after(day)) losses.push_back(*loss);
    }
    if (losses.empty()) return refuse(ProblemKind::missing, "do_mg_l", Message("outlook.missing.night"));
    const double hours = hours_between(last_->at, outlook_.dawn);
    outlook_.nights = losses.size();
    const bool enough = losses.size() >= priors_.nights_enough;
    outlook_.way = enough ? DawnWay::own_nights : DawnWay::last_pair;
    const double middle = enough ? median_of(losses) : losses.front();
    double spread = std::fabs(middle) * priors_.one_night_share;
    if (enough) {
      std::vector<double> distances;
      for (const double loss : losses) distances.push_back(std::fabs(loss - middle));
      spread = kSdOfMedianError * median_of(distances);
    }
    conclude(*last_->do_mg_l - middle * hours, std::hypot(spread * hours, priors_.own_nights_error_mg_l));
    return outlook_;
  }

  const PondHistory& history_;
  const PondState& state_;
  const Protocol& protocol_;
  const FarmPlace& place_;
  const DawnPriors& priors_;
  Instant now_;
  const WaterReading* last_ = nullptr;
  std::optional<double> temperature_c_;
  DawnOutlook outlook_;
};

}  // namespace

Result<DawnOutlook> dawn_outlook(const PondHistory& history, const PondState& state, const Protocol& protocol,
                                 const FarmPlace& place, const OutlookPriors& priors, Instant now) {
  return Evening(history, state, protocol, place, priors, now).look();
}

}  // namespace tawny
