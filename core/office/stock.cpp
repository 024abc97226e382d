#include "office/stock.h"

#include <algorithm>
#include <map>
#include <unordered_map>
#include <utility>

#include "base/sort_stably.h"
#include "farm/set_up_values.h"
#include "logbook/kinds.h"
#include "office/stock_lots.h"
#include "protocol/look.h"
#include "protocol/read_kinds.h"

namespace tawny {
namespace {

constexpr Range kDeliveredKg{0.001, 1e7, "kg", 1};
constexpr Range kCountedKg{0, 1e7, "kg", 1};
constexpr Range kPricePerKg{0, 1e6, "", 2};
constexpr Range kLeadDays{0, 365, "d", 0};
constexpr Range kCostPerHa{0, 1e9, "", 0};

std::string text_of(const Entry& entry, std::string_view key) {
  const std::string* text = entry.text(key);
  return text == nullptr ? std::string() : *text;
}

std::optional<Problem> check_kg(const Entry& entry, const Range& range) {
  if (text_of(entry, "product").empty()) return set_up_lacks("product").value();
  const Result<double> product_kg = needed(entry, "product_kg", range);
  if (!product_kg) return product_kg.error();
  return std::nullopt;
}

Message said(const Problem& problem, const Entry& entry) {
  Message message("stock.unreadable");
  message.with("kind", Word{"kind." + entry.kind}).with("entry", Text{to_reference(entry.id)});
  message.with("parameter", Text{problem.parameter});
  return message;
}

// Doses and broadcasts of one pond over all its cycles, and the questions that were settled.
using Used = std::map<std::string, PondHistory, std::less<>>;

struct Reading {
  const Farm& farm;
  Instant now;
  StockBook book;
  Used used;
  std::map<std::string, StockOrder> orders;
  std::map<std::string, double> delivered_kg;  // by order

  void problem(const Problem& problem, const Entry& entry) { book.problems.push_back(said(problem, entry)); }

  void read(const Entry& entry) {
    if (entry.kind == kind::kStockDelivery) {
      if (auto wrong = check_stock_delivery(entry)) return problem(*wrong, entry);
      move(entry, StockMove::What::delivery);
      const std::string order = text_of(entry, "order");
      if (!order.empty()) delivered_kg[order] += *entry.number("product_kg");
    } else if (entry.kind == kind::kStockCount) {
      if (auto wrong = check_stock_count(entry)) return problem(*wrong, entry);
      move(entry, StockMove::What::count);
    } else if (entry.kind == kind::kStockOrder) {
      read_order(entry);
    } else if (entry.kind == kind::kCostSetup) {
      auto figures = read_cost_setup(entry);
      if (!figures) return problem(figures.error(), entry);
      book.figures = *std::move(figures);
    } else if (entry.kind == kind::kDose || entry.kind == kind::kSoilBroadcast ||
               entry.kind == kind::kQuestionSettled) {
      PondHistory& history = used[entry.pond];
      if (history.pond.id.empty()) {
        history.pond.id = entry.pond;
        const FarmPond* pond = farm.pond(entry.pond);
        if (pond != nullptr) history.pond.nominal_area_ha = pond->history.pond.nominal_area_ha;
      }
      if (!read_observation(entry, history)) {
        problem(Problem{ProblemKind::malformed, "product_kg", Message("stock.unreadable")}, entry);
      }
    }
  }

  void read_order(const Entry& entry) {
    if (auto wrong = check_stock_order(entry)) return problem(*wrong, entry);
    StockOrder order;
    order.order = text_of(entry, "order");
    order.product = text_of(entry, "product");
    order.ordered_kg = *entry.number("product_kg");
    order.expected_on = *parse_civil_day(text_of(entry, "expected_on"));
    const bool* cancelled = entry.flag("cancelled");
    order.cancelled = cancelled != nullptr && *cancelled;
    order.entry = &entry;
    orders.insert_or_assign(order.order, order);
  }

  void move(const Entry& entry, StockMove::What what) {
    StockMove move;
    move.what = what;
    move.at = entry.observed;
    move.product = text_of(entry, "product");
    move.product_kg = *entry.number("product_kg");
    move.entry = &entry;
    book.moves.push_back(std::move(move));
  }

  void use(const Entry& entry, StockMove::What what, std::string_view product, double product_kg) {
    StockMove move;
    move.what = what;
    move.at = entry.observed;
    move.product = std::string(product);
    move.pond = entry.pond;
    move.product_kg = product_kg;
    move.entry = &entry;
    book.moves.push_back(std::move(move));
  }

