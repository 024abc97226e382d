#include "science/dawn_oxygen.h"

#include <algorithm>
#include <cmath>

#include "science/gas_exchange.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

constexpr Range kOxygen{0, 40, "mg_l", 2};
constexpr Range kHoursBetween{0.25, 12, "h", 2};
constexpr Range kHoursToDawn{0.25, 24, "h", 2};

}  // namespace

Result<DawnOxygen> dawn_oxygen(const EveningPair& pair, double floor_mg_l) {
  TAWNY_REFUSE_OUTSIDE("first_mg_l", pair.first_mg_l, kOxygen);
  TAWNY_REFUSE_OUTSIDE("second_mg_l", pair.second_mg_l, kOxygen);
  TAWNY_REFUSE_OUTSIDE("hours_between", pair.hours_between, kHoursBetween);
  TAWNY_REFUSE_OUTSIDE("hours_to_dawn", pair.hours_to_dawn, kHoursToDawn);
  TAWNY_REFUSE_OUTSIDE("floor_mg_l", floor_mg_l, kOxygen);
  if (pair.hours_to_dawn < pair.hours_between) {
    return refuse(ProblemKind::conflict, "hours_to_dawn",
                  Message("problem.dawn_before_second")
                      .with("dawn", Quantity{pair.hours_to_dawn, 2, "h"})
                      .with("between", Quantity{pair.hours_between, 2, "h"}));
  }
  if (pair.second_mg_l > pair.first_mg_l) {
    return refuse(ProblemKind::impossible, "second_mg_l",
                  Message("problem.oxygen_rising")
                      .with("first", Quantity{pair.first_mg_l, 2, "mg_l"})
                      .with("second", Quantity{pair.second_mg_l, 2, "mg_l"}));
  }
  if (pair.first_mg_l == 0) {
    return refuse(ProblemKind::impossible, "first_mg_l", Message("problem.no_oxygen_to_lose"));
  }
  const Result<double> saturation_mg_l =
      oxygen_saturation_mg_l(pair.temperature_c, pair.salinity, pair.pressure_atm);
  if (!saturation_mg_l) return tl::unexpected<Problem>(saturation_mg_l.error());
  const Result<double> exchange_per_h =
      oxygen_exchange_per_h(pair.temperature_c, pair.salinity, pair.wind_10_m_s, pair.depth_m);
  if (!exchange_per_h) return tl::unexpected<Problem>(exchange_per_h.error());

  const double first = pair.first_mg_l;
  const double fall = pair.first_mg_l - pair.second_mg_l;
  const double between = pair.hours_between;
  const double to_dawn = pair.hours_to_dawn;
  const double k = *exchange_per_h;
  // C1 - Ce: written so that it loses no digits where the exchange is slow.
  const double above_rest = fall / -std::expm1(-k * between);

  DawnOxygen dawn;
  dawn.linear_mg_l = first - fall / between * to_dawn;
  dawn.exponential_mg_l = first * std::pow(pair.second_mg_l / first, to_dawn / between);
  dawn.respiration_diffusion_mg_l = first + above_rest * std::expm1(-k * to_dawn);
  dawn.respiration_mg_l_h = k * (*saturation_mg_l - first + above_rest);
  dawn.low_mg_l = std::min({dawn.linear_mg_l, dawn.exponential_mg_l, dawn.respiration_diffusion_mg_l});
  dawn.high_mg_l = std::max({dawn.linear_mg_l, dawn.exponential_mg_l, dawn.respiration_diffusion_mg_l});
  dawn.none_left = dawn.low_mg_l < 0;

  const double to_floor = first - floor_mg_l;
  if (to_floor <= 0) {
    dawn.linear_hours_to_floor = dawn.exponential_hours_to_floor = dawn.respiration_diffusion_hours_to_floor =
        0;
  } else if (fall > 0) {
    dawn.linear_hours_to_floor = to_floor / fall * between;
    // A share of what is there never takes it all; where it did, that was by the second reading at the latest.
    if (pair.second_mg_l == 0) {
      dawn.exponential_hours_to_floor = between;
    } else if (floor_mg_l > 0) {
      dawn.exponential_hours_to_floor =
          between * std::log(floor_mg_l / first) / std::log(pair.second_mg_l / first);
    }
    if (to_floor < above_rest) {
      dawn.respiration_diffusion_hours_to_floor = -std::log1p(-to_floor / above_rest) / k;
    }
  }
  return dawn;
}

}  // namespace tawny
