// Stock and cost: what is on hand of each product, what the ponds still need, when to order how much, and what
// the nitrate of each pond has cost.
#include "ui/screens/stock.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "ui/screens/parts.h"
#include "ui/screens/plan_work.h"
#include "ui/screens/screens.h"

namespace tawny::ui {

namespace {

// Of booked deliveries that a new cycle is to be ready for, as the plan has them.
std::vector<CycleAhead> cycles_ahead(const App& app) {
  PlanWork work;
  work.refresh(app);
  std::vector<CycleAhead> ahead;
  for (const BookingPlan& one : work.plan().bookings) {
    if (one.state != BookingState::planned || !one.new_cycle || one.stages.empty()) continue;
    ahead.push_back({one.booking.pond, one.stages.front().until});
  }
  return ahead;
}

}  // namespace

void StockView::refresh(const App& app) {
  const std::pair now(app.farm().at, app.logbook().size());
  if (stand_ == now) return;
  stand_ = now;
  today_ = civil_day(app.now(), app.farm().place.offset);
  book_ = read_stock(app.logbook(), app.farm(), app.now());
  needs_ = needs_of_ponds(app.farm(), app.protocol(), app.now(), cycles_ahead(app));
  lead_days_ = lead_days(book_, protocol_of(app.farm(), app.protocol(), app.now()));
  outlooks_ = look_at_orders(book_, needs_, today_, lead_days_);
  costs_ = cost_of_ponds(book_, app.farm());
}

std::string money(const Words& words, double amount, const std::string& currency) {
  const std::string number = words.number(amount, 2);
  if (currency.empty()) return number;
  return words(Message("stock.money").with("amount", Text{number}).with("currency", Text{currency}));
}

std::string product_word(const Words& words, std::string_view product) {
  const std::string id = "product." + std::string(product);
  return words.has(id) ? words(id) : std::string(product);
}

namespace {

constexpr float kColumnGap = 24;
constexpr std::size_t kRowsAtFirst = 40;
constexpr std::size_t kMovesAtFirst = 8;

int kg_decimals(double value) { return std::abs(value - std::round(value)) >= 0.05 ? 1 : 0; }
Quantity kg(double value) { return Quantity{value, kg_decimals(value), "kg"}; }

class StockScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    view_.refresh(app);
    offset_ = app.farm().place.offset;
    const Words& words = ui.words();
    app.frame_bars(ui, words("stock.title"));
    ui.begin_content("stock", 0, true);
    draw_problems(ui);
    ui.begin_cells(ui.columns(), kColumnGap);
    draw_on_hand(ui);
    draw_ways(app, ui);
    draw_orders(app, ui);
    draw_moves(app, ui);
    ui.next_cell();
    draw_cost(app, ui);
    draw_needs(app, ui);
    draw_figures(app, ui);
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
  }

 private:
  void draw_problems(Ui& ui) const {
    int number = 0;
    for (const Message& problem : view_.book().problems) {
      ui.notice("stock/problem/" + std::to_string(++number), Tone::warn, ui.words()(problem));
      ui.gap();
    }
  }

  void draw_on_hand(Ui& ui) const {
    const Words& words = ui.words();
    ui.heading("stock/on_hand", words("stock.on_hand"));
    if (view_.book().products.empty()) ui.text("stock/none", words("stock.none"), TextSize::lead);
    for (const ProductStock& product : view_.book().products) {
      if (!is_untouched(product)) draw_product(ui, product);
    }
    bool any = false;
    for (const ProductStock& product : view_.book().products) {
      if (!is_untouched(product)) continue;
      if (!any) ui.begin_card("stock/untouched");
      any = true;
      ui.fact("stock/untouched/" + product.product, product_word(words, product.product),
              words("stock.untouched"));
    }
    if (any) ui.end_card();
    if (any) ui.gap();
  }

  // In use, and nothing of it has ever come or gone.
  bool is_untouched(const ProductStock& product) const {
    const std::vector<StockMove>& moves = view_.book().moves;
    if (product.on_order_kg > 0) return false;
    for (const ProductOutlook& outlook : view_.outlooks()) {
      if (outlook.product == product.product && outlook.most_kg > 0) return false;
    }
    return std::none_of(moves.begin(), moves.end(),
                        [&](const StockMove& move) { return move.product == product.product; });
  }

