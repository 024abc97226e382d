#include "farm/farm.h"

#include <algorithm>
#include <tuple>
#include <unordered_map>
#include <utility>

#include "farm/inlet_setup.h"
#include "farm/own_ponds.h"
#include "farm/set_up_values.h"
#include "logbook/kinds.h"
#include "protocol/protocol_times.h"

namespace tawny {
namespace {

constexpr Range kNominalAreaHa{0.001, 500, "ha", 3};
constexpr Range kOutlineM{1, 10000, "m", 0};
constexpr Range kBankSlope{0, 10, "", 1};
constexpr Range kWalkOrder{0, 100000, "", 0};
constexpr Range kLatitudeDeg{-72, 72, "deg", 3};
constexpr Range kLongitudeDeg{-180, 180, "deg", 3};
constexpr Range kOffsetMin{-720, 840, "min", 0};
constexpr Range kAltitudeM{-450, 6000, "m", 0};
constexpr Range kBagKg{0.1, 2000, "kg", 1};
constexpr Range kPricePerKg{0, 1e6, "", 2};
constexpr Range kBinVolumeL{1, 10000, "l", 0};
constexpr Range kShare{0.1, 1, "", 2};
constexpr Range kLiftKg{1, 1000, "kg", 0};
constexpr Range kBoatLoadKg{1, 10000, "kg", 0};
constexpr Range kLaneSpacingM{1, 200, "m", 0};

Result<StageCurve> read_curve(const Entry& entry) {
  const std::vector<double>* levels_cm = entry.numbers("survey_level_cm");
  const std::vector<double>* areas_m2 = entry.numbers("survey_area_m2");
  if (levels_cm != nullptr || areas_m2 != nullptr) {
    if (levels_cm == nullptr) return set_up_lacks("survey_level_cm");
    if (areas_m2 == nullptr || areas_m2->size() != levels_cm->size()) return set_up_lacks("survey_area_m2");
    std::vector<SurveyPoint> points;
    for (std::size_t i = 0; i < levels_cm->size(); ++i) points.push_back({(*levels_cm)[i], (*areas_m2)[i]});
    return StageCurve::from_survey(points);
  }
  for (const std::string_view key : {"bottom_length_m", "bottom_width_m", "depth_m", "bank_slope"}) {
    if (entry.number(key) == nullptr) return set_up_lacks(key);
  }
  return StageCurve::from_basin(*entry.number("bottom_length_m"), *entry.number("bottom_width_m"),
                                *entry.number("depth_m"), *entry.number("bank_slope"));
}

// The outline at the top of the banks: as told, else what the basin comes to, else unknown.
Result<double> read_outline(const Entry& entry, std::string_view told, std::string_view bottom) {
  double otherwise = 0;
  const double* bottom_m = entry.number(bottom);
  const double* depth_m = entry.number("depth_m");
  const double* slope = entry.number("bank_slope");
  if (bottom_m != nullptr && depth_m != nullptr && slope != nullptr)
    otherwise = *bottom_m + 2 * *slope * *depth_m;
  return optional_number(entry, told, kOutlineM, otherwise);
}

// Each pond's own entries and the farm's, in order, so that no pond's history reads the whole logbook.
class PondLists {
 public:
  using Entries = std::vector<const Entry*>;

  Entries& of(const std::string& pond) {
    if (const auto found = known_.find(pond); found != known_.end()) return *found->second;
    const auto added = lists_.emplace(pond, of_farm_).first;
    known_.emplace(added->first, &added->second);
    return added->second;
  }
  void take(const Entry& entry) {
    if (!entry.pond.empty()) return of(entry.pond).push_back(&entry);
    // Of which phones with an office have many, and which say nothing of any pond.
    if (entry.kind == kind::kOfficeReceipt) return;
    of_farm_.push_back(&entry);
    for (auto& [id, entries] : lists_) entries.push_back(&entry);
  }
  std::map<std::string, Entries>& lists() { return lists_; }

 private:
  std::map<std::string, Entries> lists_;
  std::unordered_map<std::string_view, Entries*> known_;
  Entries of_farm_;
};

struct Fold {
  Farm farm;
  // Per pond: its set-ups in order of observation.
  std::map<std::string, std::vector<const Entry*>> pond_setups;
  PondLists of_pond;
  std::map<std::string, FarmProduct> products;
  std::map<std::string, std::vector<const Entry*>> inlet_setups;
  std::map<std::string, std::map<Role, std::string>> persons;  // by pond
  std::map<std::string, TideTable> tides;                      // the farm's own under the empty id

