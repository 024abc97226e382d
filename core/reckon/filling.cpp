// By hand: the pond and its filling. Volume, flow through gates and weirs, screens, hours.
#include "pond/curve.h"
#include "reckon/given.h"

namespace tawny {
namespace {

Result<ReckonAnswer> reckon_pond(const ReckonGiven& given) {
  const double depth_m = given.number("depth_m");
  TAWNY_RECKON_TAKE(
      curve, StageCurve::from_basin(given.number("bottom_length_m"), given.number("bottom_width_m"), depth_m,
                                    given.number("bank_slope")));
  TAWNY_RECKON_TAKE(area_m2, curve.area_m2(100 * depth_m));
  ReckonResults results(given);
  results.put("area_m2", area_m2)
      .put("volume_m3", curve.full_volume_m3())
      .put("mean_depth_m", curve.full_volume_m3() / area_m2);
  if (const auto share = given.maybe("share")) {
    TAWNY_RECKON_TAKE(level_cm, curve.level_cm_for_share(*share));
    results.put("level_for_share_m", level_cm / 100);
  }
  return results.done();
}

constexpr ReckonInput kPondInputs[] = {
    number_input("bottom_length_m", {1, 5000, "m", 1}), number_input("bottom_width_m", {1, 5000, "m", 1}),
    number_input("depth_m", {0.2, 10, "m", 2}),         number_input("bank_slope", {0, 10, "", 1}),
    optional_number("share", {0, 1, "share", 2}),
};
constexpr ReckonResult kPondResults[] = {
    {"area_m2", "m2", 0},
    {"volume_m3", "m3", 0},
    {"mean_depth_m", "m", 2},
    {"level_for_share_m", "m", 3},
};

constexpr Reckoning kRows[] = {
    {"pond", ReckonGroup::filling, kPondInputs, kPondResults,
     "prismoidal formula, exact for straight banks; the share is of the volume, not of the depth",
     "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 share=0.25", reckon_pond},
};

}  // namespace

std::span<const Reckoning> filling_reckonings() { return kRows; }

}  // namespace tawny
