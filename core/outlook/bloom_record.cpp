#include "outlook/bloom_record.h"

#include <algorithm>
#include <cmath>

#include "dose/dose.h"
#include "science/radiation.h"

namespace tawny {
namespace {

constexpr double kShallowestM = 0.05;  // less is mud with puddles
// What is outside of these is a slip of the pen that no limit has caught, and is passed by.
constexpr double kColdestC = 0, kWarmestC = 45;
constexpr double kMostNitrogenMgL = 100;
constexpr int kNoonS = 12 * 3600;

int day_of_year(CivilDay day) {
  const YearMonthDay date = year_month_day(day);
  return day.days - civil_day_of({date.year, 1, 1})->days + 1;
}

// Nothing changes where the sun does not rise: the place was refused before.
void set_light(BloomWater& water, CivilDay day, const FarmPlace& place) {
  const int year_day = day_of_year(day);
  const auto daylight = daylight_h(place.latitude_deg, year_day);
  const auto clear = clear_sky_radiation_mj_m2_d(place.latitude_deg, year_day, place.altitude_m);
  if (!daylight || !clear) return;
  const auto light = photosynthetic_light_mol_m2_d(*clear);
  if (!light) return;
  water.daylight_h = *daylight;
  water.clear_light_mol_m2_d = *light;
}

class Assembler {
 public:
  Assembler(const PondHistory& history, const PondState& state, const FarmPlace& place,
            const std::vector<Product>& products, const OutlookPriors& priors, CivilDay last, Instant now)
      : history_(history),
        state_(state),
        place_(place),
        products_(products),
        priors_(priors),
        last_(last),
        now_(now) {}

  Result<BloomRecord> assemble() {
    if (!history_.pond.curve) {
      return refuse(ProblemKind::missing, "pond", Message("outlook.missing.curve"));
    }
    // The sun of today stands for that of the cycle: a farm does not move.
    const auto sun = daylight_h(place_.latitude_deg, day_of_year(last_));
    if (!sun) return tl::unexpected<Problem>(sun.error());
    const auto first = first_water();
    if (!first) return refuse(ProblemKind::missing, "level_cm", Message("outlook.missing.level"));
    record_.pond = history_.pond.id;
    double volume_before_m3 = 0;
    for (CivilDay day = std::max(*first, last_.plus(1 - priors_.days_most)); day <= last_; day = day.plus(1)) {
      const auto one = water_of(day, volume_before_m3);
      if (!one) continue;  // ran dry in between: the day says nothing
      record_.days.push_back(*one);
    }
    if (record_.days.empty()) return refuse(ProblemKind::missing, "level_cm", Message("outlook.missing.level"));
    record_.volume_m3 = volume_before_m3;
    add_soil(*first);
    add_doses();
    add_readings();
    return std::move(record_);
  }

 private:
  CivilDay day_of(Instant at) const { return civil_day(at, place_.offset); }

  std::optional<CivilDay> first_water() const {
    for (const LevelReading& reading : history_.levels) {
      if (reading.at > now_) break;
      const auto depth = history_.pond.curve->mean_depth_m(reading.level_cm);
      if (depth && *depth >= kShallowestM) return day_of(reading.at);
    }
    return std::nullopt;
  }

  double level_at(Instant at) const {
    const LevelReading* before = nullptr;
    for (const LevelReading& reading : history_.levels) {
      if (reading.at > now_) break;
      if (reading.at >= at) {
        if (before == nullptr) return reading.level_cm;
        const double share = hours_between(before->at, at) / hours_between(before->at, reading.at);
        return before->level_cm + share * (reading.level_cm - before->level_cm);
      }
      before = &reading;
    }
    return before->level_cm;
  }

  std::optional<BloomDay> water_of(CivilDay day, double& volume_before_m3) {
    const double level_cm = level_at(instant_at(day, kNoonS, place_.offset));
    const auto volume = history_.pond.curve->volume_m3(level_cm);
    const auto depth = history_.pond.curve->mean_depth_m(level_cm);
    if (!volume || !depth || *depth < kShallowestM) return std::nullopt;
    BloomDay one;
    one.day = day;
    one.water.depth_m = *depth;
    if (volume_before_m3 > 0 && *volume > volume_before_m3)
      one.water.inflow_share = (*volume - volume_before_m3) / *volume;
    volume_before_m3 = *volume;
    one.water.temperature_c = temperature_of(day);
    set_light(one.water, day, place_);
    for (const SkyLook& look : history_.skies) {
      if (look.at <= now_ && day_of(look.at) == day) one.sky = look.sky;
    }
    return one;
  }

