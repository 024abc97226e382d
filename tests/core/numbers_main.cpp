// core_numbers: prints "name value" for a grid over everything that core reckons, with 17 significant digits.
// Built natively and as wasm; tests/compare_numbers.py holds the two outputs together.
#include <cstdio>
#include <string>
#include <vector>

#include "assets.h"
#include "base/time.h"
#include "dose/bin_plan.h"
#include "dose/dose.h"
#include "dose/lanes.h"
#include "dose/product.h"
#include "pond/curve.h"
#include "pond/filling.h"
#include "science/acclimation.h"
#include "science/ammonia.h"
#include "science/dawn_oxygen.h"
#include "science/evaporation.h"
#include "science/fill_time.h"
#include "science/gas_exchange.h"
#include "science/gates.h"
#include "science/light.h"
#include "science/metabolism_series.h"
#include "science/oxygen.h"
#include "science/radiation.h"
#include "science/salinity.h"
#include "science/salts.h"
#include "science/screens.h"
#include "science/seawater.h"
#include "science/seepage.h"
#include "science/sun.h"
#include "science/weirs.h"

namespace tawny {
namespace {

int refused = 0;

std::string named(const char* what, std::initializer_list<double> at) {
  std::string name = what;
  for (double value : at) {
    char text[32];
    std::snprintf(text, sizeof text, "/%g", value);
    name += text;
  }
  return name;
}

void show(const std::string& name, double value) { std::printf("%s %.17g\n", name.c_str(), value); }

void show(const std::string& name, const Result<double>& value) {
  if (value) {
    show(name, *value);
  } else {
    std::fprintf(stderr, "%s is refused: %s\n", name.c_str(), value.error().message.id.c_str());
    ++refused;
  }
}

// Passes a Result's value on, or counts that there was none.
template <typename T, typename Use>
void with(const std::string& name, const Result<T>& result, Use use) {
  if (result) {
    use(*result);
  } else {
    std::fprintf(stderr, "%s is refused: %s\n", name.c_str(), result.error().message.id.c_str());
    ++refused;
  }
}

void show_water() {
  for (double t : {0.0, 7.3, 18.0, 25.0, 31.7, 40.0}) {
    for (double s : {0.0, 0.6, 1.0, 12.5, 35.0, 40.0}) {
      show(named("density", {t, s}), seawater_density_kg_m3(t, s));
      for (double p : {0.8, 1.0, 1.05})
        show(named("oxygen_saturation", {t, s, p}), oxygen_saturation_mg_l(t, s, p));
      for (double ph : {6.5, 8.2, 9.4}) {
        show(named("un_ionized_fraction", {t, s, ph}), un_ionized_ammonia_fraction(ph, t, s));
        show(named("un_ionized", {t, s, ph}), un_ionized_ammonia_n_mg_l(1.3, ph, t, s));
      }
    }
  }
  for (double z : {-20.0, 0.0, 3.0, 450.0, 2600.0}) {
    show(named("pressure", {z}), pressure_at_altitude_atm(z));
  }
}

void show_conductivity() {
  for (double t : {0.0, 7.3, 18.0, 31.7, 40.0}) {
    for (double c : {0.0, 0.4, 1.3, 5.9, 17.9, 34.1}) {
      show(named("salinity/conductivity", {c, t}), salinity_from_conductivity(c, t));
      show(named("salinity/specific", {c, t}), salinity_from_specific_conductance(c, t));
    }
  }
}

void show_light() {
  for (double secchi_cm : {23.0, 48.5, 61.0, 370.0}) {
    const std::string name = named("light", {secchi_cm});
    with(name, attenuation_per_m(secchi_cm, 1.37), [&](double k) {
      show(name + "/attenuation", k);
      show(name + "/lit_depth", lit_depth_m(k, 0.013));
      show(name + "/mean_share", mean_light_share(k, 1.17));
    });
  }
  for (double latitude_deg : {-61.3, -2.7, 0.0, 10.1, 31.9}) {
    for (int day : {3, 79, 171, 246, 366}) {
      const std::string name = named("radiation", {latitude_deg, double(day)});
      show(name + "/top", extraterrestrial_radiation_mj_m2_d(latitude_deg, day));
      show(name + "/daylight", daylight_h(latitude_deg, day));
      show(name + "/clear", clear_sky_radiation_mj_m2_d(latitude_deg, day, 310));
      with(name, daily_radiation_mj_m2_d(latitude_deg, day, 4.3), [&](double radiation_mj_m2_d) {
        show(name + "/ground", radiation_mj_m2_d);
        show(name + "/photosynthetic", photosynthetic_light_mol_m2_d(radiation_mj_m2_d));
      });
    }
  }
}

void show_losses() {
  for (double humidity_percent : {31.0, 67.0, 96.0}) {
    for (double wind_m_s : {0.0, 1.9, 6.4}) {
      DayWeather weather;
      weather.temperature_low_c = 22.4;
      weather.temperature_high_c = 33.7;
      weather.humidity_percent = humidity_percent;
      weather.wind_m_s = wind_m_s;
      weather.wind_height_m = 8.5;
      weather.sunshine_h = 7.7;
      weather.latitude_deg = -3.3;
      weather.day_of_year = 131;
      weather.altitude_m = 6;
      const std::string name = named("evaporation", {humidity_percent, wind_m_s});
      with(name, evaporation(weather, 1.05), [&](const Evaporation& day) {
        show(name + "/reference", day.reference_mm_d);
        show(name + "/open_water", day.open_water_mm_d);
        show(name + "/net_radiation", day.net_radiation_mj_m2_d);
        show(name + "/wind", day.wind_at_2_m_s);
      });
    }
  }
  show("evaporation/pan", pond_evaporation_from_pan_mm_d(6.7, 0.81));
  show("seepage/volume", seepage_m3_d(0.37, 1.43));
  show("seepage/balance", seepage_mm_d(9.1, 5.3, 2.7));
}

void show_acclimation() {
  const AcclimationWater bag{24.3, 27.1, 7.7};
  for (const AcclimationWater& pond : {AcclimationWater{27.9, 25.2, 8.1}, AcclimationWater{25.1, 11.4, 8.2},
                                       AcclimationWater{24.9, 26, 9.3}}) {
    const std::string name = named("acclimation", {pond.salinity});
    with(name, acclimation(bag, pond, {1.9, 1.7, 0.45}, 4), [&](const Acclimation& result) {
      show(name + "/salinity", result.salinity_h);
      show(name + "/temperature", result.temperature_h);
      show(name + "/ph", result.ph_h);
      show(name + "/hours", result.hours);
      show(name + "/governs", static_cast<double>(result.governs));
    });
  }
}

void show_life() {
  for (double t : {3.0, 18.0, 29.0, 37.5}) {
    for (double s : {0.0, 12.5, 35.0}) {
      show(named("schmidt", {t, s}), schmidt_number_oxygen(t, s));
      show(named("un_ionized_total_scale", {t, s}), un_ionized_ammonia_fraction_total_scale(8.1, t, s));
      for (double wind : {0.0, 2.0, 7.3}) {
        show(named("exchange", {t, s, wind}), oxygen_exchange_per_h(t, s, wind, 0.9));
        const std::string name = named("life", {t, s, wind});
        with(name,
             metabolism_of_three({4.9, 5.8, 8.3, 15.4, 5.1, 30.1, 5.9, 18.2, t, s, 0.9, wind, 1, 0.1, 0.3}),
             [&](const Metabolism& m) {
               show(name + "/gpp", m.gpp.mg_l_d);
               show(name + "/gpp_low", m.gpp.low_mg_l_d);
               show(name + "/er", m.er.mg_l_d);
               show(name + "/er_high", m.er.high_mg_l_d);
               show(name + "/nep", m.nep.g_m2_d);
             });
        with(name, dawn_oxygen({8.9, 7.3, 2.5, 11.2, t, s, 0.9, wind, 1}, 4), [&](const DawnOxygen& dawn) {
          show(name + "/exponential", dawn.exponential_mg_l);
          show(name + "/respiration_diffusion", dawn.respiration_diffusion_mg_l);
          show(name + "/respiration", dawn.respiration_mg_l_h);
          show(name + "/exponential_hours", dawn.exponential_hours_to_floor.value_or(-1));
          show(name + "/respiration_diffusion_hours", dawn.respiration_diffusion_hours_to_floor.value_or(-1));
        });
        std::vector<OxygenReading> series;
        for (int i = 0; i <= 32; ++i) series.push_back({0.75 * i, 6.5 - 2.1 * ((i * 5) % 7) / 7.0, t, s, wind});
        with(name, metabolism_of_series(series, {5.9, 18.2, 0.9, 1, 1, 0.1, 0.3, 3}),
             [&](const SeriesMetabolism& m) {
               show(name + "/series_gpp", m.gpp.mg_l_d);
               show(name + "/series_er_low", m.er.low_mg_l_d);
             });
      }
    }
  }
  show("wind_at_10_m", wind_at_10_m_m_s(4.7, 2.2));
}

void show_salts() {
  for (const char* salt_name : {"sodium_nitrate", "potassium_nitrate", "calcium_nitrate"}) {
    with(salt_name, salt_named(salt_name), [&](Salt salt) {
      for (double t : {5.0, 16.0, 27.0, 34.5}) {
        const std::string prefix = std::string(salt_name) + "/";
        show(prefix + named("solubility", {t}), solubility_mass_fraction(salt, t));
        for (double w : {0.0, 0.03, 0.11, 0.28}) {
          show(prefix + named("solution_density", {w, t}), solution_density_kg_m3(salt, w, t));
        }
        for (double salt_kg : {4.0, 21.0, 55.0}) {
          const std::string name = prefix + named("dissolve", {salt_kg, t});
          with(name, dissolve(salt, salt_kg, 80, t), [&](const Dissolving& end) {
            show(name + "/final_temperature_c", end.final_temperature_c);
            show(name + "/solution_volume_l", end.solution_volume_l);
            show(name + "/share_of_saturation", end.share_of_saturation);
            show(name + "/dissolves", end.dissolves ? 1 : 0);
          });
        }
      }
    });
  }
}

void show_sun() {
  const struct {
    double latitude_deg, longitude_deg;
    int offset_min;
  } places[] = {{0, 0, 0}, {10.5, 106.3, 420}, {-4.1, -81, -300}, {31.2, -81.3, -300}, {-52.7, 171.4, 765}};
  for (const auto& place : places) {
    for (int month = 1; month <= 12; ++month) {
      const std::string name = named("sun", {place.latitude_deg, place.longitude_deg, double(month)});
      with(name, civil_day_of({2026, month, 1 + 2 * month}), [&](CivilDay day) {
        with(name, sun_day(day, place.latitude_deg, place.longitude_deg, UtcOffset{place.offset_min}),
             [&](const SunDay& sun) {
               show(name + "/sunrise", static_cast<double>(sun.sunrise.unix_s));
               show(name + "/noon", static_cast<double>(sun.solar_noon.unix_s));
               show(name + "/sunset", static_cast<double>(sun.sunset.unix_s));
               show(name + "/equation_of_time", equation_of_time_min(sun.solar_noon));
               for (int hours : {-9, -4, 0, 3}) {
                 show(name + named("/elevation", {double(hours)}),
                      solar_elevation_deg(sun.solar_noon.plus_h(hours), place.latitude_deg,
                                          place.longitude_deg));
               }
             });
      });
    }
  }
}

void show_curve(const std::string& name, const Result<StageCurve>& result) {
  with(name, result, [&](const StageCurve& curve) {
    show(name + "/full_volume", curve.full_volume_m3());
    for (double share : {0.1, 0.25, 0.333, 0.5, 0.8, 1.0}) {
      show(name + named("/level_for_share", {share}), curve.level_cm_for_share(share));
    }
    for (double part : {0.05, 0.3, 0.62, 0.97}) {
      const double level_cm =
          curve.lowest_level_cm() + part * (curve.full_level_cm() - curve.lowest_level_cm());
      show(name + named("/area", {part}), curve.area_m2(level_cm));
      show(name + named("/volume", {part}), curve.volume_m3(level_cm));
      show(name + named("/mean_depth", {part}), curve.mean_depth_m(level_cm));
    }
  });
}

void show_pond() {
  show_curve("basin", StageCurve::from_basin(143.7, 61.2, 1.37, 2.6));
  show_curve("top", StageCurve::from_top(210, 48.5, 1.2, 3));
  show_curve("survey", StageCurve::from_survey({{-12, 310}, {20, 4100}, {55, 6270}, {103, 7011}, {141, 7405}}));
}

void show_dose() {
  with("products", parse_products(assets::find("products.json")), [](const std::vector<Product>& products) {
    for (const Product& product : products) {
      const std::string name = "dose/" + product.id;
      show(name + "/nitrogen", nitrogen_in_product_kg(product, 37.3));
      show(name + "/nitrate_added", nitrate_n_added_mg_l(product, 37.3, 8123));
      if (!product.allowed) continue;
      show(name + "/product_for_nitrogen", product_for_nitrogen_kg(product, 6.1));
      for (double product_kg : {3.0, 18.0, 61.0}) {
        const BinLimits limits{120, 0.9, 25, 180, 28.4, 17, 0.5};
        const std::string plan_name = name + named("/bins", {product_kg});
        with(plan_name, plan_bins(product, product_kg, limits), [&](const BinPlan& plan) {
          show(plan_name + "/count", plan.bins);
          show(plan_name + "/salt", plan.salt_per_bin_kg);
          show(plan_name + "/water", plan.water_per_bin_l);
          show(plan_name + "/solution", plan.solution_per_bin_l);
          show(plan_name + "/mass", plan.solution_mass_kg);
          show(plan_name + "/final_temperature", plan.final_temperature_c);
          show(plan_name + "/share_of_saturation", plan.share_of_saturation);
        });
      }
    }
  });
  show("dose/product_for_pond", product_for_pond_kg(23.7, 0.731));
  show("dose/cost", dose_cost(17.33, 1.29));
  with("lanes", plan_lanes(143, 61, 9, 4), [](const std::vector<Lane>& lanes) {
    double length_m = 0;
    int number = 0;
    for (const Lane& lane : lanes) {
      length_m += lane.x1 - lane.x0;
      const std::string name = named("lanes", {double(++number)});
      show(name + "/x0", lane.x0);
      show(name + "/x1", lane.x1);
      show(name + "/y", lane.y0);
      show(name + "/bin", lane.bin);
    }
    show("lanes/there_and_back", length_m);
  });
}

void show_hydraulics() {
  for (double up_m : {-0.2, 0.13, 0.47, 1.62}) {
    for (double down_m : {-0.4, 0.08, 0.39, 1.1}) {
      const auto shown = [&](const char* what, const Result<WeirFlow>& flow) {
        const std::string name = named(what, {up_m, down_m});
        with(name, flow, [&](const WeirFlow& weir) { show(name, weir.flow_m3_s); });
      };
      shown("v_notch_60", v_notch_flow(60, up_m, down_m));
      shown("v_notch_90", v_notch_flow(90, up_m, down_m));
      shown("rectangular_weir", rectangular_weir_flow(1.3, 0.45, up_m, down_m));
      shown("contracted_weir", contracted_weir_flow(1.3, 2, up_m, down_m));
      shown("broad_crest", broad_crested_weir_flow(1.3, 0.92, up_m, down_m));
      shown("open_flume", open_flume_flow(0.23, up_m, down_m));
      const std::string at = named("", {up_m, down_m});
      with("gate" + at, gate_flow(1.1, 0.4, up_m, down_m, 0.61),
           [&](const OpeningFlow& gate) { show("gate" + at, gate.flow_m3_s); });
      with("pipe" + at, pipe_flow(0.35, up_m, down_m, 0.61),
           [&](const OpeningFlow& pipe) { show("pipe" + at, pipe.flow_m3_s); });
    }
  }
  with("screen", screen_area(73, 0.08, 0.37, 2.3), [](const ScreenArea& area) {
    show("screen/effective", area.effective_m2);
    show("screen/gross", area.gross_m2);
    show("screen/slot", area.slot_velocity_m_s);
    show("screen/slot_clean", area.slot_velocity_clean_m_s);
  });
  show("open_share", mesh_open_share(212, 131));
  show("villemonte", villemonte_share(0.37, 0.29, 1.5));
  show("fill_time", fill_time_h(4321, 37, 6789, 13.7));
}

void show_plan(const std::string& name, const Result<FillingPlan>& result) {
  with(name, result, [&](const FillingPlan& plan) {
    show(name + "/hours", plan.hours);
    show(name + "/end_level", plan.end_level_cm);
    show(name + "/inflow", plan.inflow_m3);
    show(name + "/ran_out", plan.ran_out_m3);
    show(name + "/lost", plan.lost_m3);
    show(name + "/rain", plan.rain_m3);
    show(name + "/largest_inflow", plan.largest_inflow_l_s);
    show(name + "/points", static_cast<double>(plan.series.size()));
  });
}

void show_filling() {
  const Instant start{1796000000};
  FillingSetup setup;
  setup.evaporation_mm_d = 4.3;
  setup.seepage_mm_d = 6.1;
  setup.rain_mm_d = 3.7;
  setup.inlets = {{"pump", PumpInlet{31.7}, {}, true}};
  with("pond to fill", StageCurve::from_basin(94, 44, 1.2, 2), [&](const StageCurve& curve) {
    show_plan("fill/pump", plan_filling(curve, setup, 0, 97.4, start));
    setup.inlets = {{"sluice", GateInlet{0.9, 0.35, -12, 0.61}, {}, false},
                    {"pipe", PipeInlet{0.3, 5, 0.58}, {{start.plus_h(2), start.plus_h(31)}}, true},
                    {"weir", WeirInlet{WeirKind::rectangular, 62, 0.8, 0.5, 0}, {}, true}};
    std::vector<TidePoint> points;
    for (int i = 0; i < 16; ++i) points.push_back({start.plus_h(6.2 * i - 3), i % 2 == 0 ? -35.0 : 96.0 + i});
    with("tide", TideTable::from_points(points), [&](const TideTable& tide) {
      setup.tide = tide;
      show_plan("fill/tide", plan_filling(curve, setup, 11, 93, start));
      show_plan("fill/too_high", plan_filling(curve, setup, 11, 119, start));
      with("fill/start", start_for(curve, setup, 11, 93, start.plus_h(70), start),
           [&](const FillingStart& found) { show("fill/start", hours_between(start, found.start)); });
    });
  });
}

}  // namespace
}  // namespace tawny

int main() {
  tawny::show_water();
  tawny::show_conductivity();
  tawny::show_light();
  tawny::show_losses();
  tawny::show_acclimation();
  tawny::show_life();
  tawny::show_salts();
  tawny::show_sun();
  tawny::show_pond();
  tawny::show_hydraulics();
  tawny::show_filling();
  tawny::show_dose();
  return tawny::refused == 0 ? 0 : 1;
}
