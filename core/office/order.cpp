#include "office/order.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace tawny {
namespace {

constexpr double kErrorKg = 1e-6;

struct Change {
  double arriving_kg = 0, least_kg = 0, expected_kg = 0, most_kg = 0;
};

std::optional<OrderAdvice> advise(const std::vector<StockDay>& days, double StockDay::*stock, CivilDay today,
                                  int lead_days, double bag_kg) {
  const StockDay* first = nullptr;
  double lowest_kg = 0;
  for (const StockDay& day : days) {
    if (day.*stock >= -kErrorKg) continue;
    if (first == nullptr) first = &day;
    lowest_kg = std::min(lowest_kg, day.*stock);
  }
  if (first == nullptr) return std::nullopt;
  OrderAdvice advice;
  advice.short_on = first->day;
  advice.order_by = first->day.plus(-lead_days);
  advice.late = advice.order_by < today;
  advice.product_kg = -lowest_kg;
  if (bag_kg > 0) advice.bags = static_cast<int>(std::ceil(advice.product_kg / bag_kg - kErrorKg));
  return advice;
}

ProductOutlook outlook_of(const ProductStock& product, const std::map<CivilDay, Change>& changes,
                          CivilDay today, int lead_days) {
  ProductOutlook outlook;
  outlook.product = product.product;
  outlook.on_hand_kg = product.on_hand_kg;
  outlook.until = today;
  StockDay stock;
  stock.day = today;
  stock.least_kg = stock.expected_kg = stock.most_kg = product.on_hand_kg;
  outlook.days.push_back(stock);
  for (const auto& [day, change] : changes) {
    outlook.on_order_kg += change.arriving_kg;
    outlook.least_kg += change.least_kg;
    outlook.expected_kg += change.expected_kg;
    outlook.most_kg += change.most_kg;
    stock.day = day;
    stock.arriving_kg = change.arriving_kg;
    stock.least_kg += change.arriving_kg - change.least_kg;
    stock.expected_kg += change.arriving_kg - change.expected_kg;
    stock.most_kg += change.arriving_kg - change.most_kg;
    if (change.least_kg + change.expected_kg + change.most_kg > 0) outlook.until = day;
    if (outlook.days.back().day == day) {
      outlook.days.back() = stock;
    } else {
      outlook.days.push_back(stock);
    }
  }
  outlook.lowest_kg = product.on_hand_kg;
  outlook.lowest_on = today;
  for (const StockDay& day : outlook.days) {
    if (day.expected_kg >= outlook.lowest_kg) continue;
    outlook.lowest_kg = day.expected_kg;
    outlook.lowest_on = day.day;
  }
  outlook.least = advise(outlook.days, &StockDay::least_kg, today, lead_days, product.bag_kg);
  outlook.expected = advise(outlook.days, &StockDay::expected_kg, today, lead_days, product.bag_kg);
  outlook.most = advise(outlook.days, &StockDay::most_kg, today, lead_days, product.bag_kg);
  return outlook;
}

}  // namespace

std::vector<ProductOutlook> look_at_orders(const StockBook& book, const std::vector<StockNeed>& needs,
                                           CivilDay today, int lead_days) {
  std::map<std::string, std::map<CivilDay, Change>> changes;
  for (const ProductStock& product : book.products) changes[product.product];
  for (const StockOrder& order : book.orders) {
    if (order.open_kg() <= 0 || order.expected_on < today) continue;
    changes[order.product][order.expected_on].arriving_kg += order.open_kg();
  }
  for (const StockNeed& need : needs) {
    Change& change = changes[need.product][std::max(need.day, today)];
    change.least_kg += need.least_kg;
    change.expected_kg += need.expected_kg;
    change.most_kg += need.most_kg;
  }
  std::vector<ProductOutlook> outlooks;
  for (const auto& [id, by_day] : changes) {
    if (id.empty()) continue;
    ProductStock unknown;
    unknown.product = id;
    const ProductStock* product = book.product(id);
    outlooks.push_back(outlook_of(product == nullptr ? unknown : *product, by_day, today, lead_days));
  }
  return outlooks;
}

std::vector<const StockOrder*> overdue_orders(const StockBook& book, CivilDay today) {
  std::vector<const StockOrder*> overdue;
  for (const StockOrder& order : book.orders) {
    if (order.open_kg() > 0 && order.expected_on < today) overdue.push_back(&order);
  }
  return overdue;
}

int lead_days(const StockBook& book, const Protocol& protocol) {
  return static_cast<int>(std::ceil(book.figures.lead_days.value_or(protocol.number("stock.lead_days"))));
}

}  // namespace tawny
