// What a simulated pond is like: every value drawn from a spread around what is published, or estimated.
#include "simulate/pond_life.h"

namespace tawny::simulate {

Traits draw_traits(Random random, double full_volume_m3, bool torn) {
  Traits traits;
  const auto spread = [&](double median, double by) { return random.around(median, by); };
  // At 28 C and in full light. Diatoms of bloom size grow 1 to 3 times a day (Eppley 1972, Fish. Bull.
  // 70:1063); flagellates and greens about half as fast (Tang 1995, J. Plankton Res. 17:1325). From memory.
  traits.growth_per_d[0] = spread(2.1, 0.1);
  traits.growth_per_d[1] = spread(1.15, 0.12);
  // Half of full photosynthesis at 100 to 300 umol/(m2 s) (Kirk 2011, Light and Photosynthesis, from memory).
  traits.half_light_umol[0] = spread(170, 0.12);
  traits.half_light_umol[1] = spread(230, 0.12);
  // 0.5 to 3 uM for coastal diatoms (Eppley et al. 1969, Limnol. Oceanogr. 14:912, from memory); others:
  // estimate.
  traits.half_nitrogen_mg_l[0] = spread(0.028, 0.2);
  traits.half_nitrogen_mg_l[1] = spread(0.045, 0.2);
  // 0.05 to 1 m/d in still water; a stirred shallow pond holds most of it up: estimate.
  traits.sinking_m_d[0] = spread(0.03, 0.2);
  traits.sinking_m_d[1] = spread(0.015, 0.2);
  // Carbon to chlorophyll 30 to 50, carbon to nitrogen 5.7 by mass (Redfield): 0.11 to 0.19.
  traits.chlorophyll_per_n = spread(0.13, 0.06);
  // 3 to 10 mg C per mg chlorophyll and hour at full light (Kirk 2011, from memory).
  traits.photosynthesis_per_h = spread(9.0, 0.08);
  // 10 to 25 % of full photosynthesis (Langdon 1993, in Li & Maestrini, ICES Symp. 197, from memory).
  traits.dark_respiration_share = spread(0.135, 0.1);
  traits.others_are_red = random.happens(0.12);  // estimate
  // Water and silt without algae, 0.5 to 1.3 /m: estimate from Secchi depths of 1.1 to 2.8 m.
  traits.background_per_m = spread(0.8, 0.2);
  // 0.013 to 0.03 m2/mg (Kirk 2011, from memory).
  traits.attenuation_m2_mg = spread(0.024, 0.08);
  // Secchi depth times attenuation, 1.1 to 1.9 (core/science/light.h).
  traits.secchi_coefficient = spread(1.44, 0.07);
  // Copepods eat up to once or twice their own a day (Mauchline 1998, Adv. Mar. Biol. 33, from memory).
  traits.grazing_per_d = spread(1.25, 0.12);
  traits.grazer_loss_per_d = spread(0.06, 0.2);
  traits.grazer_crowding = spread(1.6, 0.3);  // per d and mg/L of their nitrogen, estimate
  traits.copepod_n_ug = spread(0.55, 0.15);   // small calanoids, some ug of dry weight, a tenth of it nitrogen
  // 5 to 10 L/(h g dry) for young mussels and barnacles, a tenth of it nitrogen: 1 to 2.5 m3/(g d), and more
  // for the smallest (Riisgard 2001, Mar. Ecol. Prog. Ser. 211:275, from memory).
  traits.torn = torn;
  traits.clearance_m3_g_d = spread(4.5, 0.2);
  traits.fouling_start_g_m2 = torn ? spread(0.16, 0.3) : 0;  // left on walls and gates, estimate
  traits.larvae_g_m3 = spread(0.004, 0.3);                   // estimate
  // A third of the nitrate on the soil gets into the water within days, the rest is lost in the mud: estimate.
  traits.soil_release_per_d = spread(0.20, 0.2);
  traits.soil_loss_per_d = spread(0.40, 0.2);
  // 1 to 5 mmol/(m2 d) at some tens of uM (Seitzinger 1988, Limnol. Oceanogr. 33:702, from memory).
  traits.denitrification_m_d = spread(0.035, 0.25);
  // The mud gives back 0.02 to 0.08 g N/(m2 d) (Burford & Longmore 2001, Mar. Ecol. Prog. Ser. 224:197, from
  // memory); takes 0.5 to 2 g O2/(m2 d) (Boyd 1995, Bottom Soils, from memory).
  traits.mud_return_per_d = spread(0.016, 0.2);
  traits.mud_oxygen_g_m2_d = spread(1.2, 0.25);
  traits.mud_start_g_m2 = spread(1.6, 0.25);
  traits.worm_growth_per_d = spread(0.17, 0.2);     // estimate
  traits.worm_start_g_m2 = spread(0.004, 0.4);      // estimate
  traits.seepage_mm_d = spread(3.0, 0.5);           // clay soils 1 to 10 mm/d (core/science/seepage.h)
  traits.source_nitrate_mg_l = spread(0.07, 0.5);   // tropical estuaries, 0.02 to 0.3 mg/L: estimate
  traits.source_ammonium_mg_l = spread(0.03, 0.5);  // the same
  traits.source_algae_mg_l = spread(0.035, 0.4);    // 5 ug/L of chlorophyll: estimate
  traits.source_others_share = random.between(0.05, 0.35);
  traits.source_grazers_mg_l =
      spread(0.0016, 0.5);  // 3 to 5 copepods and nauplii a litre past a screen: estimate
  traits.source_salinity = random.between(6, 32);
  traits.source_alkalinity_meq_l = random.between(1.9, 2.6);           // 95 to 130 mg/L as CaCO3
  traits.inflow_m3_h = full_volume_m3 * random.between(0.012, 0.028);  // a quarter in 9 to 21 hours: estimate
  return traits;
}

}  // namespace tawny::simulate
