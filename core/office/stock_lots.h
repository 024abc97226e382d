// The lots of one product, drawn first in, first out; stock.h says by which rules. Used by read_stock only.
#pragma once

#include <deque>
#include <optional>
#include <vector>

#include "office/stock.h"

namespace tawny {

// Less than this is nothing: sums of kilograms do not come out to the last digit.
inline constexpr double kStockErrorKg = 1e-6;

class StockLots {
 public:
  // `price_per_kg`: of the product's set-up, for lots that came without one.
  explicit StockLots(std::optional<double> price_per_kg) : price_per_kg_(price_per_kg) {}

  // Moves in order of time. Fills in what `move` did to the stock, and what it cost; the move must stay where
  // it is until finish(), since a later delivery may still fill what it was short of.
  void take(StockMove& move);
  double on_hand_kg() const { return on_hand_kg_; }
  // Prices what no lot covers, and gives the lots that are left.
  std::vector<StockLot> finish();

 private:
  struct Owed {
    StockMove* move;
    double kg;
  };
  void receive(StockMove& move);
  void count(StockMove& move);
  void use(StockMove& move);
  double draw(StockLot& lot, double most_kg, StockMove* move);
  void price(StockMove& move, double kg, std::optional<double> price_per_kg) const;
  void settle_owed();
  void drop_empty();

  std::optional<double> price_per_kg_;
  std::deque<StockLot> lots_;
  std::deque<Owed> owed_;
  double on_hand_kg_ = 0;
};

}  // namespace tawny
