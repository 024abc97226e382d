#include "science/salts.h"

#include <array>
#include <cmath>

namespace tawny {
namespace {

constexpr Range kTemperature{0, 40, "c", 1};
constexpr Range kMassFraction{0, 0.6, "", 2};
constexpr Range kMass{0.001, 100000, "kg", 3};

constexpr std::array<double, 6> kSolubilityAt_c = {0, 10, 20, 25, 30, 40};

// Specific heat of water at 25 C, kJ/(kg K), and of a dissolved salt as
//   a1 exp(a2 t + a3 exp(0.01 t) + a4 w) + a5 w^a6 with t = 25.
constexpr double kWaterHeat_kj_kg_k = 4.1813;

struct SaltFacts {
  std::string_view name;
  double molar_mass_g_mol;
  std::array<double, 6> solubility;
  std::array<double, 5> density;        // c0 .. c4
  std::array<double, 6> specific_heat;  // a1 .. a6
  std::array<double, 5> heat_kj_mol;    // times m^0, m^0.5, m, m^1.5, m^2
};

constexpr std::array<SaltFacts, 3> kSalts = {{
    {"sodium_nitrate",
     84.994,
     {0.422, 0.444, 0.466, 0.477, 0.488, 0.510},
     {22.3499264791804, 66.4478689005725, 0.989888301509443, 0.00947165097909636, 1971.5514625204},
     {-0.0420888209361667, -0.0862083520705012, 4.04836454348122, -8.1584512900783, 1.57362106214301,
      0.23955967308698},
     {20.4537, 0.70413, -3.5284, 1.14636, -0.112733}},
    {"potassium_nitrate",
     101.102,
     {0.120, 0.176, 0.242, 0.277, 0.313, 0.386},
     {1.49068709973892, 6.67292354651383, 1.47150749460911, 0.0155872679453073, 2539.22687484937},
     {-0.0231553426998827, -0.0942883948914098, 4.38938623486404, -15.696387624444, 2.25138090262839,
      0.939359066403717},
     {34.8, 0, 0, 0, 0}},
    {"calcium_nitrate",
     164.086,
     {0.501, 0.531, 0.567, 0.590, 0.609, 0.654},
     {57.3363374529272, 538.054269301373, 1.00008670445074, 0.00720231361346264, 1438.41364559148},
     {0, 0, 0, 0, 0, 1},
     {31.5, 0, 0, 0, 0}},
}};

const SaltFacts& facts_of(Salt salt) { return kSalts[static_cast<std::size_t>(salt)]; }

double water_density_kg_m3(double t) {
  return (((((-2.8054253e-10 * t + 1.0556302e-7) * t - 4.6170461e-5) * t - 0.0079870401) * t + 16.945176) * t +
          999.83952) /
         (1 + 0.01687985 * t);
}

double density_kg_m3(const SaltFacts& facts, double w, double t) {
  const auto& c = facts.density;
  const double warmth = t + c[4];
  const double apparent = (c[0] * w + c[1]) * std::exp(1e-6 * warmth * warmth) / (w + c[2] + c[3] * t);
  return 1 / ((1 - w) / water_density_kg_m3(t) + w / apparent);
}

double solubility_at(const SaltFacts& facts, double t) {
  std::size_t i = 0;
  while (i + 2 < kSolubilityAt_c.size() && t > kSolubilityAt_c[i + 1]) ++i;
  const double along = (t - kSolubilityAt_c[i]) / (kSolubilityAt_c[i + 1] - kSolubilityAt_c[i]);
  return facts.solubility[i] + along * (facts.solubility[i + 1] - facts.solubility[i]);
}

double specific_heat_kj_kg_k(const SaltFacts& facts, double w) {
  const auto& a = facts.specific_heat;
  const double of_salt =
      a[0] * std::exp(a[1] * 25 + a[2] * std::exp(0.25) + a[3] * w) + a[4] * std::pow(w, a[5]);
  return (1 - w) * kWaterHeat_kj_kg_k + w * of_salt;
}

// How far `salt_kg` cools `water_kg` when all of it dissolves.
double cooling_k(const SaltFacts& facts, double salt_kg, double water_kg) {
  const double moles = 1000 * salt_kg / facts.molar_mass_g_mol;
  const double m = moles / water_kg;
  const double root = std::sqrt(m);
  const auto& h = facts.heat_kj_mol;
  const double heat = h[0] + root * (h[1] + root * (h[2] + root * (h[3] + root * h[4])));
  const double mass_kg = salt_kg + water_kg;
  return moles * heat / (mass_kg * specific_heat_kj_kg_k(facts, salt_kg / mass_kg));
}

// Whether `salt_kg` can be in solution at the temperature that its own dissolving leaves.
bool can_be_dissolved(const SaltFacts& facts, double salt_kg, double water_kg, double start_c) {
  const double final_c = start_c - cooling_k(facts, salt_kg, water_kg);
  return final_c >= 0 && salt_kg / (salt_kg + water_kg) <= solubility_at(facts, final_c);
}

}  // namespace

Result<Salt> salt_named(std::string_view name) {
  for (std::size_t i = 0; i < kSalts.size(); ++i) {
    if (kSalts[i].name == name) return static_cast<Salt>(i);
  }
  return refuse(ProblemKind::unsupported, "salt",
                Message("problem.unknown_salt").with("salt", Text{std::string(name)}));
}

Result<double> solubility_mass_fraction(Salt salt, double temperature_c) {
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  return solubility_at(facts_of(salt), temperature_c);
}

Result<double> solution_density_kg_m3(Salt salt, double mass_fraction, double temperature_c) {
  TAWNY_REFUSE_OUTSIDE("mass_fraction", mass_fraction, kMassFraction);
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  return density_kg_m3(facts_of(salt), mass_fraction, temperature_c);
}

Result<Dissolving> dissolve(Salt salt, double salt_kg, double water_kg, double temperature_c) {
  TAWNY_REFUSE_OUTSIDE("salt_kg", salt_kg, kMass);
  TAWNY_REFUSE_OUTSIDE("water_kg", water_kg, kMass);
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  const SaltFacts& facts = facts_of(salt);
  Dissolving out;
  out.dissolves = can_be_dissolved(facts, salt_kg, water_kg, temperature_c);
  double dissolved_kg = salt_kg;
  if (!out.dissolves) {
    // No more than saturates the water at its starting temperature, since every salt here cools.
    const double most = solubility_at(facts, temperature_c);
    double fits_kg = 0;
    double too_much_kg = std::fmin(salt_kg, water_kg * most / (1 - most));
    for (int i = 0; i < 60; ++i) {
      const double middle_kg = (fits_kg + too_much_kg) / 2;
      (can_be_dissolved(facts, middle_kg, water_kg, temperature_c) ? fits_kg : too_much_kg) = middle_kg;
    }
    dissolved_kg = fits_kg;
  }
  const double cooling = dissolved_kg > 0 ? cooling_k(facts, dissolved_kg, water_kg) : 0;
  out.final_temperature_c = temperature_c - cooling;
  const double mass_kg = water_kg + dissolved_kg;
  const double w = dissolved_kg / mass_kg;
  const double saturated = solubility_at(facts, out.final_temperature_c);
  out.solution_volume_l = 1000 * mass_kg / density_kg_m3(facts, w, out.final_temperature_c);
  out.share_of_saturation = (dissolved_kg / water_kg) / (saturated / (1 - saturated));
  return out;
}

}  // namespace tawny
