// How much water a pond holds and how wide it is at each reading of its gauge: the stage-area-volume curve.
//
// Levels are readings of the pond's own gauge in cm; its zero may lie anywhere. The curve reaches from its
// lowest to its highest level; outside it every question is refused, never extended. Two ways to get one:
//
//   survey  area linear in level between the points; volume its exact integral from the lowest point:
//             V = sum of (level difference) (A_low + A_high) / 2
//   basin   bottom Lb x Wb (m), depth h (m), banks z horizontal to 1 vertical, gauge zero at the bottom:
//             A = (Lb + 2 z h)(Wb + 2 z h)
//             V = Lb Wb h + z (Lb + Wb) h^2 + 4/3 z^2 h^3   (the prismoid, exactly)
//
// Source of the prismoid: any surveying text; checked by the worked case of USDA NRCS Agriculture Handbook 590
// (from memory) and a dugout calculator's formula.
//
// What does not hold: water below the lowest survey point (a drain ditch) is not counted; a share of the volume
// is not a share of the depth; silt that settles makes the true volume smaller than the surveyed one.
#pragma once

#include <vector>

#include "base/problem.h"

namespace tawny {

struct SurveyPoint {
  double level_cm = 0;
  double area_m2 = 0;
};

class StageCurve {
 public:
  // At least two points, levels strictly increasing (-1000 .. 2000 cm), areas never decreasing (0 .. 1e7 m2),
  // the highest above zero.
  static Result<StageCurve> from_survey(const std::vector<SurveyPoint>& points);

  // Bottom 1 .. 5000 m each way, depth 0.2 .. 10 m, banks 0 .. 10 to 1.
  static Result<StageCurve> from_basin(double bottom_length_m, double bottom_width_m, double depth_m,
                                       double bank_slope);

  // The same from the dimensions at the full level, as they are paced along the bank; refused when the banks
  // would meet above the bottom.
  static Result<StageCurve> from_top(double top_length_m, double top_width_m, double depth_m,
                                     double bank_slope);

  Result<double> area_m2(double level_cm) const;
  Result<double> volume_m3(double level_cm) const;
  // Volume over area; refused where the pond is dry to a point.
  Result<double> mean_depth_m(double level_cm) const;
  // The gauge reading at which the pond holds `share` (0 .. 1) of its full volume.
  Result<double> level_cm_for_share(double share) const;

  double lowest_level_cm() const { return slices_.front().from_cm; }
  double full_level_cm() const { return full_level_cm_; }
  double full_volume_m3() const { return full_volume_m3_; }

 private:
  // From one level up to the next slice's; area there is a0 + a1 x + a2 x^2, x metres over from_cm.
  struct Slice {
    double from_cm = 0;
    double volume_below_m3 = 0;
    double a0 = 0, a1 = 0, a2 = 0;
    double area_m2(double x) const { return a0 + x * (a1 + x * a2); }
    double volume_m3(double x) const { return volume_below_m3 + x * (a0 + x * (a1 / 2 + x * a2 / 3)); }
  };

  StageCurve(std::vector<Slice> slices, double full_level_cm);
  Result<const Slice*> slice_at(double level_cm) const;

  std::vector<Slice> slices_;  // never empty
  double full_level_cm_ = 0;
  double full_volume_m3_ = 0;
};

}  // namespace tawny