  void say(const Problem& problem, const Entry& entry) {
    Message said = problem.message;
    said.with("pond", Text{entry.pond}).with("entry", Text{to_reference(entry.id)});
    farm.problems.push_back(std::move(said));
  }

  void read_farm(const Entry& entry) {
    auto place = read_farm_setup(entry);
    if (!place) return say(place.error(), entry);
    farm.set_up = true;
    farm.place = *place;
    farm.name = *entry.text("name");
    const bool* demo = entry.flag("demo");
    farm.demo = demo != nullptr && *demo;
  }

  void read_bins(const Entry& entry) {
    auto limits = read_bin_setup(entry, farm.bin_limits);
    if (!limits) return say(limits.error(), entry);
    auto spacing = optional_number(entry, "lane_spacing_m", kLaneSpacingM, farm.lane_spacing_m);
    if (!spacing) return say(spacing.error(), entry);
    farm.bin_limits = *limits;
    farm.lane_spacing_m = *spacing;
    farm.bin_set_up = true;
  }

  void read_product(const Entry& entry) {
    auto product = read_product_setup(entry);
    if (!product) return say(product.error(), entry);
    products.insert_or_assign(product->product, *product);
  }

  void read_device(const Entry& entry) {
    const std::string* person = entry.text("person");
    const std::string* role = entry.text("role");
    if (person == nullptr) return say(set_up_lacks("person").value(), entry);
    if (role == nullptr) return say(set_up_lacks("role").value(), entry);
    farm.people.insert_or_assign(entry.id.device, std::pair(*person, *role));
  }

  void read_tide(const Entry& entry) {
    auto tide = read_tide_table(entry);
    if (!tide) return say(tide.error(), entry);
    tides.insert_or_assign(entry.pond, *std::move(tide));
  }

  void read_person(const Entry& entry) {
    auto given = read_pond_person(entry);
    if (!given) return say(given.error(), entry);
    if (given->person.empty()) {
      persons[entry.pond].erase(given->role);
    } else {
      persons[entry.pond].insert_or_assign(given->role, given->person);
    }
  }

  // Only of inlets that the pond still has, in the order of its set-up.
  void take_water_ways(FarmPond& one, double discharge_coefficient) {
    const std::string& id = one.history.pond.id;
    std::map<std::string, Inlet> latest;
    for (const Entry* entry : inlet_setups[id]) {
      const auto inlet = read_inlet_setup(*entry, discharge_coefficient);
      if (inlet) {
        latest.insert_or_assign(inlet->name, *inlet);
      } else {
        say(inlet.error(), *entry);
      }
    }
    for (const std::string& name : one.history.pond.inlets) {
      if (const auto inlet = latest.find(name); inlet != latest.end()) one.inlets.push_back(inlet->second);
    }
    auto tide = tides.find(id);
    one.own_tide = tide != tides.end();
    if (tide == tides.end()) tide = tides.find("");
    if (tide != tides.end()) one.tide = tide->second;
  }

