// The dose walk: what a dose on this pond comes to, what speaks for and against walking now, and which step is
// next.
//
// Which area the rate counts on is the protocol's "dose.area_counted": the pond's nominal area, or the water
// surface at the last level. Salt is planned for the coldest water read on the newest day with readings and the
// day before it, since it dissolves least there; where no temperature or salinity was ever read, for the
// coldest and the saltiest water in which the protocol would release a pond, and `water_assumed` says so.
//
// `standard` is the default protocol; the pond's and the farm's changes up to then are applied to it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "dose/bin_plan.h"
#include "dose/dose.h"
#include "dose/lanes.h"
#include "dose/product.h"
#include "farm/farm.h"

namespace tawny {

struct WalkPlan {
  std::string pond;
  std::string product;
  double rate_kg_ha = 0;
  double area_ha = 0;
  std::string area_counted;  // "nominal" or "surface"; the protocol value is at kAreaCountedPath
  double product_kg = 0;
  double nitrogen_kg = 0;
  std::optional<double> level_cm;        // the last one read
  std::optional<double> nitrate_n_mg_l;  // over the present volume; needs a level and the pond's shape
  double bag_kg = 0;
  Bags bags;
  std::optional<double> cost;  // where the farm's price is known
  double water_temperature_c = 0, water_salinity = 0;
  bool water_assumed = false;
  BinPlan bins;
  std::vector<Lane> lanes;  // empty where the outline of the pond is not known
};

inline constexpr std::string_view kAreaCountedPath = "dose.area_counted";

// Which area the rate counts on, by the pond's protocol. Refuses (missing) a surface that cannot be told.
Result<double> counted_area_ha(const FarmPond& pond, const Protocol& protocol);

// Refuses: an unknown pond or product, a surface that cannot be told without a level, and whatever the
// reckonings of dose/ refuse (a product that is not allowed, a salt that will not dissolve in what the boat
// carries).
Result<WalkPlan> plan_walk(const Farm& farm, const Protocol& standard, const std::vector<Product>& products,
                           std::string_view pond, std::string_view product, double rate_kg_ha);

struct WalkCheck {
  std::string id;  // "product", "stage", "troubles", "rate", "last_dose", "sky", "time", "level"
  enum class Verdict {
    ok,
    warn,  // look again, then decide
    stop,  // not without the manager
  } verdict = Verdict::ok;
  Message what;
};

// In the order to show them. `sky` is what the person at the pond sees; without it, the newest look counts.
// Empty for an unknown pond.
std::vector<WalkCheck> walk_checks(const Farm& farm, const Protocol& standard,
                                   const std::vector<Product>& products, std::string_view pond,
                                   std::string_view product, double rate_kg_ha, std::optional<Sky> sky,
                                   Instant now);

struct WalkStep {
  enum class What { mix, spread, record } what = What::mix;
  int bin = 0;  // from 1; 0 for record
  bool operator==(const WalkStep&) const = default;
};

// Bin by bin: mix it, spread it; after the last, record the dose. A walk resumes here, whatever came in
// between.
WalkStep next_step(const DoseWalk& walk);

}  // namespace tawny
