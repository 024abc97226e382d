#include "simulate/pond_life.h"

#include <algorithm>
#include <cmath>

#include "science/gas_exchange.h"
#include "science/oxygen.h"

namespace tawny::simulate {
namespace {

constexpr int kStepMin = 30;
constexpr double kStepH = kStepMin / 60.0;
constexpr double kStepD = kStepH / 24.0;
constexpr double kReferenceC = 28;
constexpr double kWarmestC = 33;  // above it nothing goes faster: estimate
constexpr double kWaterKgPerM3 = 1015;
// Below this mean depth the pond counts as wet soil, in which nothing swims.
constexpr double kLeastDepthM = 0.06;
constexpr double kAirCo2Atm = 425e-6;
// Of that of oxygen: 0.92 by the Schmidt numbers, twice as fast in calm alkaline water, where the gas reacts as
// it enters (Wanninkhof & Knox 1996, Limnol. Oceanogr. 41:689, from memory).
constexpr double kCarbonDioxideExchange = 1.9;
constexpr double kPhotosyntheticQuotient = 1.2;  // mol O2 per mol C, growth on nitrate (Laws 1991, from memory)

// Never more than there is.
void move(double& from, double& to, double amount) {
  const double moved = std::clamp(amount, 0.0, from);
  from -= moved;
  to += moved;
}

struct CarbonateConstants {
  double k1, k2, k0;  // mol/kg; mol/(kg atm)
};

CarbonateConstants carbonate_constants(double temperature_c, double salinity) {
  const double t = temperature_c + 273.15;
  const double pk1 =
      3633.86 / t - 61.2172 + 9.67770 * std::log(t) - 0.011555 * salinity + 0.0001152 * salinity * salinity;
  const double pk2 =
      471.78 / t + 25.9290 - 3.16967 * std::log(t) - 0.01781 * salinity + 0.0001122 * salinity * salinity;
  const double hundreds = t / 100;
  const double ln_k0 = -58.0931 + 90.5069 / hundreds + 22.2940 * std::log(hundreds) +
                       salinity * (0.027766 - 0.025888 * hundreds + 0.0050578 * hundreds * hundreds);
  return {std::pow(10, -pk1), std::pow(10, -pk2), std::exp(ln_k0)};
}

// Hydrogen ions, mol/kg, of carbonate alkalinity and inorganic carbon (both mol/kg).
double hydrogen_ions(const CarbonateConstants& constants, double alkalinity, double carbon) {
  const double a = alkalinity;
  const double b = constants.k1 * (alkalinity - carbon);
  const double c = constants.k1 * constants.k2 * (alkalinity - 2 * carbon);
  return (-b + std::sqrt(std::max(0.0, b * b - 4 * a * c))) / (2 * a);
}

double carbon_in_balance(const CarbonateConstants& constants, double alkalinity) {
  const double dissolved = constants.k0 * kAirCo2Atm;
  // Bicarbonate x, carbonate K2 x^2 / (K1 dissolved): x + 2 of the latter is the alkalinity.
  const double q = 2 * constants.k2 / (constants.k1 * dissolved);
  const double bicarbonate = (-1 + std::sqrt(1 + 4 * q * alkalinity)) / (2 * q);
  return dissolved + bicarbonate + (alkalinity - bicarbonate) / 2;
}

WaterColour colour_of(double chlorophyll_ug_l, double others_share, bool red) {
  if (chlorophyll_ug_l < 9) return WaterColour::clear;
  if (others_share > 0.62) {
    if (red) return chlorophyll_ug_l > 45 ? WaterColour::red_brown : WaterColour::golden_brown;
    return chlorophyll_ug_l > 130 ? WaterColour::dark_green : WaterColour::green;
  }
  if (others_share > 0.48 && !red) return WaterColour::light_green;
  if (chlorophyll_ug_l < 26) return WaterColour::pale_gold;
  return chlorophyll_ug_l < 85 ? WaterColour::golden : WaterColour::golden_brown;
}

}  // namespace

PondLife::PondLife(const Traits& traits, const StageCurve& curve, Random random)
    : traits_(traits), random_(random), lowest_cm_(curve.lowest_level_cm()), full_m3_(curve.full_volume_m3()) {
  const int steps = static_cast<int>(curve.full_level_cm() - lowest_cm_);
  for (int cm = 0; cm <= steps; ++cm) {
    const double level_cm = std::min(lowest_cm_ + cm, curve.full_level_cm());
    volumes_m3_.push_back(curve.volume_m3(level_cm).value_or(0));
    areas_m2_.push_back(curve.area_m2(level_cm).value_or(0));
  }
  n_.mud = traits_.mud_start_g_m2 * areas_m2_.front();
}

void PondLife::start(Instant at) {
  now_ = at;
  open_ = wet_ = false;
  volume_m3_ = depth_m_ = salt_kg_ = oxygen_g_ = carbon_mol_ = alkalinity_eq_ = 0;
  area_m2_ = areas_m2_.front();
  const double mud = n_.mud;
  n_ = Nitrogen{};
  n_.mud = mud;
  n_.worms = traits_.worm_start_g_m2 * area_m2_;
  n_.bivalves = traits_.torn ? traits_.fouling_start_g_m2 * area_m2_ : 0;
  flow_ = NitrogenFlow{};
  flow_.from_start = n_.total();
  water_ = Water{};
  water_.at = at;
  water_.level_cm = lowest_cm_;
}

void PondLife::live(Instant at, const Weather& weather) {
  while (now_.plus_min(kStepMin) <= at) {
    now_ = now_.plus_min(kStepMin);
    step(now_, weather.at(now_.plus_min(-kStepMin / 2)));
  }
}

void PondLife::dose(double nitrogen_g) {
  n_.nitrate += nitrogen_g;
  flow_.from_doses += nitrogen_g;
}

void PondLife::broadcast(double nitrogen_g) {
  n_.soil += nitrogen_g;
  flow_.from_doses += nitrogen_g;
}

void PondLife::drain_to(double level_cm) {
  const auto index = static_cast<std::size_t>(std::clamp(level_cm - lowest_cm_, 0.0, 1e6));
  if (index >= volumes_m3_.size() || volumes_m3_[index] >= volume_m3_ || volume_m3_ <= 0) return;
  const double share = 1 - volumes_m3_[index] / volume_m3_;
  for (double* pool :
       {&n_.nitrate, &n_.ammonium, &n_.algae[0], &n_.algae[1], &n_.grazers[0], &n_.grazers[1], &n_.detritus}) {
    move(*pool, flow_.to_drain, *pool * share);
  }
  for (double* amount : {&volume_m3_, &salt_kg_, &oxygen_g_, &carbon_mol_, &alkalinity_eq_})
    *amount *= 1 - share;
  area_m2_ = area_of_level(level_of_volume(volume_m3_));
  depth_m_ = volume_m3_ / area_m2_;
}

double PondLife::level_of_volume(double volume_m3) const {
  const auto above = std::upper_bound(volumes_m3_.begin(), volumes_m3_.end(), volume_m3);
  if (above == volumes_m3_.begin()) return lowest_cm_;
  if (above == volumes_m3_.end()) return lowest_cm_ + static_cast<double>(volumes_m3_.size() - 1);
  const auto below = above - 1;
  return lowest_cm_ + static_cast<double>(below - volumes_m3_.begin()) +
         (volume_m3 - *below) / (*above - *below);
}

double PondLife::area_of_level(double level_cm) const {
  const double steps = std::clamp(level_cm - lowest_cm_, 0.0, static_cast<double>(areas_m2_.size() - 1));
  const auto below = std::min(static_cast<std::size_t>(steps), areas_m2_.size() - 2);
  const double part = steps - static_cast<double>(below);
  return areas_m2_[below] + part * (areas_m2_[below + 1] - areas_m2_[below]);
}

double PondLife::warmth() const {
  return std::exp(0.0633 * (std::min(temperature_c_, kWarmestC) - kReferenceC));
}

double PondLife::light_share(int group, const Hour& hour) const {
  if (hour.par_umol_m2_s <= 0) return 0;
  const double dark = water_.attenuation_per_m * depth_m_;
  const double half = traits_.half_light_umol[group];
  return std::log((half + hour.par_umol_m2_s) / (half + hour.par_umol_m2_s * std::exp(-dark))) / dark;
}

void PondLife::step(Instant at, const Hour& hour) {
  move_water(hour);
  photosynthesis_g_c_ = respiration_g_o2_ = 0;
  if (wet_) {
    grow(hour);
    eat();
    settle();
    breathe(hour);
  }
  look(at);
}

void PondLife::move_water(const Hour& hour) {
  if (open_) {
    const double in_m3 = std::min(traits_.inflow_m3_h * kStepH, std::max(0.0, full_m3_ - volume_m3_));
    const double algae_g = in_m3 * traits_.source_algae_mg_l;
    Nitrogen in;
    in.nitrate = in_m3 * traits_.source_nitrate_mg_l;
    in.ammonium = in_m3 * traits_.source_ammonium_mg_l;
    in.algae[0] = algae_g * (1 - traits_.source_others_share);
    in.algae[1] = algae_g * traits_.source_others_share;
    in.grazers[0] = in.grazers[1] = in_m3 * traits_.source_grazers_mg_l / 2;
    in.bivalves = traits_.torn ? in_m3 * traits_.larvae_g_m3 : 0;
    n_.nitrate += in.nitrate;
    n_.ammonium += in.ammonium;
    n_.bivalves += in.bivalves;
    for (int i = 0; i < 2; ++i) {
      n_.algae[i] += in.algae[i];
      n_.grazers[i] += in.grazers[i];
    }
    flow_.from_source += in.total();
    const CarbonateConstants constants = carbonate_constants(hour.air_c, traits_.source_salinity);
    const double alkalinity = traits_.source_alkalinity_meq_l * 1e-3;  // mol/kg
    // Estuary water carries some more carbon dioxide than the air's.
    carbon_mol_ += in_m3 * kWaterKgPerM3 * (carbon_in_balance(constants, alkalinity) + 0.00003);
    alkalinity_eq_ += in_m3 * kWaterKgPerM3 * alkalinity;
    salt_kg_ += in_m3 * kWaterKgPerM3 * traits_.source_salinity * 1e-3;
    oxygen_g_ += in_m3 * 6.0;
    temperature_c_ = (temperature_c_ * volume_m3_ + hour.air_c * in_m3) / (volume_m3_ + in_m3);
    volume_m3_ += in_m3;
  }
  if (volume_m3_ <= 0) {
    wet_ = false;
    return;
  }
  // Six tenths of the light's energy go into evaporation (estimate; 4 to 5 mm on a bright day).
  const double evaporated_m = 0.6 * hour.short_wave_w_m2 * kStepH * 3600 / 2.45e9;
  const double rained_m = hour.rain_mm * kStepH * 1e-3;
  volume_m3_ = std::min(full_m3_, volume_m3_ + (rained_m - evaporated_m) * area_m2_);
  const double seeped_m3 =
      std::min(traits_.seepage_mm_d * 1e-3 * kStepD * area_m2_, 0.5 * std::max(0.0, volume_m3_));
  const double share = volume_m3_ > 0 ? seeped_m3 / volume_m3_ : 0;
  // What is dissolved goes with the water, what swims does not.
  for (double* amount : {&salt_kg_, &oxygen_g_, &carbon_mol_, &alkalinity_eq_}) *amount *= 1 - share;
  move(n_.nitrate, flow_.to_ground, n_.nitrate * share);
  move(n_.ammonium, flow_.to_ground, n_.ammonium * share);
  volume_m3_ = std::max(0.0, volume_m3_ - seeped_m3);
  area_m2_ = area_of_level(level_of_volume(volume_m3_));
  depth_m_ = volume_m3_ / area_m2_;
  wet_ = depth_m_ >= kLeastDepthM;
}

void PondLife::grow(const Hour& hour) {
  const double warm = warmth();
  const double ammonium_mg_l = n_.ammonium / volume_m3_;
  const double nitrate_mg_l = n_.nitrate / volume_m3_;
  for (int group = 0; group < 2; ++group) {
    const double half = traits_.half_nitrogen_mg_l[group];
    const double by_ammonium = ammonium_mg_l / (ammonium_mg_l + half);
    const double by_nitrate = (1 - by_ammonium) * nitrate_mg_l / (nitrate_mg_l + half);
    const double fed = by_ammonium + by_nitrate;
    const double light = light_share(group, hour);
    const double taken = traits_.growth_per_d[group] * warm * light * n_.algae[group] * kStepD;
    const double chlorophyll_mg_l = n_.algae[group] / volume_m3_ * traits_.chlorophyll_per_n;
    // Hungry cells still fix carbon, and lose it again.
    photosynthesis_g_c_ += traits_.photosynthesis_per_h * warm * chlorophyll_mg_l * light *
                           (0.45 + 0.55 * fed) * kStepH * volume_m3_;
    respiration_g_o2_ += traits_.photosynthesis_per_h * warm * chlorophyll_mg_l *
                         traits_.dark_respiration_share * kStepH * volume_m3_ * 32 / 12;
    move(n_.ammonium, n_.algae[group], std::min(taken * by_ammonium, 0.9 * n_.ammonium));
    move(n_.nitrate, n_.algae[group], std::min(taken * by_nitrate, 0.9 * n_.nitrate));
    move(n_.algae[group], n_.ammonium, 0.05 * warm * kStepD * n_.algae[group]);
    move(n_.algae[group], n_.detritus, 0.03 * warm * kStepD * n_.algae[group]);
  }
}

void PondLife::eat() {
  const double warm = warmth();
  const double half_m3 = volume_m3_ / 2;
  for (double& grazers : n_.grazers) {
    // Diatoms first, the others by half; nothing under what a cell costs to find.
    const double food_mg_l = std::max(0.0, (n_.algae[0] + 0.5 * n_.algae[1]) / volume_m3_ - 0.02);
    const double eaten_g = traits_.grazing_per_d * warm * grazers * food_mg_l / (food_mg_l + 0.22) * kStepD;
    const double diatoms = n_.algae[0] / std::max(1e-12, n_.algae[0] + 0.5 * n_.algae[1]);
    for (int group = 0; group < 2; ++group) {
      double bite = 0;
      move(n_.algae[group], bite, eaten_g * (group == 0 ? diatoms : 1 - diatoms));
      grazers += 0.33 * bite;
      n_.ammonium += 0.37 * bite;
      n_.detritus += 0.30 * bite;
    }
    const double crowd = traits_.grazer_loss_per_d + traits_.grazer_crowding * grazers / half_m3;
    respiration_g_o2_ += 0.12 * warm * kStepD * grazers * 5.7 * 32 / 12;
    move(grazers, n_.detritus, crowd * warm * kStepD * grazers);
  }
  // The wind gathers them on one side and lets them go again.
  patch_share_ = std::clamp(0.5 + 0.985 * (patch_share_ - 0.5) + 0.03 * random_.normal(), 0.15, 0.85);
  const double wanted = patch_share_ * (n_.grazers[0] + n_.grazers[1]);
  const double moved = (wanted - n_.grazers[0]) * 1.0 * kStepD;
  if (moved > 0) {
    move(n_.grazers[1], n_.grazers[0], moved);
  } else {
    move(n_.grazers[0], n_.grazers[1], -moved);
  }
  if (n_.bivalves > 0) {
    const double cleared = std::min(0.3, traits_.clearance_m3_g_d * warm * n_.bivalves * kStepD / volume_m3_);
    double filtered = 0;
    for (double& algae : n_.algae) move(algae, filtered, cleared * algae);
    move(n_.detritus, filtered, 0.5 * cleared * n_.detritus);
    n_.bivalves += 0.2 * filtered;
    n_.ammonium += 0.2 * filtered;
    n_.mud += 0.6 * filtered;
    respiration_g_o2_ += 0.1 * warm * kStepD * n_.bivalves * 5.7 * 32 / 12;
    move(n_.bivalves, n_.mud, 0.015 * kStepD * n_.bivalves);
  }
}

void PondLife::settle() {
  const double warm = warmth();
  for (int group = 0; group < 2; ++group) {
    move(n_.algae[group], n_.mud, traits_.sinking_m_d[group] / depth_m_ * kStepD * n_.algae[group]);
  }
  respiration_g_o2_ += 0.07 * warm * kStepD * n_.detritus * 5.7 * 32 / 12;
  move(n_.detritus, n_.ammonium, 0.07 * warm * kStepD * n_.detritus);
  move(n_.detritus, n_.mud, 0.12 / depth_m_ * kStepD * n_.detritus);
  move(n_.soil, n_.nitrate, traits_.soil_release_per_d * kStepD * n_.soil);
  move(n_.soil, flow_.to_air, traits_.soil_loss_per_d * kStepD * n_.soil);
  move(n_.nitrate, flow_.to_air, traits_.denitrification_m_d / depth_m_ * warm * kStepD * n_.nitrate);
  move(n_.ammonium, n_.nitrate, 0.04 * warm * kStepD * n_.ammonium);
  move(n_.mud, n_.ammonium, traits_.mud_return_per_d * warm * kStepD * n_.mud);
  const double mud_g_m2 = n_.mud / area_m2_;
  move(n_.mud, n_.worms, traits_.worm_growth_per_d * warm * n_.worms * mud_g_m2 / (mud_g_m2 + 1.0) * kStepD);
  move(n_.worms, n_.mud, (0.03 + 0.12 * n_.worms / area_m2_) * kStepD * n_.worms);
  respiration_g_o2_ += traits_.mud_oxygen_g_m2_d * warm * area_m2_ * kStepD;
}

void PondLife::breathe(const Hour& hour) {
  const double salinity = std::clamp(1000 * salt_kg_ / (volume_m3_ * kWaterKgPerM3), 0.0, 40.0);
  const double heat_w_m2 =
      0.9 * hour.short_wave_w_m2 * (1 - std::exp(-water_.attenuation_per_m * depth_m_)) - 60 -
      (38 + 4 * std::max(0.0, temperature_c_ - hour.air_c)) * (temperature_c_ - hour.air_c);
  temperature_c_ =
      std::clamp(temperature_c_ + heat_w_m2 * kStepH * 3600 / (4.1e6 * std::max(0.15, depth_m_)), 12.0, 39.0);
  const double exchange_m_d =
      oxygen_exchange_m_d(temperature_c_, salinity, std::min(hour.wind_m_s, 30.0)).value_or(0.5);
  const double saturation_mg_l = oxygen_saturation_mg_l(temperature_c_, salinity, 1).value_or(7);
  const double made_g = photosynthesis_g_c_ * kPhotosyntheticQuotient * 32 / 12;
  const double lacking_mg_l = saturation_mg_l - oxygen_g_ / volume_m3_;
  const double through = -std::expm1(-exchange_m_d / depth_m_ * kStepD);
  // Where there is little oxygen, less of it is breathed; where there is far too much, it leaves in bubbles.
  const double oxygen_mg_l = oxygen_g_ / volume_m3_;
  respiration_g_o2_ *= oxygen_mg_l / (oxygen_mg_l + 0.4);
  const double bubbles_g = 0.6 * kStepH * std::max(0.0, oxygen_mg_l - 1.7 * saturation_mg_l) * volume_m3_;
  oxygen_g_ = std::max(0.05 * volume_m3_, oxygen_g_ + made_g - respiration_g_o2_ - bubbles_g +
                                              through * lacking_mg_l * volume_m3_);

  const CarbonateConstants constants = carbonate_constants(temperature_c_, salinity);
  const double mass_kg = volume_m3_ * kWaterKgPerM3;
  const double alkalinity = alkalinity_eq_ / mass_kg;
  carbon_mol_ += respiration_g_o2_ / 32 - photosynthesis_g_c_ / 12;
  carbon_mol_ = std::clamp(carbon_mol_, 0.62 * alkalinity_eq_, 1.3 * alkalinity_eq_);
  const double carbon = carbon_mol_ / mass_kg;
  const double h = hydrogen_ions(constants, alkalinity, carbon);
  const double dissolved = carbon * h * h / (h * h + constants.k1 * h + constants.k1 * constants.k2);
  carbon_mol_ += kCarbonDioxideExchange * exchange_m_d * kStepD * area_m2_ *
                 (constants.k0 * kAirCo2Atm - dissolved) * kWaterKgPerM3;
  water_.ph = -std::log10(std::max(1e-12, h));
  water_.salinity = salinity;
}

void PondLife::look(Instant at) {
  water_.at = at;
  water_.level_cm = level_of_volume(volume_m3_);
  water_.volume_m3 = volume_m3_;
  water_.area_m2 = area_m2_;
  water_.bivalves_g_m2 = n_.bivalves / area_m2_;
  water_.worms_g_m2 = n_.worms / area_m2_;
  if (!wet_) return;
  measure();
}

void PondLife::measure() {
  const double algae = n_.algae[0] + n_.algae[1];
  water_.do_mg_l = oxygen_g_ / volume_m3_;
  water_.temperature_c = temperature_c_;
  water_.alkalinity_mg_l = alkalinity_eq_ / volume_m3_ * 50.04;
  water_.chlorophyll_ug_l = 1000 * algae / volume_m3_ * traits_.chlorophyll_per_n;
  water_.others_share = algae > 0 ? n_.algae[1] / algae : 0;
  // Detritus shades a little, too.
  water_.attenuation_per_m = traits_.background_per_m + traits_.attenuation_m2_mg * water_.chlorophyll_ug_l +
                             0.6 * n_.detritus / volume_m3_;
  water_.secchi_cm = 100 * traits_.secchi_coefficient / water_.attenuation_per_m;
  water_.nitrate_n_mg_l = n_.nitrate / volume_m3_;
  water_.ammonia_n_mg_l = n_.ammonium / volume_m3_;
  for (int patch = 0; patch < 2; ++patch) {
    water_.copepods_per_l[patch] = 2 * n_.grazers[patch] / volume_m3_ * 1000 / traits_.copepod_n_ug;
  }
  water_.colour = colour_of(water_.chlorophyll_ug_l, water_.others_share, traits_.others_are_red);
}

}  // namespace tawny::simulate