  void draw_product(Ui& ui, const ProductStock& product) const {
    const Words& words = ui.words();
    const std::string id = "stock/product/" + product.product;
    const std::string& currency = view_.book().figures.currency;
    const bool under_zero = product.under_zero_since.has_value();
    ui.begin_card(id);
    ui.number(id + "/kg", product_word(words, product.product),
              words.number(product.on_hand_kg, kg_decimals(product.on_hand_kg)), words.unit("kg"),
              under_zero ? Tone::alarm : Tone::ink);
    if (under_zero) {
      ui.notice(id + "/under_zero", Tone::alarm,
                words(Message("stock.under_zero").with("since", *product.under_zero_since)));
    } else if (product.bag_kg > 0 && product.on_hand_kg >= product.bag_kg) {
      const double bags = std::floor(product.on_hand_kg / product.bag_kg + 1e-9);
      ui.text(id + "/bags",
              words(Message("stock.in_bags")
                        .with("count", bare(bags))
                        .with("bag", kg(product.bag_kg))
                        .with("rest", kg(product.on_hand_kg - bags * product.bag_kg))),
              TextSize::body, Tone::quiet);
    }
    ui.text(id + "/counted", counted_line(words, product), TextSize::body, Tone::quiet);
    draw_advice(ui, id, product);
    if (product.on_order_kg > 0) {
      ui.fact(id + "/on_order", words("stock.on_order"), words.quantity(kg(product.on_order_kg)));
    }
    if (product.worth > 0) ui.fact(id + "/worth", words("stock.worth"), money(words, product.worth, currency));
    int number = 0;
    for (const StockLot& lot : product.lots) {
      ui.fact(id + "/lot/" + std::to_string(++number),
              lot.lot.empty() ? words("stock.lot.unnamed")
                              : words(Message("stock.lot.named").with("lot", Text{lot.lot})),
              words(Message("stock.lot.left")
                        .with("left", kg(lot.left_kg))
                        .with("received", kg(lot.received_kg))
                        .with("day", civil_day(lot.received, offset_))));
    }
    ui.end_card();
    ui.gap();
  }

  std::string counted_line(const Words& words, const ProductStock& product) const {
    if (!product.last_count) return words("stock.never_counted");
    const StockMove& count = view_.book().moves[*product.last_count];
    const double difference_kg = count.change_kg;
    Message message(std::abs(difference_kg) < 0.05 ? "stock.counted"
                    : difference_kg < 0            ? "stock.counted.less"
                                                   : "stock.counted.more");
    message.with("at", count.at).with("who", Text{count.entry->who}).with("counted", kg(count.product_kg));
    message.with("difference", kg(std::abs(difference_kg)));
    return words(message);
  }

  void draw_advice(Ui& ui, const std::string& id, const ProductStock& product) const {
    const Words& words = ui.words();
    for (const ProductOutlook& outlook : view_.outlooks()) {
      if (outlook.product != product.product || outlook.most_kg <= 0) continue;
      ui.gap();
      if (outlook.expected) {
        const OrderAdvice& advice = *outlook.expected;
        ui.status(id + "/advice", advice.late ? Status::overdue : Status::due, order_line(words, advice),
                  words(Message("stock.short_on").with("day", advice.short_on)));
      } else {
        ui.status(id + "/advice", Status::done, words(Message("stock.enough").with("day", outlook.until)));
      }
      if (outlook.most) {
        ui.text(id + "/most",
                words(Message("stock.at_most").with("order", Text{order_line(words, *outlook.most)})),
                TextSize::body, Tone::quiet);
      }
      ui.gap();
      return;
    }
  }

  static std::string order_line(const Words& words, const OrderAdvice& advice) {
    return words(Message(advice.late ? "stock.order_now" : "stock.order_by")
                     .with("count", bare(advice.bags))
                     .with("day", advice.order_by));
  }

  void draw_ways(App& app, Ui& ui) const {
    const Words& words = ui.words();
    const bool may = app.can_write() && !view_.book().products.empty();
    const auto way = [&](std::string_view id, std::string_view icon, std::string_view about) {
      Ui::Row row;
      row.icon = icon;
      row.title = words(id);
      row.remark = words(about);
      row.enabled = may;
      return ui.row(std::string("stock/") + std::string(id.substr(id.rfind('.') + 1)), row);
    };
    ui.begin_card("stock/ways");
    const bool deliver = way("stock.deliver", "plus", "stock.deliver.about");
    const bool count = way("stock.count", "check", "stock.count.short");
    const bool order = way("stock.order", "note", "stock.order.about");
    ui.end_card();
    if (deliver) app.open(make_delivery_screen());
    if (count) app.open(make_count_screen());
    if (order) app.open(make_order_screen());
    ui.gap(16);
  }

