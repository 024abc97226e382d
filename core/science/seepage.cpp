#include "science/seepage.h"

namespace tawny {
namespace {

constexpr Range kConductivity{0, 500, "mm_h", 2};
constexpr Range kArea{0.001, 1000, "ha", 3};
constexpr Range kLevelFall{-500, 500, "mm_d", 1};
constexpr Range kEvaporation{0, 40, "mm_d", 1};
constexpr Range kRain{0, 1000, "mm_d", 1};

}  // namespace

Result<double> seepage_m3_d(double conductivity_mm_h, double area_ha) {
  TAWNY_REFUSE_OUTSIDE("conductivity_mm_h", conductivity_mm_h, kConductivity);
  TAWNY_REFUSE_OUTSIDE("area_ha", area_ha, kArea);
  return 240 * conductivity_mm_h * area_ha;
}

Result<double> seepage_mm_d(double level_fall_mm_d, double evaporation_mm_d, double rain_mm_d) {
  TAWNY_REFUSE_OUTSIDE("level_fall_mm_d", level_fall_mm_d, kLevelFall);
  TAWNY_REFUSE_OUTSIDE("evaporation_mm_d", evaporation_mm_d, kEvaporation);
  TAWNY_REFUSE_OUTSIDE("rain_mm_d", rain_mm_d, kRain);
  const double seepage = level_fall_mm_d + rain_mm_d - evaporation_mm_d;
  if (seepage < 0) {
    return refuse(ProblemKind::impossible, "level_fall_mm_d",
                  Message("problem.water_comes_in").with("gain", Quantity{-seepage, 1, "mm_d"}));
  }
  return seepage;
}

}  // namespace tawny