  void take_uses() {
    for (const auto& [pond, history] : used) {
      for (const DoseRecord* dose : doses_at(history, now)) {
        use(*dose->entry, StockMove::What::dose, dose->product, dose->product_kg);
      }
      for (const SoilBroadcast& broadcast : history.broadcasts) {
        use(*broadcast.entry, StockMove::What::broadcast, broadcast.product, broadcast.product_kg);
      }
    }
  }
};

void reckon_products(StockBook& book, const Farm& farm) {
  std::map<std::string, StockLots> lots;
  for (const FarmProduct& product : farm.products) {
    if (product.in_use) lots.try_emplace(product.product, product.price_per_kg);
  }
  for (const StockMove& move : book.moves) {
    if (lots.count(move.product) > 0) continue;
    std::optional<double> price;
    for (const FarmProduct& product : farm.products) {
      if (product.product == move.product) price = product.price_per_kg;
    }
    lots.try_emplace(move.product, price);
  }
  std::map<std::string, ProductStock> products;
  for (std::size_t i = 0; i < book.moves.size(); ++i) {
    StockMove& move = book.moves[i];
    lots.at(move.product).take(move);
    ProductStock& product = products[move.product];
    if (move.what == StockMove::What::count) product.last_count = i;
    if (move.on_hand_kg >= -kStockErrorKg) {
      product.under_zero_since.reset();
    } else if (!product.under_zero_since) {
      product.under_zero_since = move.at;
    }
  }
  for (auto& [id, of_product] : lots) {
    ProductStock product = products[id];
    product.product = id;
    product.in_use = false;
    for (const FarmProduct& known : farm.products) {
      if (known.product != id) continue;
      product.bag_kg = known.bag_kg;
      product.in_use = known.in_use;
      product.price_per_kg = known.price_per_kg;
    }
    product.on_hand_kg = of_product.on_hand_kg();
    product.lots = of_product.finish();
    for (const StockLot& lot : product.lots) {
      const std::optional<double> price = lot.price_per_kg ? lot.price_per_kg : product.price_per_kg;
      if (price) product.worth += lot.left_kg * *price;
      if (!price) product.unpriced_kg += lot.left_kg;
    }
    for (const StockOrder& order : book.orders) {
      if (order.product == id) product.on_order_kg += order.open_kg();
    }
    book.products.push_back(std::move(product));
  }
}

}  // namespace

std::optional<Problem> check_stock_delivery(const Entry& entry) {
  if (auto wrong = check_kg(entry, kDeliveredKg)) return wrong;
  if (entry.number("price_per_kg") == nullptr) return std::nullopt;
  const Result<double> price = needed(entry, "price_per_kg", kPricePerKg);
  if (!price) return price.error();
  return std::nullopt;
}

std::optional<Problem> check_stock_count(const Entry& entry) { return check_kg(entry, kCountedKg); }

std::optional<Problem> check_stock_order(const Entry& entry) {
  if (text_of(entry, "order").empty()) return set_up_lacks("order").value();
  if (auto wrong = check_kg(entry, kDeliveredKg)) return wrong;
  const std::string* expected_on = entry.text("expected_on");
  if (expected_on == nullptr) return set_up_lacks("expected_on").value();
  if (const Result<CivilDay> day = parse_civil_day(*expected_on); !day) return day.error();
  return std::nullopt;
}

Result<CostFigures> read_cost_setup(const Entry& entry) {
  CostFigures figures;
  figures.currency = text_of(entry, "currency");
  struct {
    std::string_view key;
    const Range& range;
    std::optional<double>& value;
  } const told[] = {{"lead_days", kLeadDays, figures.lead_days},
                    {"production_cost_per_ha", kCostPerHa, figures.production_cost_per_ha}};
  for (const auto& [key, range, value] : told) {
    if (entry.number(key) == nullptr) continue;
    const Result<double> number = needed(entry, key, range);
    if (!number) return tl::unexpected<Problem>(number.error());
    value = *number;
  }
  return figures;
}

const ProductStock* StockBook::product(std::string_view id) const {
  for (const ProductStock& one : products) {
    if (one.product == id) return &one;
  }
  return nullptr;
}

StockBook read_stock(const Logbook& logbook, const Farm& farm, Instant now) {
  Reading reading{farm, now, {}, {}, {}, {}};
  const std::vector<const Entry*> effective = logbook.effective();
  std::unordered_map<const Entry*, std::size_t> place;
  for (const Entry* entry : effective) {
    if (entry->observed > now) continue;
    place.emplace(entry, place.size());
    reading.read(*entry);
  }
  reading.take_uses();
  StockBook book = std::move(reading.book);
  std::sort(book.moves.begin(), book.moves.end(),
            [&](const StockMove& a, const StockMove& b) { return place.at(a.entry) < place.at(b.entry); });
  for (auto& [id, order] : reading.orders) {
    if (const auto came = reading.delivered_kg.find(id); came != reading.delivered_kg.end()) {
      order.delivered_kg = came->second;
    }
    book.orders.push_back(order);
  }
  sort_stably(book.orders,
              [](const StockOrder& a, const StockOrder& b) { return a.expected_on < b.expected_on; });
  reckon_products(book, farm);
  return book;
}

std::vector<PondCost> cost_of_ponds(const StockBook& book, const Farm& farm) {
  std::vector<PondCost> costs;
  std::map<std::string_view, std::size_t> of_pond;
  for (const FarmPond& pond : farm.ponds) {
    if (pond.history.cycle.empty() || pond.history.cycle_ended) continue;
    PondCost cost;
    cost.pond = pond.history.pond.id;
    cost.cycle = pond.history.cycle;
    cost.area_ha = pond.history.pond.nominal_area_ha;
    of_pond.emplace(pond.history.pond.id, costs.size());
    costs.push_back(std::move(cost));
  }
  for (const StockMove& move : book.moves) {
    const auto found = of_pond.find(move.pond);
    if (move.pond.empty() || found == of_pond.end()) continue;
    if (move.at < farm.pond(move.pond)->history.cycle_start) continue;
    PondCost& cost = costs[found->second];
    cost.product_kg += move.product_kg;
    cost.cost += move.cost;
    cost.unpriced_kg += move.unpriced_kg;
  }
  for (PondCost& cost : costs) {
    const std::optional<double>& per_ha = book.figures.production_cost_per_ha;
    if (per_ha && *per_ha > 0 && cost.area_ha > 0) cost.share = cost.per_ha() / *per_ha;
  }
  return costs;
}

}  // namespace tawny
