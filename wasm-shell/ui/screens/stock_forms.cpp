// The forms of Stock and cost: a delivery, a count, an order, the manager's figures.
#include <algorithm>
#include <cmath>
#include <utility>

#include "logbook/kinds.h"
#include "protocol/check_units.h"
#include "ui/screens/findings.h"
#include "ui/screens/form.h"
#include "ui/screens/screens.h"
#include "ui/screens/stock.h"
#include "ui/screens/when.h"

namespace tawny::ui {
namespace {

constexpr int kLotLength = 40;
constexpr int kCurrencyLength = 8;
constexpr int kOrderDigits = 12;

// Of the products in use one is chosen; "" where there is none.
class ProductChoice {
 public:
  // Without `product`, what moved last stands there.
  void start(const App& app, const StockBook& book, std::string_view product = {}) {
    product_ = product;
    for (auto move = book.moves.rbegin(); product_.empty() && move != book.moves.rend(); ++move) {
      const ProductStock* moved = book.product(move->product);
      if (moved != nullptr && moved->in_use) product_ = move->product;
    }
    for (const FarmProduct& known : app.farm().products) {
      if (product_.empty() && known.in_use) product_ = known.product;
    }
  }
  void draw(const App& app, Ui& ui) {
    const Words& words = ui.words();
    std::vector<Option> options;
    for (const FarmProduct& known : app.farm().products) {
      if (!known.in_use && known.product != product_) continue;
      options.push_back({known.product, product_word(words, known.product), {}, {}});
    }
    if (auto chosen = ui.choice("stock/product", words("key.product"), options, product_)) product_ = *chosen;
    ui.gap();
  }
  const std::string& id() const { return product_; }
  double bag_kg(const App& app) const {
    for (const FarmProduct& known : app.farm().products) {
      if (known.product == product_) return known.bag_kg;
    }
    return 0;
  }

 private:
  std::string product_;
};

// "18 bags of 25 kg" under a number of kilograms that is whole bags, or nearly.
void draw_bags(Ui& ui, std::string_view id, double product_kg, double bag_kg) {
  if (bag_kg <= 0) return;
  ui.text(
      id,
      ui.words()(Message("stock.bags")
                     .with("bags", Quantity{product_kg / bag_kg,
                                            product_kg == bag_kg * std::round(product_kg / bag_kg) ? 0 : 1, ""})
                     .with("bag", Quantity{bag_kg, bag_kg == std::floor(bag_kg) ? 0 : 1, "kg"})),
      TextSize::body, Tone::quiet);
  ui.gap();
}

// What the four forms share: a title, the fields, and the way of the draft into the logbook; of the first
// three, also the entry that is being corrected.
class StockForm : public Screen {
 public:
  // An entry of the logbook that this form's draft is to take the place of.
  void correct(const Entry& wrong) { wrong_ = wrong; }
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    started_ = true;
    app.frame_bars(ui, wrong_ ? words(Message("entry.correcting").with("act", Word{std::string(title())}))
                              : words(title()));
    if (findings_.asking()) {
      const Draft asked = draft(app);
      const double* product_kg = as_entry(asked).number("product_kg");
      const std::string amount = product_kg == nullptr ? std::string() : words.quantity({*product_kg, 1, "kg"});
      if (findings_.draw_question(app, ui, amount, words("entry.yes_save")).value_or(false)) put(app, asked);
      return;
    }
    begin_form(app, ui, title());
    draw_fields(app, ui);
    if (problem_) ui.notice("stock/problem", Tone::alarm, words(problem_->message));
    ui.end_content();
    if (save_footer(app, ui, words(wrong_ ? "entry.save_correction" : "form.save"), complete())) {
      save(app, draft(app));
    }
  }
  bool holds_unsaved() const override { return started_ && !saved_; }

 protected:
  virtual std::string_view title() const = 0;
  virtual void start(App& app) = 0;
  virtual void draw_fields(App& app, Ui& ui) = 0;
  virtual bool complete() const = 0;
  virtual Draft draft(const App& app) const = 0;
  virtual std::optional<Problem> check(const Entry& entry) const = 0;

  void save(App& app, Draft draft) {
    const Entry entry = as_entry(draft);
    problem_ = check(entry);
    if (problem_) return;
    const double* product_kg = entry.number("product_kg");
    std::vector<Finding> found;
    if (product_kg != nullptr) {
      const std::string* product = entry.text("product");
      const BagSizes bags_kg = bag_sizes(app.farm());
      const auto bag = product == nullptr ? bags_kg.end() : bags_kg.find(*product);
      // Nobody delivers a part of a bag, but one may be left when the store is counted.
      const bool whole_bags = entry.kind != kind::kStockCount && bag != bags_kg.end();
      if (auto odd = question_stock(app.protocol(), *product_kg, whole_bags ? bag->second : 0)) {
        found.push_back(*std::move(odd));
      }
    }
    if (findings_.take(found) == FindingsPart::Outcome::clear) put(app, std::move(draft));
  }

