#include "office/needs.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "base/sort_stably.h"
#include "protocol/look.h"

namespace tawny {
namespace {

constexpr int kDaysAWeek = 7;

int whole_days(double days) { return std::max(0, static_cast<int>(std::ceil(days - 1e-9))); }

// How long a stage takes by the protocol.
int days_of(const Protocol& protocol, Stage stage) {
  switch (stage) {
    case Stage::bottom:
      return whole_days(protocol.number("stage.bottom.dried_days"));
    case Stage::first_fill:
    case Stage::second_fill:
    case Stage::third_fill:
      return whole_days(protocol.number("stock.fill_days"));
    case Stage::rest:
      return whole_days(protocol.number("stage.rest.rest_h") / 24);
    case Stage::first_dose:
      return 0;
    case Stage::bloom:
      return whole_days(protocol.number("stage.bloom.days_normal"));
    case Stage::hold_band:
      return whole_days(protocol.number("stage.hold_band.band_days_of"));
    case Stage::release:
      return whole_days(protocol.number("stage.release.dawn_do_days"));
    case Stage::early_cycle:
      return whole_days(kDaysAWeek * protocol.number("stage.early_cycle.weeks"));
  }
  return 0;
}

// Where the cycle's stages end, from the stage on in which the pond stands.
struct Timeline {
  std::map<Stage, CivilDay> ends;

  Timeline(const Protocol& protocol, Stage stage, CivilDay since, CivilDay today) {
    CivilDay day = std::max(today, since.plus(days_of(protocol, stage)));
    for (int number = static_cast<int>(stage); number <= static_cast<int>(Stage::early_cycle); ++number) {
      const Stage each = static_cast<Stage>(number);
      if (each != stage) day = day.plus(days_of(protocol, each));
      ends.emplace(each, day);
    }
  }
  std::optional<CivilDay> end(Stage stage) const {
    const auto found = ends.find(stage);
    if (found == ends.end()) return std::nullopt;
    return found->second;
  }
};

// What was broadcast for a hectare on this farm, in the middle of all its ponds; nothing where there is none.
std::optional<double> usual_broadcast_kg_ha(const Farm& farm) {
  std::vector<double> rates;
  for (const FarmPond& pond : farm.ponds) {
    const double area_ha = pond.history.pond.nominal_area_ha;
    double product_kg = 0;
    for (const SoilBroadcast& broadcast : pond.history.broadcasts) product_kg += broadcast.product_kg;
    if (area_ha > 0 && product_kg > 0) rates.push_back(product_kg / area_ha);
  }
  if (rates.empty()) return std::nullopt;
  std::sort(rates.begin(), rates.end());
  const std::size_t middle = rates.size() / 2;
  return rates.size() % 2 == 1 ? rates[middle] : (rates[middle - 1] + rates[middle]) / 2;
}

class Needs {
 public:
  Needs(const Farm& farm, const Protocol& standard, Instant now)
      : farm_(farm),
        standard_(standard),
        now_(now),
        today_(civil_day(now, farm.place.offset)),
        usual_broadcast_kg_ha_(usual_broadcast_kg_ha(farm)) {}

  void of_running(const FarmPond& pond) {
    const PondState& state = pond.state;
    if (!state.in_cycle || state.unsupported || state.finished) return;
    begin(pond);
    const Timeline time(*protocol_, state.stage, civil_day(state.stage_since, farm_.place.offset), today_);
    const std::vector<const DoseRecord*> doses = doses_at(pond.history, now_);
    std::optional<CivilDay> last;
    if (!doses.empty()) last = civil_day(doses.back()->started, farm_.place.offset);
    if (state.stage == Stage::bottom && pond.history.broadcasts.empty()) broadcast(*time.end(Stage::bottom));
    const auto first = time.end(Stage::first_dose);
    if (first) first_dose(*first);
    const auto from = time.end(Stage::bloom);
    std::optional<Advised> advised;
    if (state.dose.advised && state.stage != Stage::first_dose) {
      const Instant when = state.dose.window_from.value_or(now_);
      advised = Advised{std::max(civil_day(when, farm_.place.offset), today_), state.dose.rate_kg_ha};
    }
    holding(from ? *from : today_, *time.end(Stage::early_cycle), first ? first : last, advised);
  }

  void of_coming(const FarmPond& pond, CivilDay bottom_done) {
    begin(pond);
    const CivilDay done = std::max(bottom_done, today_);
    const Timeline time(*protocol_, Stage::first_fill, done, done);
    broadcast(done);
    first_dose(*time.end(Stage::first_dose));
    holding(*time.end(Stage::bloom), *time.end(Stage::early_cycle), time.end(Stage::first_dose), std::nullopt);
  }

  std::vector<StockNeed> take() {
    sort_stably(needs_, [](const StockNeed& a, const StockNeed& b) { return a.day < b.day; });
    return std::move(needs_);
  }

