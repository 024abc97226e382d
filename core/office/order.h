// When to order how much: the stock day by day, by what is on hand, on order and needed.
//
//   stock(day) = on hand now + orders expected up to that day - needs up to that day        kg
//   order by   = first day on which the stock would be under zero - lead days
//   to order   = what the stock lacks on its lowest day, in whole bags
// three times over: by the least, the expected and the most that the ponds will need. An order whose day is
// past and that did not come is not counted on. Lead days: the manager's own figure, else stock.lead_days.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "office/needs.h"
#include "office/stock.h"

namespace tawny {

struct StockDay {
  CivilDay day;
  double arriving_kg = 0;
  double least_kg = 0, expected_kg = 0, most_kg = 0;  // in stock at the end of the day, by the least ... need
};

struct OrderAdvice {
  CivilDay short_on;  // the first day on which it would not do
  CivilDay order_by;
  bool late = false;  // that day is past
  double product_kg = 0;
  int bags = 0;
};

struct ProductOutlook {
  std::string product;
  double on_hand_kg = 0;
  double on_order_kg = 0;                             // that is counted on
  double least_kg = 0, expected_kg = 0, most_kg = 0;  // needed in all
  CivilDay until;                                     // the last day with a need
  std::vector<StockDay> days;                         // today, and every day on which something changes
  double lowest_kg = 0;                               // by the expected need, and when
  CivilDay lowest_on;
  std::optional<OrderAdvice> least, expected, most;  // nothing: there is enough
};

// Of every product that is on hand, on order or needed.
std::vector<ProductOutlook> look_at_orders(const StockBook& book, const std::vector<StockNeed>& needs,
                                           CivilDay today, int lead_days);

// Orders that did not come on their day.
std::vector<const StockOrder*> overdue_orders(const StockBook& book, CivilDay today);

int lead_days(const StockBook& book, const Protocol& protocol);

}  // namespace tawny