  void draw_orders(App& app, Ui& ui) const {
    const Words& words = ui.words();
    bool any = false;
    for (const StockOrder& order : view_.book().orders) {
      if (order.open_kg() <= 0) continue;
      if (!any) {
        ui.heading("stock/orders", words("stock.orders"));
        ui.begin_card("stock/orders/card");
      }
      any = true;
      const bool overdue = order.expected_on < view_.today();
      Ui::Row row;
      row.title = product_word(words, order.product) + " \u00b7 " + words.quantity(kg(order.open_kg()));
      row.status = overdue ? Status::overdue : Status::waiting;
      row.word = words(
          Message(overdue ? "stock.order.overdue" : "stock.order.expected").with("day", order.expected_on));
      if (order.delivered_kg > 0) {
        row.remark = words(Message("stock.order.came")
                               .with("came", kg(order.delivered_kg))
                               .with("ordered", kg(order.ordered_kg)));
      }
      row.enabled = app.can_write();
      if (ui.row("stock/order/" + order.order, row)) app.open(make_order_screen(order.order));
    }
    if (!any) return;
    ui.end_card();
    ui.gap(16);
  }

  void draw_moves(App& app, Ui& ui) {
    const std::vector<StockMove>& moves = view_.book().moves;
    if (moves.empty()) return;
    const Words& words = ui.words();
    ui.heading("stock/moves", words("stock.moves"));
    ui.begin_card("stock/moves/card");
    const std::size_t count = std::min(moves.size(), moves_shown_);
    for (std::size_t i = 0; i < count; ++i) {
      const StockMove& move = moves[moves.size() - 1 - i];
      const std::string reference = to_reference(move.entry->id);
      Ui::Row row;
      row.title = words("kind." + move.entry->kind);
      if (!move.pond.empty()) row.title += " \u00b7 " + pond_name(app, move.pond);
      row.word = words(Message("stock.move")
                           .with("change", Text{signed_kg(words, move.change_kg)})
                           .with("left", kg(move.on_hand_kg)));
      row.remark = words.time(move.at) + " \u00b7 " + product_word(words, move.product);
      if (ui.row("stock/move/" + reference, row)) app.open(make_logbook_entry_screen(reference));
    }
    ui.end_card();
    if (count < moves.size() && ui.button("stock/moves/more", words("stock.more"), ButtonKind::quiet)) {
      moves_shown_ += kRowsAtFirst;
    }
    ui.gap(16);
  }

  static std::string signed_kg(const Words& words, double change_kg) {
    return (change_kg > 0 ? "+" : "") + words.quantity(kg(change_kg));
  }

  void draw_cost(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("stock/cost", words("stock.cost"));
    ui.text("stock/cost/about", words("stock.cost.about"), TextSize::body, Tone::quiet);
    ui.gap();
    const std::vector<PondCost>& costs = view_.costs();
    if (costs.empty()) ui.text("stock/cost/none", words("stock.cost.none"));
    const std::size_t count = std::min(costs.size(), costs_shown_);
    if (count > 0) ui.begin_card("stock/cost/card");
    for (std::size_t i = 0; i < count; ++i) draw_cost_of(app, ui, costs[i]);
    if (count > 0) ui.end_card();
    if (count < costs.size() && ui.button("stock/cost/more", words("stock.more"), ButtonKind::quiet)) {
      costs_shown_ += kRowsAtFirst;
    }
    ui.gap(16);
  }

  void draw_cost_of(App& app, Ui& ui, const PondCost& cost) const {
    const Words& words = ui.words();
    const std::string id = "stock/cost/" + cost.pond;
    const std::string& currency = view_.book().figures.currency;
    Ui::Row row;
    row.title = pond_name(app, cost.pond);
    row.word = words(Message(cost.unpriced_kg > 0 ? "stock.cost.at_least" : "stock.cost.line")
                         .with("cost", Text{money(words, cost.cost, currency)})
                         .with("per_ha", Text{money(words, cost.per_ha(), currency)})
                         .with("unpriced", kg(cost.unpriced_kg)));
    row.remark = words.quantity(kg(cost.product_kg));
    row.name = row.title + ", " + row.word;
    if (cost.share) {
      row.remark = words(Message("stock.cost.share")
                             .with("used", kg(cost.product_kg))
                             .with("share", Quantity{100 * *cost.share, 1, "percent"}));
    }
    if (ui.row(id, row)) app.open(make_pond_screen(cost.pond));
  }

