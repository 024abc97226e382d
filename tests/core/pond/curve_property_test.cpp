#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "pond/curve.h"

namespace tawny {
namespace {

StageCurve any_survey() {
  std::vector<SurveyPoint> points;
  double level_cm = *rc::gen::inRange(-200, 200);
  double area_m2 = *rc::gen::inRange(0, 5000);
  const int count = *rc::gen::inRange(2, 12);
  for (int i = 0; i < count; ++i) {
    points.push_back({level_cm, area_m2});
    level_cm += *rc::gen::inRange(1, 60);
    area_m2 += *rc::gen::inRange(1, 3000);
  }
  return *StageCurve::from_survey(points);
}

StageCurve any_basin() {
  return *StageCurve::from_basin(*rc::gen::inRange(10, 400), *rc::gen::inRange(10, 400),
                                 *rc::gen::inRange(20, 300) / 100.0, *rc::gen::inRange(0, 41) / 10.0);
}

StageCurve any_curve() { return *rc::gen::arbitrary<bool>() ? any_survey() : any_basin(); }

double any_share() { return *rc::gen::inRange(0, 100001) / 100000.0; }

RC_GTEST_PROP(CurveProperty, ShareToLevelToVolumeComesBack, ()) {
  const StageCurve curve = any_curve();
  const double share = any_share();
  const Result<double> level_cm = curve.level_cm_for_share(share);
  RC_ASSERT(level_cm.has_value());
  const Result<double> volume_m3 = curve.volume_m3(*level_cm);
  RC_ASSERT(volume_m3.has_value());
  RC_ASSERT(std::fabs(*volume_m3 - share * curve.full_volume_m3()) <= 1e-9 * curve.full_volume_m3());
}

RC_GTEST_PROP(CurveProperty, VolumeAndAreaNeverFallWithLevel, ()) {
  const StageCurve curve = any_curve();
  const double height_cm = curve.full_level_cm() - curve.lowest_level_cm();
  double a = any_share();
  double b = any_share();
  if (a > b) std::swap(a, b);
  const double low_cm = curve.lowest_level_cm() + a * height_cm;
  const double high_cm = std::fmin(curve.lowest_level_cm() + b * height_cm, curve.full_level_cm());
  RC_ASSERT(*curve.volume_m3(low_cm) <= *curve.volume_m3(high_cm) * (1 + 1e-12));
  RC_ASSERT(*curve.area_m2(low_cm) <= *curve.area_m2(high_cm) * (1 + 1e-12));
}

RC_GTEST_PROP(CurveProperty, AreaIsHowFastVolumeGrows, ()) {
  const StageCurve curve = any_basin();
  const double level_cm = 0.01 + any_share() * (curve.full_level_cm() - 0.02);
  const double rise = (*curve.volume_m3(level_cm + 0.01) - *curve.volume_m3(level_cm - 0.01)) / 0.0002;
  const double area = *curve.area_m2(level_cm);
  RC_ASSERT(std::fabs(rise - area) <= 1e-4 * area);
}

RC_GTEST_PROP(CurveProperty, MeanDepthIsNoMoreThanTheDepth, ()) {
  const StageCurve curve = any_curve();
  const double share = any_share();
  const double level_cm = *curve.level_cm_for_share(share);
  const Result<double> mean_m = curve.mean_depth_m(level_cm);
  if (!mean_m) return;
  RC_ASSERT(*mean_m >= 0);
  RC_ASSERT(*mean_m <= (level_cm - curve.lowest_level_cm()) / 100 + 1e-9);
}

}  // namespace
}  // namespace tawny
