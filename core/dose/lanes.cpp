#include "dose/lanes.h"

#include <algorithm>
#include <cmath>

namespace tawny {
namespace {

constexpr Range kSide{1, 5000, "m", 0};
constexpr Range kSpacing{1, 200, "m", 0};
constexpr Range kBins{1, 500, "", 0};
constexpr Range kLaneCount{1, 2000, "", 0};

}  // namespace

Result<std::vector<Lane>> plan_lanes(double length_m, double width_m, double spacing_m, int bins) {
  TAWNY_REFUSE_OUTSIDE("length_m", length_m, kSide);
  TAWNY_REFUSE_OUTSIDE("width_m", width_m, kSide);
  TAWNY_REFUSE_OUTSIDE("lane_spacing_m", spacing_m, kSpacing);
  TAWNY_REFUSE_OUTSIDE("bins", static_cast<double>(bins), kBins);
  // A width that is a whole number of spacings but for rounding shall not get one lane more.
  const double needed = std::ceil(width_m / spacing_m - 1e-9);
  TAWNY_REFUSE_OUTSIDE("lanes", needed, kLaneCount);
  const int lanes = static_cast<int>(needed);

  // In units of a lane's 1/bins part everything is whole: a lane is `bins` units, a bin's share is `lanes`
  // units.
  std::vector<Lane> out;
  for (int lane = 0; lane < lanes; ++lane) {
    const double y = (lane + 0.5) * width_m / lanes;
    const bool forth = lane % 2 == 0;
    const int lane_end = (lane + 1) * bins;
    for (int unit = lane * bins; unit < lane_end;) {
      const int bin = unit / lanes;
      const int piece_end = std::min(lane_end, (bin + 1) * lanes);
      const double from_m = length_m * (unit - lane * bins) / bins;
      const double to_m = length_m * (piece_end - lane * bins) / bins;
      out.push_back(forth ? Lane{from_m, y, to_m, y, bin + 1}
                          : Lane{length_m - from_m, y, length_m - to_m, y, bin + 1});
      unit = piece_end;
    }
  }
  return out;
}

}  // namespace tawny
