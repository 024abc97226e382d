// What is on hand of each product, as the logbook tells it: deliveries in, doses and soil broadcasts out,
// counts in between.
//
// By time of observation, product by product:
//   on hand(after) = on hand(before) + delivery                         kg
//   on hand(after) = on hand(before) - dose, - broadcast                kg
//   on hand(after) = what was counted; the difference to what was reckoned is kept and told
// What is on hand may come out under zero: then a delivery or a count is lacking, and that is said, never
// hidden. Of a double dose that the manager has settled, only the dose that he kept went out. What was mixed
// and never spread is in no entry and comes out at the next count. Corrected and voided entries count as the
// logbook has it: the correction, or nothing.
//
// Lots are drawn first in, first out (IAS 2 Inventories, paragraphs 25 and 27: a cost formula for goods that
// can be exchanged for one another); a dose that names its lot is drawn from that lot first. A count that finds
// less takes from the oldest lots, one that finds more makes a lot without a name. What goes out before its
// delivery is on record is drawn from the next delivery. A kilogram costs what its lot did; where no price came
// with the lot, what the product's set-up says; else it has no price, and is told as such.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.h"
#include "base/time.h"
#include "farm/farm.h"
#include "logbook/logbook.h"

namespace tawny {

struct StockMove {
  enum class What { delivery, count, dose, broadcast } what = What::delivery;
  Instant at;
  std::string product;
  std::string pond;               // of a dose or a broadcast
  double product_kg = 0;          // delivered, counted, or used
  double change_kg = 0;           // of what was on hand; of a count: counted less reckoned
  double on_hand_kg = 0;          // after it
  double cost = 0;                // of what was used, as far as it has a price
  double unpriced_kg = 0;         // of what was used, without a price
  std::vector<std::string> lots;  // that it was drawn from, those with a name
  const Entry* entry = nullptr;
};

struct StockLot {
  std::string lot;  // empty: without a name
  Instant received;
  double received_kg = 0, left_kg = 0;
  std::optional<double> price_per_kg;  // that came with it
  const Entry* entry = nullptr;        // a delivery, or the count that found it
};

struct StockOrder {
  std::string order;
  std::string product;
  double ordered_kg = 0, delivered_kg = 0;
  CivilDay expected_on;
  bool cancelled = false;
  const Entry* entry = nullptr;  // the latest of this order
  double open_kg() const { return cancelled || delivered_kg >= ordered_kg ? 0 : ordered_kg - delivered_kg; }
};

// The manager's own figures; what he left open is not there.
struct CostFigures {
  std::string currency;
  std::optional<double> lead_days;               // from order to delivery
  std::optional<double> production_cost_per_ha;  // of one cycle
};

struct ProductStock {
  std::string product;
  double bag_kg = 25;
  bool in_use = true;
  std::optional<double> price_per_kg;  // of the product's set-up
  double on_hand_kg = 0;
  double on_order_kg = 0;
  std::optional<Instant> under_zero_since;
  std::optional<std::size_t> last_count;  // which of the moves
  std::vector<StockLot> lots;  // with something left, oldest first; together they are what is on hand
  double worth = 0;            // of what is left, as far as it has a price
  double unpriced_kg = 0;
};

struct StockBook {
  std::vector<StockMove> moves;        // by time
  std::vector<ProductStock> products;  // in use, or ever moved; by id
  std::vector<StockOrder> orders;      // as they stand, by the day expected
  CostFigures figures;
  std::vector<Message> problems;  // entries that could not be read
  const ProductStock* product(std::string_view id) const;
};

// As of `now`; points into the logbook, so it is good until the logbook changes.
StockBook read_stock(const Logbook& logbook, const Farm& farm, Instant now);

// The draft of an entry is read back by these; refused when something is missing or cannot be.
std::optional<Problem> check_stock_delivery(const Entry& entry);
std::optional<Problem> check_stock_count(const Entry& entry);
std::optional<Problem> check_stock_order(const Entry& entry);
Result<CostFigures> read_cost_setup(const Entry& entry);

// What the nitrate of a pond's present cycle cost.
struct PondCost {
  std::string pond;
  std::string cycle;
  double area_ha = 0;
  double product_kg = 0;
  double cost = 0;         // of what has a price
  double unpriced_kg = 0;  // without one: the cost is then at least this
  double per_ha() const { return area_ha > 0 ? cost / area_ha : 0; }
  // Of the manager's own cost of production for a hectare and a cycle.
  std::optional<double> share;
};
// Of every pond that is in a cycle, in walking order.
std::vector<PondCost> cost_of_ponds(const StockBook& book, const Farm& farm);

}  // namespace tawny
