#include "pond/curve.h"

#include <algorithm>
#include <utility>

namespace tawny {
namespace {

constexpr Range kLevel{-1000, 2000, "cm", 0};
constexpr Range kArea{0, 1e7, "m2", 0};
constexpr Range kSide{1, 5000, "m", 0};
constexpr Range kDepth{0.2, 10, "m", 1};
constexpr Range kBankSlope{0, 10, "", 1};
constexpr Range kShare{0, 1, "", 0};

tl::unexpected<Problem> survey_conflict(const char* id, const SurveyPoint& point) {
  return refuse(ProblemKind::conflict, "survey",
                Message(id)
                    .with("level", Quantity{point.level_cm, 0, "cm"})
                    .with("area", Quantity{point.area_m2, 0, "m2"}));
}

}  // namespace

StageCurve::StageCurve(std::vector<Slice> slices, double full_level_cm)
    : slices_(std::move(slices)), full_level_cm_(full_level_cm) {
  const Slice& last = slices_.back();
  full_volume_m3_ = last.volume_m3((full_level_cm_ - last.from_cm) / 100);
}

Result<StageCurve> StageCurve::from_survey(const std::vector<SurveyPoint>& points) {
  if (points.size() < 2) {
    return refuse(ProblemKind::missing, "survey", Message("problem.survey_too_short"));
  }
  for (const SurveyPoint& point : points) {
    TAWNY_REFUSE_OUTSIDE("survey_level_cm", point.level_cm, kLevel);
    TAWNY_REFUSE_OUTSIDE("survey_area_m2", point.area_m2, kArea);
  }
  std::vector<Slice> slices;
  double volume_m3 = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const SurveyPoint& low = points[i];
    const SurveyPoint& high = points[i + 1];
    if (!(high.level_cm > low.level_cm)) return survey_conflict("problem.survey_level_not_rising", high);
    if (high.area_m2 < low.area_m2) return survey_conflict("problem.survey_area_shrinks", high);
    const double height_m = (high.level_cm - low.level_cm) / 100;
    Slice slice;
    slice.from_cm = low.level_cm;
    slice.volume_below_m3 = volume_m3;
    slice.a0 = low.area_m2;
    slice.a1 = (high.area_m2 - low.area_m2) / height_m;
    volume_m3 = slice.volume_m3(height_m);
    slices.push_back(slice);
  }
  if (!(volume_m3 > 0)) return survey_conflict("problem.survey_holds_nothing", points.back());
  return StageCurve(std::move(slices), points.back().level_cm);
}

Result<StageCurve> StageCurve::from_basin(double bottom_length_m, double bottom_width_m, double depth_m,
                                          double bank_slope) {
  TAWNY_REFUSE_OUTSIDE("bottom_length_m", bottom_length_m, kSide);
  TAWNY_REFUSE_OUTSIDE("bottom_width_m", bottom_width_m, kSide);
  TAWNY_REFUSE_OUTSIDE("depth_m", depth_m, kDepth);
  TAWNY_REFUSE_OUTSIDE("bank_slope", bank_slope, kBankSlope);
  Slice slice;
  slice.a0 = bottom_length_m * bottom_width_m;
  slice.a1 = 2 * bank_slope * (bottom_length_m + bottom_width_m);
  slice.a2 = 4 * bank_slope * bank_slope;
  return StageCurve({slice}, 100 * depth_m);
}

Result<StageCurve> StageCurve::from_top(double top_length_m, double top_width_m, double depth_m,
                                        double bank_slope) {
  TAWNY_REFUSE_OUTSIDE("top_length_m", top_length_m, kSide);
  TAWNY_REFUSE_OUTSIDE("top_width_m", top_width_m, kSide);
  TAWNY_REFUSE_OUTSIDE("depth_m", depth_m, kDepth);
  TAWNY_REFUSE_OUTSIDE("bank_slope", bank_slope, kBankSlope);
  const double banks_m = 2 * bank_slope * depth_m;
  if (std::min(top_length_m, top_width_m) - banks_m < kSide.low) {
    return refuse(ProblemKind::conflict, "bank_slope",
                  Message("problem.banks_meet")
                      .with("width", Quantity{std::min(top_length_m, top_width_m), 0, "m"})
                      .with("banks", Quantity{banks_m, 1, "m"}));
  }
  return from_basin(top_length_m - banks_m, top_width_m - banks_m, depth_m, bank_slope);
}

Result<const StageCurve::Slice*> StageCurve::slice_at(double level_cm) const {
  TAWNY_REFUSE_OUTSIDE("level_cm", level_cm, (Range{lowest_level_cm(), full_level_cm_, "cm", 0}));
  const auto above = std::upper_bound(slices_.begin(), slices_.end(), level_cm,
                                      [](double level, const Slice& slice) { return level < slice.from_cm; });
  return &*(above - 1);
}

Result<double> StageCurve::area_m2(double level_cm) const {
  const Result<const Slice*> slice = slice_at(level_cm);
  if (!slice) return tl::unexpected<Problem>(slice.error());
  return (*slice)->area_m2((level_cm - (*slice)->from_cm) / 100);
}

Result<double> StageCurve::volume_m3(double level_cm) const {
  const Result<const Slice*> slice = slice_at(level_cm);
  if (!slice) return tl::unexpected<Problem>(slice.error());
  return (*slice)->volume_m3((level_cm - (*slice)->from_cm) / 100);
}

Result<double> StageCurve::mean_depth_m(double level_cm) const {
  const Result<double> area = area_m2(level_cm);
  if (!area) return area;
  if (!(*area > 0)) {
    return refuse(ProblemKind::impossible, "level_cm",
                  Message("problem.pond_is_dry").with("level", Quantity{level_cm, 0, "cm"}));
  }
  return *volume_m3(level_cm) / *area;
}

Result<double> StageCurve::level_cm_for_share(double share) const {
  TAWNY_REFUSE_OUTSIDE("share", share, kShare);
  const double wanted_m3 = share * full_volume_m3_;
  const auto above =
      std::upper_bound(slices_.begin() + 1, slices_.end(), wanted_m3,
                       [](double volume, const Slice& slice) { return volume < slice.volume_below_m3; });
  const Slice& slice = *(above - 1);
  const double top_cm = above == slices_.end() ? full_level_cm_ : above->from_cm;
  // Volume never falls with level, so halving finds it; 60 halvings of 30 m leave nothing that a double could
  // hold.
  double low_m = 0;
  double high_m = (top_cm - slice.from_cm) / 100;
  for (int i = 0; i < 60; ++i) {
    const double middle_m = (low_m + high_m) / 2;
    (slice.volume_m3(middle_m) < wanted_m3 ? low_m : high_m) = middle_m;
  }
  return std::min(slice.from_cm + 100 * high_m, full_level_cm_);
}

}  // namespace tawny
