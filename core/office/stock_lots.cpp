#include "office/stock_lots.h"

#include <algorithm>
#include <string>

namespace tawny {

void StockLots::take(StockMove& move) {
  const double before_kg = on_hand_kg_;
  switch (move.what) {
    case StockMove::What::delivery:
      receive(move);
      break;
    case StockMove::What::count:
      count(move);
      break;
    case StockMove::What::dose:
    case StockMove::What::broadcast:
      use(move);
      break;
  }
  move.change_kg = on_hand_kg_ - before_kg;
  move.on_hand_kg = on_hand_kg_;
  drop_empty();
}

void StockLots::receive(StockMove& move) {
  StockLot lot;
  const std::string* name = move.entry->text("lot");
  const double* price = move.entry->number("price_per_kg");
  if (name != nullptr) lot.lot = *name;
  if (price != nullptr) lot.price_per_kg = *price;
  lot.received = move.at;
  lot.received_kg = lot.left_kg = move.product_kg;
  lot.entry = move.entry;
  on_hand_kg_ += move.product_kg;
  while (!owed_.empty() && lot.left_kg > 0) {
    Owed& owed = owed_.front();
    owed.kg -= draw(lot, owed.kg, owed.move);
    if (owed.kg > kStockErrorKg) break;
    owed_.pop_front();
  }
  lots_.push_back(std::move(lot));
}

void StockLots::count(StockMove& move) {
  // What was used beyond the stock was there after all, from a delivery that nobody wrote down.
  settle_owed();
  double in_lots_kg = 0;
  for (const StockLot& lot : lots_) in_lots_kg += lot.left_kg;
  double lost_kg = in_lots_kg - move.product_kg;
  for (StockLot& lot : lots_) {
    if (lost_kg <= kStockErrorKg) break;
    lost_kg -= draw(lot, lost_kg, nullptr);
  }
  if (lost_kg < -kStockErrorKg) {
    StockLot found;
    found.received = move.at;
    found.received_kg = found.left_kg = -lost_kg;
    found.entry = move.entry;
    lots_.push_back(std::move(found));
  }
  on_hand_kg_ = move.product_kg;
}

void StockLots::use(StockMove& move) {
  on_hand_kg_ -= move.product_kg;
  double left_kg = move.product_kg;
  if (const std::string* named = move.entry->text("lot"); named != nullptr && !named->empty()) {
    for (StockLot& lot : lots_) {
      if (lot.lot == *named) left_kg -= draw(lot, left_kg, &move);
    }
  }
  for (StockLot& lot : lots_) left_kg -= draw(lot, left_kg, &move);
  if (left_kg > kStockErrorKg) owed_.push_back({&move, left_kg});
}

double StockLots::draw(StockLot& lot, double most_kg, StockMove* move) {
  const double kg = std::min(lot.left_kg, std::max(most_kg, 0.0));
  if (kg <= 0) return 0;
  lot.left_kg -= kg;
  if (move == nullptr) return kg;
  price(*move, kg, lot.price_per_kg ? lot.price_per_kg : price_per_kg_);
  if (!lot.lot.empty() && std::find(move->lots.begin(), move->lots.end(), lot.lot) == move->lots.end()) {
    move->lots.push_back(lot.lot);
  }
  return kg;
}

void StockLots::price(StockMove& move, double kg, std::optional<double> price_per_kg) const {
  if (price_per_kg) {
    move.cost += kg * *price_per_kg;
  } else {
    move.unpriced_kg += kg;
  }
}

void StockLots::settle_owed() {
  for (const Owed& owed : owed_) price(*owed.move, owed.kg, price_per_kg_);
  owed_.clear();
}

void StockLots::drop_empty() {
  lots_.erase(std::remove_if(lots_.begin(), lots_.end(),
                             [](const StockLot& lot) { return lot.left_kg <= kStockErrorKg; }),
              lots_.end());
}

std::vector<StockLot> StockLots::finish() {
  settle_owed();
  return {lots_.begin(), lots_.end()};
}

}  // namespace tawny