  void draw_needs(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("stock/needs", words("stock.needs"));
    ui.text("stock/needs/about", words("stock.needs.about"), TextSize::body, Tone::quiet);
    ui.gap();
    for (const ProductOutlook& outlook : view_.outlooks()) {
      if (outlook.most_kg <= 0) continue;
      const std::string id = "stock/needs/" + outlook.product;
      ui.begin_card(id);
      ui.text(id + "/name", product_word(words, outlook.product), TextSize::lead, Tone::ink, true);
      ui.fact(id + "/least", words("stock.needs.least"), words.quantity(kg(outlook.least_kg)));
      ui.fact(id + "/expected", words("stock.needs.expected"), words.quantity(kg(outlook.expected_kg)));
      ui.fact(id + "/most", words("stock.needs.most"), words.quantity(kg(outlook.most_kg)));
      ui.fact(id + "/lowest", words("stock.needs.lowest"),
              words(Message("stock.needs.lowest.value")
                        .with("lowest", kg(outlook.lowest_kg))
                        .with("day", outlook.lowest_on)));
      ui.end_card();
      ui.gap();
    }
    draw_needs_of_ponds(app, ui);
    ui.gap(16);
  }

  struct PondNeed {
    double least_kg = 0, expected_kg = 0, most_kg = 0;
    std::optional<StockNeed> next;
  };

  void draw_needs_of_ponds(App& app, Ui& ui) {
    const Words& words = ui.words();
    std::map<std::string_view, PondNeed> by_pond;
    for (const StockNeed& need : view_.needs()) {
      PondNeed& of_pond = by_pond[need.pond];
      of_pond.least_kg += need.least_kg;
      of_pond.expected_kg += need.expected_kg;
      of_pond.most_kg += need.most_kg;
      if (!of_pond.next && need.expected_kg > 0) of_pond.next = need;
    }
    std::size_t shown = 0;
    if (by_pond.empty()) {
      ui.text("stock/needs/none", words("stock.needs.none"));
      return;
    }
    ui.begin_card("stock/needs/ponds");
    for (const FarmPond& pond : app.farm().ponds) {
      const auto found = by_pond.find(pond.history.pond.id);
      if (found == by_pond.end()) continue;
      if (++shown > needs_shown_) break;
      const PondNeed& need = found->second;
      const std::string id = "stock/need/" + pond.history.pond.id;
      Ui::Row row;
      row.title = pond.history.pond.name;
      row.word = words(Message("stock.need.range")
                           .with("expected", kg(need.expected_kg))
                           .with("least", kg(need.least_kg))
                           .with("most", kg(need.most_kg)));
      if (need.next) row.remark = next_line(words, *need.next);
      if (ui.row(id, row)) app.open(make_pond_screen(pond.history.pond.id));
    }
    ui.end_card();
    if (shown > needs_shown_ && ui.button("stock/needs/more", words("stock.more"), ButtonKind::quiet)) {
      needs_shown_ += kRowsAtFirst;
    }
  }

  static std::string next_line(const Words& words, const StockNeed& need) {
    std::string_view what = "stock.next.holding";
    if (need.what == StockNeed::What::broadcast) what = "stock.next.broadcast";
    if (need.what == StockNeed::What::first_dose) what = "stock.next.first_dose";
    return words(Message(what).with("amount", kg(need.expected_kg)).with("day", need.day));
  }

  void draw_figures(App& app, Ui& ui) const {
    const Words& words = ui.words();
    const CostFigures& figures = view_.book().figures;
    ui.heading("stock/figures", words("stock.figures"));
    ui.begin_card("stock/figures/card");
    ui.fact("stock/figures/currency", words("form.currency"),
            figures.currency.empty() ? words("stock.figures.open") : figures.currency);
    ui.fact("stock/figures/lead", words("form.lead_days"),
            words.quantity({static_cast<double>(view_.lead()), 0, "d"}));
    ui.fact("stock/figures/production", words("form.production_cost_per_ha"),
            figures.production_cost_per_ha ? money(words, *figures.production_cost_per_ha, figures.currency)
                                           : words("stock.figures.open"));
    ui.gap();
    if (app.role() != Role::manager) {
      ui.text("stock/figures/manager", words("gate.manager_only"), TextSize::body, Tone::quiet);
    } else if (ui.button("stock/figures/change", words("stock.figures.change"), ButtonKind::secondary,
                         app.can_write())) {
      app.open(make_figures_screen());
    }
    ui.end_card();
  }

  StockView view_;
  UtcOffset offset_;
  std::size_t moves_shown_ = kMovesAtFirst, costs_shown_ = kRowsAtFirst, needs_shown_ = kRowsAtFirst;
};

}  // namespace

std::unique_ptr<Screen> make_stock_screen() { return std::make_unique<StockScreen>(); }

}  // namespace tawny::ui
