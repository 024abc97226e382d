// Parts of the screen Stock and cost.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "office/order.h"
#include "ui/app.h"

namespace tawny::ui {

// What stands on the screen, made anew when the farm was folded anew.
class StockView {
 public:
  void refresh(const App& app);
  const StockBook& book() const { return book_; }
  const std::vector<StockNeed>& needs() const { return needs_; }
  const std::vector<ProductOutlook>& outlooks() const { return outlooks_; }
  const std::vector<PondCost>& costs() const { return costs_; }
  CivilDay today() const { return today_; }
  int lead() const { return lead_days_; }

 private:
  std::optional<std::pair<Instant, std::size_t>> stand_;  // of farm and logbook when it was made
  StockBook book_;
  std::vector<StockNeed> needs_;
  std::vector<ProductOutlook> outlooks_;
  std::vector<PondCost> costs_;
  CivilDay today_;
  int lead_days_ = 0;
};

// "81.00 USD"; without a currency the bare number.
std::string money(const Words& words, double amount, const std::string& currency);
std::string product_word(const Words& words, std::string_view product);

std::unique_ptr<Screen> make_delivery_screen(std::string order = {});  // `order`: the one that has come
std::unique_ptr<Screen> make_count_screen();
std::unique_ptr<Screen> make_order_screen(std::string order = {});  // empty: a new one; else a new day for it
// The same forms, filled in with a delivery, a count or an order that they then correct; null for other kinds.
std::unique_ptr<Screen> make_stock_correction_screen(const Entry& wrong);
std::unique_ptr<Screen> make_figures_screen();

}  // namespace tawny::ui