  void put(App& app, Draft draft) {
    saved_ = true;
    if (wrong_) draft.corrects = to_reference(wrong_->id);
    app.put({std::move(draft)}, [&app] { app.back(); });
  }

  // What stands in the entry that is being corrected; nothing of it where there is none.
  const Entry* wrong() const { return wrong_ ? &*wrong_ : nullptr; }
  static std::string text_of(const Entry& entry, std::string_view key) {
    const std::string* text = entry.text(key);
    return text == nullptr ? std::string() : *text;
  }
  static std::optional<double> number_of(const Entry& entry, std::string_view key) {
    const double* number = entry.number(key);
    return number == nullptr ? std::nullopt : std::optional(*number);
  }

  std::optional<Problem> problem_;

 private:
  FindingsPart findings_;
  std::optional<Entry> wrong_;
  bool started_ = false;
  bool saved_ = false;
};

class DeliveryForm : public StockForm {
 public:
  explicit DeliveryForm(std::string order) : order_(std::move(order)) {}

 protected:
  std::string_view title() const override { return "stock.deliver"; }
  void start(App& app) override {
    book_ = read_stock(app.logbook(), app.farm(), app.now());
    if (wrong() != nullptr) order_ = text_of(*wrong(), "order");
    for (const StockOrder& order : book_.orders) {
      // Its own order may have nothing open any more, because of this very delivery.
      if (order.open_kg() > 0 || (wrong() != nullptr && order.order == order_)) open_.push_back(order);
    }
    if (wrong() != nullptr) {
      product_.start(app, book_, text_of(*wrong(), "product"));
      when_.fix(wrong()->observed);
      product_kg_.value = number_of(*wrong(), "product_kg");
      price_per_kg_.value = number_of(*wrong(), "price_per_kg");
      lot_ = text_of(*wrong(), "lot");
      return;
    }
    product_.start(app, book_);
    for (const StockOrder& order : open_) {
      if (order.order == order_) take_order(app, order);
    }
  }
  void draw_fields(App& app, Ui& ui) override {
    const Words& words = ui.words();
    when_.draw(app, ui);
    ui.gap();
    if (!open_.empty()) {
      std::vector<Option> options = {{"none", words("stock.order.none"), {}, {}}};
      for (const StockOrder& order : open_) {
        options.push_back(
            {order.order,
             words(
                 Message("stock.order.named")
                     .with("amount", Quantity{wrong() == nullptr ? order.open_kg() : order.ordered_kg, 0, "kg"})
                     .with("day", order.expected_on)),
             {},
             {}});
      }
      if (auto chosen = ui.choice("stock/of_order", words("stock.of_order"), options,
                                  order_.empty() ? std::string("none") : order_)) {
        order_ = *chosen == "none" ? std::string() : *chosen;
        for (const StockOrder& order : open_) {
          if (order.order == order_ && wrong() == nullptr) take_order(app, order);
        }
      }
      ui.gap();
    }
    product_.draw(app, ui);
    number_field(app, ui, product_kg_);
    if (product_kg_.value) draw_bags(ui, "stock/bags", *product_kg_.value, product_.bag_kg(app));
    ui.gap();
    number_field(app, ui, price_per_kg_);
    ui.gap();
    if (auto typed =
            ui.text_field("stock/lot", words("key.lot"), lot_, words("stock.lot.hint"), "name", kLotLength)) {
      lot_ = *std::move(typed);
    }
  }
  bool complete() const override { return product_kg_.value && !product_.id().empty(); }
  Draft draft(const App& app) const override {
    Draft draft;
    draft.kind = kind::kStockDelivery;
    draft.observed = when_.at(app);
    draft.values.emplace("product", product_.id());
    put_number(draft, "product_kg", product_kg_);
    put_number(draft, "price_per_kg", price_per_kg_);
    if (!lot_.empty()) draft.values.emplace("lot", lot_);
    if (!order_.empty()) draft.values.emplace("order", order_);
    return draft;
  }
  std::optional<Problem> check(const Entry& entry) const override { return check_stock_delivery(entry); }

 private:
  void take_order(const App& app, const StockOrder& order) {
    product_.start(app, book_, order.product);
    product_kg_.value = order.open_kg();
  }