  double temperature_of(CivilDay day) {
    double sum = 0;
    int count = 0;
    for (const WaterReading& reading : history_.water) {
      if (reading.at > now_ || day_of(reading.at) != day || !reading.temperature_c) continue;
      if (!(*reading.temperature_c >= kColdestC && *reading.temperature_c <= kWarmestC)) continue;
      sum += *reading.temperature_c;
      ++count;
    }
    if (count > 0) last_temperature_c_ = sum / count;
    return last_temperature_c_.value_or(priors_.temperature_c);
  }

  double nitrate_n_kg(const std::string& product, double product_kg) const {
    const Product* found = find_product(products_, product);
    return found != nullptr ? product_kg * found->nitrate_n_fraction : 0;
  }

  // At the day or, where there is none that day (dry, or the day is past), the next.
  BloomDay* on_or_after(CivilDay day) {
    const auto found = std::find_if(record_.days.begin(), record_.days.end(),
                                    [&](const BloomDay& one) { return one.day >= day; });
    return found == record_.days.end() ? nullptr : &*found;
  }

  void add_soil(CivilDay first) {
    const double area_m2 = history_.pond.nominal_area_ha * 1e4;
    if (!(area_m2 > 0)) return;
    for (const SoilBroadcast& broadcast : history_.broadcasts) {
      if (broadcast.at > now_) continue;
      BloomDay* one = on_or_after(std::max(first, day_of(broadcast.at)));
      if (one == nullptr) continue;
      const double mg_m2 = nitrate_n_kg(broadcast.product, broadcast.product_kg) * 1e6 / area_m2;
      if (mg_m2 > 0 && mg_m2 < 1000 * kMostNitrogenMgL) one->water.soil_nitrogen_mg_m2 += mg_m2;
    }
  }

  void add_doses() {
    for (const DoseRecord& dose : history_.doses) {
      if (dose.at > now_) continue;
      const bool after_noon = second_of_day(dose.started, place_.offset) > kNoonS;
      BloomDay* one = on_or_after(day_of(dose.started).plus(after_noon ? 1 : 0));
      if (one == nullptr) continue;
      const auto volume = history_.pond.curve->volume_m3(level_at(instant_at(one->day, kNoonS, place_.offset)));
      if (!volume || !(*volume > 0)) continue;
      const double mg_l = 1000 * nitrate_n_kg(dose.product, dose.product_kg) / *volume;
      if (mg_l > 0 && mg_l < kMostNitrogenMgL) one->water.dose_nitrogen_mg_l += mg_l;
      if (!one->sky) one->sky = dose.sky;
    }
  }

  void add_readings() {
    for (const SecchiDay& seen : state_.secchi_days) {
      BloomDay* one = on_or_after(seen.day);
      if (one != nullptr && one->day == seen.day && seen.secchi_cm > 0)
        one->secchi = SecchiSeen{seen.secchi_cm, seen.more_than};
    }
    for (const DayPair& pair : state_.day_pairs) {
      BloomDay* one = on_or_after(pair.day);
      if (one != nullptr && one->day == pair.day) one->do_swing_mg_l = pair.do_swing_mg_l();
    }
  }

  const PondHistory& history_;
  const PondState& state_;
  const FarmPlace& place_;
  const std::vector<Product>& products_;
  const OutlookPriors& priors_;
  CivilDay last_;
  Instant now_;
  std::optional<double> last_temperature_c_;
  BloomRecord record_;
};

}  // namespace

Result<BloomRecord> bloom_record(const PondHistory& history, const PondState& state, const FarmPlace& place,
                                 const std::vector<Product>& products, const OutlookPriors& priors,
                                 CivilDay last, Instant now) {
  return Assembler(history, state, place, products, priors, last, now).assemble();
}

BloomWater water_of_day_to_come(const BloomDay& last, CivilDay day, const FarmPlace& place) {
  BloomWater water = last.water;
  water.inflow_share = water.dose_nitrogen_mg_l = water.soil_nitrogen_mg_m2 = 0;
  set_light(water, day, place);
  return water;
}

}  // namespace tawny
