// A farm folded from its logbook: set-up, ponds with their history and state, people, bins, products.
//
// The fold is a pure function of the entries, the default protocol and the instant; nothing of it is stored.
// The history points into the logbook, so a Farm is good until the logbook changes.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "dose/bin_plan.h"
#include "dose/product.h"
#include "farm/role.h"
#include "logbook/logbook.h"
#include "pond/inlet.h"
#include "pond/tide.h"
#include "protocol/check_entry.h"

namespace tawny {

struct FarmPond {
  PondHistory history;
  std::vector<const Entry*> told;  // the entries that the history was built of, the farm's own among them
  PondState state;
  const Entry* setup = nullptr;   // the pond_setup entry that counts
  std::vector<Inlet> inlets;      // those whose kind and sizes are set up, in the order of the pond's own list
  std::optional<TideTable> tide;  // the pond's own, else the farm's
  bool own_tide = false;
  std::map<Role, std::string> persons;  // to whom the pond is given, for each part of the crew
};

struct FarmProduct {
  std::string product;
  double bag_kg = 25;
  std::optional<double> price_per_kg;
  bool in_use = true;
};

struct Farm {
  Instant at;           // what it was folded for
  bool set_up = false;  // a farm_setup entry exists
  std::string name;
  bool demo = false;
  FarmPlace place;
  std::vector<FarmPond> ponds;  // in walking order
  bool bin_set_up = false;      // a bin_setup entry exists; until then the protocol's own bin stands here
  BinLimits bin_limits;
  double lane_spacing_m = 10;
  std::vector<FarmProduct> products;
  std::map<std::string, std::pair<std::string, std::string>> people;  // device -> person, role
  std::vector<Message> problems;  // set-up entries that could not be read, said with their pond
  std::uint64_t moves = 0;        // the logbook's moves() when it was folded

  const FarmPond* pond(std::string_view id) const;
};

// Of the products that the farm has set up.
BagSizes bag_sizes(const Farm& farm);

// Which ponds are assessed for `now`: all, or those of which something new was told; the others keep their state, which
// is then as old as it was, and how old it may be the caller knows.
enum class Assessing { all, told };

// `before`, if given, must be a farm folded from this very logbook with this protocol earlier: the history of a pond of
// which nothing new was told is taken from it. With Assessing::all the result is the same as without.
Farm fold_farm(const Logbook& logbook, const Protocol& protocol, Instant now, Farm before = {},
               Assessing assessing = Assessing::all);

// The protocol as it stands at `now`: of a pond, and of the farm as a whole.
Protocol protocol_of(const FarmPond& pond, const Protocol& standard, Instant now);
Protocol protocol_of(const Farm& farm, const Protocol& standard, Instant now);

// The draft of a farm_setup, pond_setup, ... entry is read back by these; refused when something is missing.
Result<Pond> read_pond_setup(const Entry& entry);
Result<FarmPlace> read_farm_setup(const Entry& entry);
Result<FarmProduct> read_product_setup(const Entry& entry);
// What the entry does not say is taken from `otherwise`.
Result<BinLimits> read_bin_setup(const Entry& entry, const BinLimits& otherwise);

}  // namespace tawny