  std::string order_, lot_;
  StockBook book_;
  std::vector<StockOrder> open_;
  ProductChoice product_;
  When when_;
  NumberField product_kg_{"delivery/product_kg", "kg", 1, {}};
  NumberField price_per_kg_{"delivery/price_per_kg", "", 2, {}};
};

class CountForm : public StockForm {
 protected:
  std::string_view title() const override { return "stock.count"; }
  void start(App& app) override {
    const StockBook book = read_stock(app.logbook(), app.farm(), app.now());
    if (wrong() == nullptr) {
      product_.start(app, book);
      return;
    }
    product_.start(app, book, text_of(*wrong(), "product"));
    when_.fix(wrong()->observed);
    product_kg_.value = number_of(*wrong(), "product_kg");
  }
  void draw_fields(App& app, Ui& ui) override {
    ui.text("stock/count/about", ui.words()("stock.count.about"), TextSize::body, Tone::quiet);
    ui.gap();
    when_.draw(app, ui);
    ui.gap();
    product_.draw(app, ui);
    number_field(app, ui, product_kg_);
    if (!product_kg_.value) return;
    draw_bags(ui, "stock/bags", *product_kg_.value, product_.bag_kg(app));
    // What is reckoned for that moment rests on the very count that is being corrected.
    if (wrong() == nullptr) draw_difference(app, ui);
  }
  bool complete() const override { return product_kg_.value && !product_.id().empty(); }
  Draft draft(const App& app) const override {
    Draft draft;
    draft.kind = kind::kStockCount;
    draft.observed = when_.at(app);
    draft.values.emplace("product", product_.id());
    put_number(draft, "product_kg", product_kg_);
    return draft;
  }
  std::optional<Problem> check(const Entry& entry) const override { return check_stock_count(entry); }

 private:
  void draw_difference(App& app, Ui& ui) {
    const Instant at = when_.at(app);
    if (!reckoned_at_ || *reckoned_at_ != at || reckoned_of_ != product_.id()) {
      reckoned_at_ = at;
      reckoned_of_ = product_.id();
      const StockBook book = read_stock(app.logbook(), app.farm(), at);
      const ProductStock* product = book.product(product_.id());
      reckoned_kg_ = product == nullptr ? 0 : product->on_hand_kg;
    }
    const double difference_kg = *product_kg_.value - reckoned_kg_;
    const std::string_view id = std::abs(difference_kg) < 0.05 ? "stock.count.same"
                                : difference_kg < 0            ? "stock.count.less"
                                                               : "stock.count.more";
    ui.notice("stock/count/difference", std::abs(difference_kg) < 0.05 ? Tone::open : Tone::warn,
              ui.words()(Message(id)
                             .with("reckoned", Quantity{reckoned_kg_, 1, "kg"})
                             .with("difference", Quantity{std::abs(difference_kg), 1, "kg"})));
  }

  ProductChoice product_;
  When when_;
  NumberField product_kg_{"count/product_kg", "kg", 1, {}};
  std::optional<Instant> reckoned_at_;
  std::string reckoned_of_;
  double reckoned_kg_ = 0;
};

class OrderForm : public StockForm {
 public:
  explicit OrderForm(std::string order) : order_(std::move(order)), is_new_(order_.empty()) {}

 protected:
  std::string_view title() const override { return "stock.order"; }
  void start(App& app) override {
    StockView view;
    view.refresh(app);
    if (wrong() != nullptr) {
      order_ = text_of(*wrong(), "order");
      product_.start(app, view.book(), text_of(*wrong(), "product"));
      product_kg_.value = number_of(*wrong(), "product_kg");
      const Result<CivilDay> day = parse_civil_day(text_of(*wrong(), "expected_on"));
      if (day) in_days_.value = std::max(0, day->days - ordered_on(app).days);
      return;
    }
    if (is_new_) {
      order_ = app.platform().random_hex(kOrderDigits);
      product_.start(app, view.book());
      in_days_.value = view.lead();
      for (const ProductOutlook& outlook : view.outlooks()) {
        if (outlook.product != product_.id() || !outlook.expected) continue;
        product_kg_.value = outlook.expected->bags * product_.bag_kg(app);
      }
      return;
    }
    for (const StockOrder& order : view.book().orders) {
      if (order.order != order_) continue;
      product_.start(app, view.book(), order.product);
      product_kg_.value = order.ordered_kg;
      in_days_.value = std::max(0, order.expected_on.days - view.today().days);
    }
  }
  void draw_fields(App& app, Ui& ui) override {
    const Words& words = ui.words();
    const bool stands = !is_new_ && wrong() == nullptr;
    if (stands) {
      if (ui.button("stock/order/came", words("stock.order.has_come"), ButtonKind::primary)) {
        app.replace(make_delivery_screen(order_));
        return;
      }
      ui.gap(16);
    }
    product_.draw(app, ui);
    number_field(app, ui, product_kg_);
    if (product_kg_.value) draw_bags(ui, "stock/bags", *product_kg_.value, product_.bag_kg(app));
    ui.gap();
    number_field(app, ui, in_days_);
    if (in_days_.value) {
      ui.text("stock/expected_on", words(Message("stock.order.expected").with("day", expected_on(app))),
              TextSize::body, Tone::quiet);
    }
    ui.gap(16);
    if (!stands) return;
    if (ui.button("stock/order/cancel", words("stock.order.cancel"), ButtonKind::danger, app.can_write())) {
      Draft cancelled = draft(app);
      cancelled.values.insert_or_assign("cancelled", true);
      save(app, std::move(cancelled));
    }
  }
  bool complete() const override { return product_kg_.value && in_days_.value && !product_.id().empty(); }
  Draft draft(const App& app) const override {
    Draft draft;
    draft.kind = kind::kStockOrder;
    draft.observed = wrong() == nullptr ? app.now() : wrong()->observed;
    const bool* cancelled = wrong() == nullptr ? nullptr : wrong()->flag("cancelled");
    if (cancelled != nullptr) draft.values.emplace("cancelled", *cancelled);
    draft.values.emplace("order", order_);
    draft.values.emplace("product", product_.id());
    put_number(draft, "product_kg", product_kg_);
    draft.values.emplace("expected_on", to_iso(expected_on(app)));
    return draft;
  }
  std::optional<Problem> check(const Entry& entry) const override { return check_stock_order(entry); }

