#include "science/fill_time.h"

namespace tawny {
namespace {

constexpr Range kVolume{0, 1e7, "m3", 0};
constexpr Range kInflow{0.01, 100000, "l_s", 2};
constexpr Range kArea{0, 1e7, "m2", 0};
constexpr Range kLoss{-500, 500, "mm_d", 1};

}  // namespace

Result<double> fill_time_h(double volume_m3, double inflow_l_s, double area_m2, double loss_mm_d) {
  TAWNY_REFUSE_OUTSIDE("volume_m3", volume_m3, kVolume);
  TAWNY_REFUSE_OUTSIDE("inflow_l_s", inflow_l_s, kInflow);
  TAWNY_REFUSE_OUTSIDE("area_m2", area_m2, kArea);
  TAWNY_REFUSE_OUTSIDE("loss_mm_d", loss_mm_d, kLoss);
  const double loss_m3_h = area_m2 * loss_mm_d / 24000;
  const double gain_m3_h = 3.6 * inflow_l_s - loss_m3_h;
  if (!(gain_m3_h > 0)) {
    return refuse(ProblemKind::impossible, "loss_mm_d",
                  Message("problem.losses_outrun")
                      .with("loss", Quantity{loss_m3_h / 3.6, 1, "l_s"})
                      .with("inflow", Quantity{inflow_l_s, 1, "l_s"}));
  }
  return volume_m3 / gain_m3_h;
}

}  // namespace tawny
