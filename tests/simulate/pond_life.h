// What lives in one simulated pond, half hour by half hour: the truth that the people of a simulated farm read.
//
// Nitrogen moves between nitrate, ammonium, two groups of algae, grazers in two patches, fouling bivalves,
// bottom animals, detritus, the mud and the salt on the soil; all of it is counted in grams, so that what came
// in is what is there and what left. Carbon (dissolved inorganic, and alkalinity) and oxygen follow from it, pH
// from both. Everything that is drawn for a pond stands in draw_traits, with its source or 'estimate'.
//
//   growth   day's rate x Q10 1.88 (Eppley 1972) x light x nitrogen; light averaged over the depth for
//            P = I / (I + Ik), as ln((Ik + I0) / (Ik + I0 exp(-k z))) / (k z)
//   k        background + chlorophyll x specific attenuation; Secchi depth = c / k with the pond's own c
//   O2       photosynthesis per chlorophyll, PQ 1.2; respiration of algae, detritus, grazers, mud; air through
//            core/science/gas_exchange.h
//   pH       carbonate system with the constants of Lueker et al. 2000 (from memory; below salinity 19 carried
//            on), CO2 solubility of Weiss 1974 (from memory); borate left out
//   heat     short wave into the mean depth; loss to the air by 38 W/(m2 K) and more the warmer it is estimate
//
// What does not hold: layers (the water is stirred through), nutrients other than nitrogen, feed, the shrimp.
#pragma once

#include "pond/curve.h"
#include "protocol/protocol.h"
#include "simulate/weather.h"

namespace tawny::simulate {

struct Traits {
  // Algae. [0] diatoms, [1] the others.
  double growth_per_d[2], half_light_umol[2], half_nitrogen_mg_l[2], sinking_m_d[2];
  double chlorophyll_per_n = 0;       // mg/mg
  double photosynthesis_per_h = 0;    // mg C per mg chlorophyll, at full light
  double dark_respiration_share = 0;  // of that
  bool others_are_red = false;
  // Light.
  double background_per_m = 0, attenuation_m2_mg = 0, secchi_coefficient = 0;
  // Grazers.
  double grazing_per_d = 0, grazer_loss_per_d = 0, grazer_crowding = 0, copepod_n_ug = 0;
  // Bivalves and screens.
  bool torn = false;
  double clearance_m3_g_d = 0, fouling_start_g_m2 = 0, larvae_g_m3 = 0;
  // Mud.
  double soil_release_per_d = 0, soil_loss_per_d = 0, denitrification_m_d = 0;
  double mud_return_per_d = 0, mud_oxygen_g_m2_d = 0, mud_start_g_m2 = 0;
  double worm_growth_per_d = 0, worm_start_g_m2 = 0;
  // Water.
  double seepage_mm_d = 0;
  double source_nitrate_mg_l = 0, source_ammonium_mg_l = 0, source_algae_mg_l = 0, source_others_share = 0;
  double source_grazers_mg_l = 0, source_salinity = 0, source_alkalinity_meq_l = 0;
  double inflow_m3_h = 0;
};

Traits draw_traits(Random random, double full_volume_m3, bool torn);

// Grams of nitrogen in the whole pond, or that crossed its border since the cycle began.
struct Nitrogen {
  double nitrate = 0, ammonium = 0, algae[2] = {0, 0}, grazers[2] = {0, 0}, detritus = 0, bivalves = 0;
  double worms = 0, mud = 0, soil = 0;
  double total() const {
    return nitrate + ammonium + algae[0] + algae[1] + grazers[0] + grazers[1] + detritus + bivalves + worms +
           mud + soil;
  }
};
struct NitrogenFlow {
  double from_start = 0, from_doses = 0, from_source = 0;
  double to_air = 0, to_ground = 0, to_drain = 0;
  double balance() const { return from_start + from_doses + from_source - to_air - to_ground - to_drain; }
};

struct Water {
  Instant at;
  double level_cm = 0, volume_m3 = 0, area_m2 = 0;
  double do_mg_l = 0, ph = 8, temperature_c = 27, salinity = 0, alkalinity_mg_l = 0;
  double chlorophyll_ug_l = 0, others_share = 0, attenuation_per_m = 1, secchi_cm = 0;
  double nitrate_n_mg_l = 0, ammonia_n_mg_l = 0;  // the latter all of it, as a test kit tells it
  double copepods_per_l[2] = {0, 0};
  double bivalves_g_m2 = 0, worms_g_m2 = 0;
  WaterColour colour = WaterColour::clear;
};

class PondLife {
 public:
  PondLife(const Traits& traits, const StageCurve& curve, Random random);

  // Dries it out and begins anew; the mud keeps what it has.
  void start(Instant at);
  // Half hours up to `at`.
  void live(Instant at, const Weather& weather);

  void open(bool open) { open_ = open; }
  bool is_open() const { return open_; }
  void dose(double nitrogen_g);
  void broadcast(double nitrogen_g);
  // Drains down to the level, with all that is in the water.
  void drain_to(double level_cm);

  const Water& water() const { return water_; }
  const Nitrogen& nitrogen() const { return n_; }
  const NitrogenFlow& flow() const { return flow_; }
  const Traits& traits() const { return traits_; }
  bool wet() const { return wet_; }
  // Tears the screens, or mends them.
  void set_torn(bool torn) { traits_.torn = torn; }

 private:
  void step(Instant at, const Hour& hour);
  void move_water(const Hour& hour);
  void grow(const Hour& hour);
  void eat();
  void settle();
  void breathe(const Hour& hour);
  void look(Instant at);
  void measure();
  double level_of_volume(double volume_m3) const;
  double area_of_level(double level_cm) const;
  double light_share(int group, const Hour& hour) const;
  double warmth() const;

  Traits traits_;
  Random random_;
  std::vector<double> volumes_m3_, areas_m2_;  // a centimetre each, from the lowest level
  double lowest_cm_ = 0, full_m3_ = 0;
  Instant now_;
  bool open_ = false, wet_ = false;
  double volume_m3_ = 0, area_m2_ = 0, depth_m_ = 0;
  double salt_kg_ = 0, oxygen_g_ = 0, carbon_mol_ = 0, alkalinity_eq_ = 0, temperature_c_ = 27;
  double patch_share_ = 0.5;
  // Of the present step.
  double photosynthesis_g_c_ = 0, respiration_g_o2_ = 0;
  Nitrogen n_;
  NitrogenFlow flow_;
  Water water_;
};

}  // namespace tawny::simulate