 private:
  CivilDay ordered_on(const App& app) const {
    return civil_day(wrong() == nullptr ? app.now() : wrong()->observed, app.farm().place.offset);
  }
  CivilDay expected_on(const App& app) const {
    return ordered_on(app).plus(static_cast<int>(in_days_.value.value_or(0)));
  }

  std::string order_;
  bool is_new_ = true;
  ProductChoice product_;
  NumberField product_kg_{"order/product_kg", "kg", 1, {}};
  NumberField in_days_{"order/in_days", "d", 0, {}};
};

class FiguresForm : public StockForm {
 protected:
  std::string_view title() const override { return "stock.figures"; }
  void start(App& app) override {
    const CostFigures figures = read_stock(app.logbook(), app.farm(), app.now()).figures;
    currency_ = figures.currency;
    lead_days_.value = figures.lead_days;
    production_.value = figures.production_cost_per_ha;
  }
  void draw_fields(App& app, Ui& ui) override {
    const Words& words = ui.words();
    ui.text("stock/figures/about", words("stock.figures.about"), TextSize::body, Tone::quiet);
    ui.gap();
    if (auto typed = ui.text_field("stock/currency", words("form.currency"), currency_,
                                   words("form.currency.hint"), "name", kCurrencyLength)) {
      currency_ = *std::move(typed);
    }
    ui.gap();
    number_field(app, ui, lead_days_);
    ui.gap();
    number_field(app, ui, production_);
  }
  bool complete() const override { return true; }
  Draft draft(const App& app) const override {
    Draft draft;
    draft.kind = kind::kCostSetup;
    draft.observed = app.now();
    if (!currency_.empty()) draft.values.emplace("currency", currency_);
    put_number(draft, "lead_days", lead_days_);
    put_number(draft, "production_cost_per_ha", production_);
    return draft;
  }
  std::optional<Problem> check(const Entry& entry) const override {
    const Result<CostFigures> figures = read_cost_setup(entry);
    if (figures) return std::nullopt;
    return figures.error();
  }

 private:
  std::string currency_;
  NumberField lead_days_{"figures/lead_days", "d", 0, {}};
  NumberField production_{"figures/production_cost_per_ha", "", 2, {}};
};

}  // namespace

std::unique_ptr<Screen> make_delivery_screen(std::string order) {
  return std::make_unique<DeliveryForm>(std::move(order));
}
std::unique_ptr<Screen> make_count_screen() { return std::make_unique<CountForm>(); }
std::unique_ptr<Screen> make_order_screen(std::string order) {
  return std::make_unique<OrderForm>(std::move(order));
}
std::unique_ptr<Screen> make_stock_correction_screen(const Entry& wrong) {
  std::unique_ptr<StockForm> form;
  if (wrong.kind == kind::kStockDelivery) form = std::make_unique<DeliveryForm>(std::string());
  if (wrong.kind == kind::kStockCount) form = std::make_unique<CountForm>();
  if (wrong.kind == kind::kStockOrder) form = std::make_unique<OrderForm>(std::string());
  if (form) form->correct(wrong);
  return form;
}
std::unique_ptr<Screen> make_figures_screen() { return std::make_unique<FiguresForm>(); }

}  // namespace tawny::ui
