// The farm's products: which are in use, what is in a bag, what a kilogram costs. Each change is an entry.
#include <algorithm>
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/form.h"
#include "ui/screens/screens.h"
#include "ui/screens/stock.h"

namespace tawny::ui {
namespace {

constexpr double kBagKg = 25;

const FarmProduct* farm_product(const App& app, std::string_view id) {
  for (const FarmProduct& known : app.farm().products) {
    if (known.product == id) return &known;
  }
  return nullptr;
}

class ProductScreen : public Screen {
 public:
  explicit ProductScreen(std::string product) : product_(std::move(product)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, product_word(words, product_));
    begin_form(app, ui, "product");
    const Product* known = app.product(product_);
    if (known != nullptr && !known->reason_id.empty()) {
      ui.text("product/reason", words(known->reason_id), TextSize::body, Tone::quiet);
      ui.gap();
    }
    if (ui.checkbox("product/in_use", words("key.in_use"), in_use_)) in_use_ = !in_use_;
    ui.text("product/in_use/about", words("products.in_use.about"), TextSize::body, Tone::quiet);
    ui.gap();
    number_field(app, ui, bag_kg_);
    ui.gap();
    number_field(app, ui, price_per_kg_);
    if (problem_) ui.notice("product/problem", Tone::alarm, words(problem_->message));
    ui.end_content();
    if (save_footer(app, ui, words("form.save"), bag_kg_.value.has_value())) save(app);
  }
  bool holds_unsaved() const override { return started_ && !saved_; }

 private:
  void start(const App& app) {
    started_ = true;
    if (const FarmProduct* known = farm_product(app, product_)) {
      in_use_ = known->in_use;
      bag_kg_.value = known->bag_kg;
      price_per_kg_.value = known->price_per_kg;
    }
  }

  void save(App& app) {
    Draft draft;
    draft.kind = kind::kProductSetup;
    draft.values = {{"product", product_}, {"in_use", in_use_}};
    put_number(draft, "bag_kg", bag_kg_);
    put_number(draft, "price_per_kg", price_per_kg_);
    if (const Result<FarmProduct> read = read_product_setup(as_entry(draft)); !read) {
      problem_ = read.error();
      return;
    }
    problem_.reset();
    saved_ = true;
    app.put({std::move(draft)}, [&app] { app.back(); });
  }

  std::string product_;
  bool started_ = false, saved_ = false, in_use_ = false;
  NumberField bag_kg_{"product/bag", "kg", 1, kBagKg};
  NumberField price_per_kg_{"product/price_per_kg", "", 2, {}};
  std::optional<Problem> problem_;
};

class ProductsScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    view_.refresh(app);
    app.frame_bars(ui, words("products.title"));
    ui.begin_content("products");
    ui.text("products/about", words("products.about"), TextSize::body, Tone::quiet);
    ui.gap();
    const bool manager = app.role() == Role::manager;
    if (!manager) ui.notice("products/manager_only", Tone::quiet, words("gate.manager_only"));
    ui.begin_card("products/card");
    for (const Product& product : app.products()) {
      if (product.allowed) draw_product(app, ui, product, manager);
    }
    ui.end_card();
    ui.gap(16);
    ui.heading("products/outside", words("products.outside"));
    for (const Product& product : app.products()) {
      if (product.allowed) continue;
      const std::string id = "products/outside/" + product.id;
      ui.text(id, product_word(words, product.id), TextSize::body, Tone::ink, true);
      if (!product.reason_id.empty())
        ui.text(id + "/reason", words(product.reason_id), TextSize::body, Tone::quiet);
      ui.gap();
    }
    ui.gap(16);
    ui.end_content();
  }

 private:
  void draw_product(App& app, Ui& ui, const Product& product, bool manager) const {
    const Words& words = ui.words();
    const FarmProduct* known = farm_product(app, product.id);
    const bool in_use = known != nullptr && known->in_use;
    Ui::Row row;
    row.title = product_word(words, product.id);
    row.status = in_use ? Status::done : Status::stopped;
    row.word = words(in_use ? "products.in_use" : "products.not_in_use");
    if (in_use) {
      row.remark = words(Message("products.bag").with("bag", Quantity{known->bag_kg, 0, "kg"}));
      row.remark += " \u00b7 ";
      row.remark += known->price_per_kg ? words(Message("products.price")
                                                    .with("price", Text{money(words, *known->price_per_kg,
                                                                              view_.book().figures.currency)}))
                                        : words("products.no_price");
    }
    row.enabled = manager && app.can_write();
    if (ui.row("products/" + product.id, row)) app.open(std::make_unique<ProductScreen>(product.id));
  }

  StockView view_;
};

}  // namespace

std::unique_ptr<Screen> make_products_screen() { return std::make_unique<ProductsScreen>(); }

}  // namespace tawny::ui