  // The newest set-up that can be read; those that cannot are said, and an older one stands meanwhile.
  std::optional<Pond> latest_pond(const std::vector<const Entry*>& setups, const Entry*& counts) {
    for (auto entry = setups.rbegin(); entry != setups.rend(); ++entry) {
      auto pond = read_pond_setup(**entry);
      counts = *entry;
      if (pond) return *std::move(pond);
      say(pond.error(), **entry);
    }
    return std::nullopt;
  }
};

// As far as a pond's state depends on it.
bool is_same_place(const FarmPlace& a, const FarmPlace& b) {
  return a.latitude_deg == b.latitude_deg && a.longitude_deg == b.longitude_deg && a.offset == b.offset &&
         a.altitude_m == b.altitude_m && a.windows_by_clock == b.windows_by_clock;
}

}  // namespace

const FarmPond* Farm::pond(std::string_view id) const {
  for (const FarmPond& one : ponds) {
    if (one.history.pond.id == id) return &one;
  }
  return nullptr;
}

Result<FarmPlace> read_farm_setup(const Entry& entry) {
  FarmPlace place;
  const std::string* name = entry.text("name");
  if (name == nullptr || name->empty()) return set_up_lacks("name");
  auto latitude = needed(entry, "latitude_deg", kLatitudeDeg);
  if (!latitude) return tl::unexpected<Problem>(latitude.error());
  auto longitude = needed(entry, "longitude_deg", kLongitudeDeg);
  if (!longitude) return tl::unexpected<Problem>(longitude.error());
  auto offset = needed(entry, "utc_offset_min", kOffsetMin);
  if (!offset) return tl::unexpected<Problem>(offset.error());
  auto altitude = optional_number(entry, "altitude_m", kAltitudeM, 0);
  if (!altitude) return tl::unexpected<Problem>(altitude.error());
  place.latitude_deg = *latitude;
  place.longitude_deg = *longitude;
  place.offset = UtcOffset{static_cast<std::int32_t>(*offset)};
  place.altitude_m = *altitude;
  if (const std::string* by = entry.text("windows_by")) {
    if (*by != "sun" && *by != "clock") {
      return refuse(ProblemKind::malformed, "windows_by",
                    Message("problem.windows_by").with("value", Text{*by}));
    }
    place.windows_by_clock = *by == "clock";
  }
  return place;
}

Result<FarmProduct> read_product_setup(const Entry& entry) {
  const std::string* id = entry.text("product");
  if (id == nullptr) return set_up_lacks("product");
  FarmProduct product;
  product.product = *id;
  auto bag_kg = optional_number(entry, "bag_kg", kBagKg, product.bag_kg);
  if (!bag_kg) return tl::unexpected<Problem>(bag_kg.error());
  product.bag_kg = *bag_kg;
  if (entry.number("price_per_kg") != nullptr) {
    auto price = needed(entry, "price_per_kg", kPricePerKg);
    if (!price) return tl::unexpected<Problem>(price.error());
    product.price_per_kg = *price;
  }
  const bool* in_use = entry.flag("in_use");
  product.in_use = in_use == nullptr || *in_use;
  return product;
}

Result<Pond> read_pond_setup(const Entry& entry) {
  Pond pond;
  pond.id = entry.pond;
  if (pond.id.empty()) return set_up_lacks("pond");
  const std::string* name = entry.text("name");
  if (name == nullptr || name->empty()) return set_up_lacks("name");
  pond.name = *name;
  const std::string* build = entry.text("build");
  if (build == nullptr) return set_up_lacks("build");
  if (*build != "earthen" && *build != "lined") {
    return refuse(ProblemKind::malformed, "build", Message("problem.build").with("value", Text{*build}));
  }
  pond.kind = *build == "lined" ? PondKind::lined : PondKind::earthen;
  auto walk_order = needed(entry, "walk_order", kWalkOrder);
  if (!walk_order) return tl::unexpected<Problem>(walk_order.error());
  pond.walk_order = static_cast<int>(*walk_order);
  auto area = needed(entry, "nominal_area_ha", kNominalAreaHa);
  if (!area) return tl::unexpected<Problem>(area.error());
  pond.nominal_area_ha = *area;
  const std::vector<std::string>* inlets = entry.texts("inlets");
  if (inlets == nullptr) return set_up_lacks("inlets");
  pond.inlets = *inlets;
  auto curve = read_curve(entry);
  if (!curve) return tl::unexpected<Problem>(curve.error());
  pond.curve = *std::move(curve);
  auto length = read_outline(entry, "outline_length_m", "bottom_length_m");
  if (!length) return tl::unexpected<Problem>(length.error());
  pond.length_m = *length;
  auto width = read_outline(entry, "outline_width_m", "bottom_width_m");
  if (!width) return tl::unexpected<Problem>(width.error());
  pond.width_m = *width;
  auto slope = optional_number(entry, "bank_slope", kBankSlope, 0);
  if (!slope) return tl::unexpected<Problem>(slope.error());
  pond.bank_slope = *slope;
  if (entry.number("stocking_level_cm") != nullptr) {
    auto stocking = needed(entry, "stocking_level_cm",
                           Range{pond.curve->lowest_level_cm(), pond.curve->full_level_cm(), "cm", 0});
    if (!stocking) return tl::unexpected<Problem>(stocking.error());
    pond.stocking_level_cm = *stocking;
  }
  return pond;
}

Result<BinLimits> read_bin_setup(const Entry& entry, const BinLimits& otherwise) {
  BinLimits limits = otherwise;
  struct {
    std::string_view key;
    const Range& range;
    double& value;
  } const told[] = {{"bin_volume_l", kBinVolumeL, limits.bin_volume_l},
                    {"fill_share", kShare, limits.fill_share},
                    {"lift_kg", kLiftKg, limits.lift_kg},
                    {"boat_load_kg", kBoatLoadKg, limits.boat_load_kg}};
  for (const auto& [key, range, value] : told) {
    auto number = optional_number(entry, key, range, value);
    if (!number) return tl::unexpected<Problem>(number.error());
    value = *number;
  }
  return limits;
}

BagSizes bag_sizes(const Farm& farm) {
  BagSizes bags_kg;
  for (const FarmProduct& product : farm.products) bags_kg[product.product] = product.bag_kg;
  return bags_kg;
}

Farm fold_farm(const Logbook& logbook, const Protocol& protocol, Instant now, Farm before,
               Assessing assessing) {
  Fold fold;
  fold.farm.at = now;
  fold.farm.moves = logbook.moves();
  std::map<std::string_view, FarmPond*> known;
  if (before.moves == logbook.moves()) {
    for (FarmPond& pond : before.ponds) known.emplace(pond.history.pond.id, &pond);
  }
  fold.farm.bin_limits.bin_volume_l = protocol.number("bin.volume_l");
  fold.farm.bin_limits.fill_share = protocol.number("bin.fill_share");
  fold.farm.bin_limits.lift_kg = protocol.number("bin.lift_kg");
  fold.farm.bin_limits.boat_load_kg = protocol.number("bin.boat_load_kg");
  fold.farm.bin_limits.saturation_share = protocol.number("bin.saturation_share");
  fold.farm.lane_spacing_m = protocol.number("bin.lane_spacing_m");

  const std::vector<const Entry*> effective = logbook.effective();
  for (const Entry* entry : effective) {
    fold.of_pond.take(*entry);
    if (entry->kind == kind::kFarmSetup) fold.read_farm(*entry);
    if (entry->kind == kind::kBinSetup) fold.read_bins(*entry);
    if (entry->kind == kind::kProductSetup) fold.read_product(*entry);
    if (entry->kind == kind::kDeviceSetup) fold.read_device(*entry);
    if (entry->kind == kind::kTideTable) fold.read_tide(*entry);
    if (entry->kind == kind::kPondPerson) fold.read_person(*entry);
    if (entry->kind != kind::kPondSetup && entry->kind != kind::kInletSetup) continue;
    if (entry->pond.empty()) {
      fold.say(set_up_lacks("pond").value(), *entry);
      continue;
    }
    const bool inlet = entry->kind == kind::kInletSetup;
    (inlet ? fold.inlet_setups : fold.pond_setups)[entry->pond].push_back(entry);
  }
  const bool same_place = is_same_place(before.place, fold.farm.place);
  fold.farm.place.sun_days = before.place.sun_days;
  if (!fold.farm.place.sun_days || !fold.farm.place.sun_days->fits(fold.farm.place)) {
    fold.farm.place.sun_days = std::make_shared<SunDays>(fold.farm.place);
  }
  if (!fold.farm.set_up && !effective.empty()) fold.farm.problems.push_back(Message("farm.no_setup"));
  for (auto& [id, product] : fold.products) fold.farm.products.push_back(product);

  for (auto& [id, entries] : fold.of_pond.lists()) {
    const auto setups = fold.pond_setups.find(id);
    if (setups == fold.pond_setups.end()) {
      fold.farm.problems.push_back(Message("farm.pond_without_setup").with("pond", Text{id}));
      continue;
    }
    FarmPond one;
    auto pond = fold.latest_pond(setups->second, one.setup);
    if (!pond) continue;
    const auto same = known.find(id);
    const bool nothing_new = same != known.end() && same->second->told == entries;
    if (nothing_new) {
      one.history = std::move(same->second->history);
    } else {
      one.history = build_history(*pond, entries);
    }
    one.told = std::move(entries);
    const ProtocolTimes times(protocol, one.history.protocol_changes);
    one.persons = fold.persons[id];
    fold.take_water_ways(one, times.at(now).number("filling.gate_coefficient"));
    if (nothing_new && assessing == Assessing::told && same_place) {
      one.state = std::move(same->second->state);
    } else {
      one.state = assess(one.history, protocol, fold.farm.place, now);
    }
    fold.farm.ponds.push_back(std::move(one));
  }
  std::sort(fold.farm.ponds.begin(), fold.farm.ponds.end(), [](const FarmPond& a, const FarmPond& b) {
    const Pond& left = a.history.pond;
    const Pond& right = b.history.pond;
    return std::tie(left.walk_order, left.name, left.id) < std::tie(right.walk_order, right.name, right.id);
  });
  return std::move(fold.farm);
}

Protocol protocol_of(const FarmPond& pond, const Protocol& standard, Instant now) {
  return ProtocolTimes(standard, pond.history.protocol_changes).at(now);
}

Protocol protocol_of(const Farm& farm, const Protocol& standard, Instant now) {
  // What the farm changed as a whole stands in every pond's history.
  std::vector<ProtocolChange> changes;
  if (!farm.ponds.empty()) {
    for (const ProtocolChange& change : farm.ponds.front().history.protocol_changes) {
      if (change.entry->pond.empty()) changes.push_back(change);
    }
  }
  return ProtocolTimes(standard, changes).at(now);
}

}  // namespace tawny