 private:
  void begin(const FarmPond& pond) {
    pond_ = pond.history.pond.id;
    area_ha_ = pond.history.pond.nominal_area_ha;
    product_ = product_of_pond(farm_, pond);
    protocol_ = protocol_of(pond, standard_, now_);
  }

  void add(StockNeed::What what, CivilDay day, double least_kg_ha, double expected_kg_ha, double most_kg_ha) {
    needs_.push_back(
        {what, pond_, product_, day, least_kg_ha * area_ha_, expected_kg_ha * area_ha_, most_kg_ha * area_ha_});
  }

  void broadcast(CivilDay day) {
    const double low = protocol_->number("stage.bottom.broadcast_low_kg_ha");
    const double high = protocol_->number("stage.bottom.broadcast_high_kg_ha");
    const double usual = usual_broadcast_kg_ha_.value_or((low + high) / 2);
    add(StockNeed::What::broadcast, day, low, std::min(std::max(usual, low), high), high);
  }

  void first_dose(CivilDay day) {
    const double rate = protocol_->number("stage.first_dose.rate_kg_ha");
    const double tolerance = protocol_->number("stage.first_dose.rate_tolerance_share");
    add(StockNeed::What::first_dose, day, rate * (1 - tolerance), rate, rate * (1 + tolerance));
  }

  struct Advised {
    CivilDay day;
    double rate_kg_ha;
  };
  void holding(CivilDay from, CivilDay until, std::optional<CivilDay> last, std::optional<Advised> advised) {
    const double most =
        std::min(protocol_->number("dose.high_kg_ha"), protocol_->number("dose.most_at_once_kg_ha"));
    const auto first_after = [&](int every) { return last ? std::max(from, last->plus(every)) : from; };
    const int seldom = every_days("stock.dose_seldom_days");
    const int usual = every_days("stock.dose_every_days");
    const int between = every_days("dose.days_between");
    for (CivilDay day = first_after(seldom); day < until; day = day.plus(seldom)) {
      add(StockNeed::What::holding, day, protocol_->number("dose.low_kg_ha"), 0, 0);
    }
    CivilDay day = first_after(usual);
    if (advised) {
      add(StockNeed::What::holding, advised->day, 0, advised->rate_kg_ha, 0);
      day = advised->day.plus(usual);
    }
    for (; day < until; day = day.plus(usual)) {
      add(StockNeed::What::holding, day, 0, protocol_->number("dose.middle_kg_ha"), 0);
    }
    for (day = first_after(between); day < until; day = day.plus(between)) {
      add(StockNeed::What::holding, day, 0, 0, most);
    }
  }

  int every_days(std::string_view path) const { return std::max(1, whole_days(protocol_->number(path))); }

  const Farm& farm_;
  const Protocol& standard_;
  Instant now_;
  CivilDay today_;
  std::optional<double> usual_broadcast_kg_ha_;
  std::string pond_, product_;
  double area_ha_ = 0;
  std::optional<Protocol> protocol_;
  std::vector<StockNeed> needs_;
};

// The last thing of this history that took a product, and when.
std::pair<Instant, std::string> last_product(const PondHistory& history) {
  std::pair<Instant, std::string> last{Instant{INT64_MIN}, {}};
  for (const DoseRecord& dose : history.doses) {
    if (dose.at >= last.first) last = {dose.at, dose.product};
  }
  for (const SoilBroadcast& broadcast : history.broadcasts) {
    if (broadcast.at >= last.first) last = {broadcast.at, broadcast.product};
  }
  return last;
}

}  // namespace

std::string product_of_pond(const Farm& farm, const FarmPond& pond) {
  const auto in_use = [&](const std::string& id) {
    return std::any_of(farm.products.begin(), farm.products.end(),
                       [&](const FarmProduct& product) { return product.product == id && product.in_use; });
  };
  if (auto own = last_product(pond.history); in_use(own.second)) return own.second;
  std::pair<Instant, std::string> last{Instant{INT64_MIN}, {}};
  for (const FarmPond& each : farm.ponds) {
    auto one = last_product(each.history);
    if (one.first > last.first && in_use(one.second)) last = std::move(one);
  }
  if (!last.second.empty()) return last.second;
  for (const FarmProduct& product : farm.products) {
    if (product.in_use) return product.product;
  }
  return {};
}

std::vector<StockNeed> needs_of_ponds(const Farm& farm, const Protocol& standard, Instant now,
                                      const std::vector<CycleAhead>& ahead) {
  Needs needs(farm, standard, now);
  for (const FarmPond& pond : farm.ponds) needs.of_running(pond);
  for (const CycleAhead& coming : ahead) {
    if (const FarmPond* pond = farm.pond(coming.pond)) needs.of_coming(*pond, coming.bottom_done);
  }
  return needs.take();
}

}  // namespace tawny
