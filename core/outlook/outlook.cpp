#include "outlook/outlook.h"

#include <algorithm>
#include <cmath>

#include "outlook/quick_math.h"

namespace tawny {
namespace {

constexpr std::size_t kSlice = 512;  // particles of one step of the forecast
constexpr std::size_t kPriorParticles = 200;
constexpr int kLearnedOnDay = 2, kHelpfulForDay = 3;
constexpr std::size_t kTrendReadings = 3;
constexpr double kLowShare = 0.1, kHighShare = 0.9;

// Between the two values beside it; the values come out in another order.
double quantile(std::vector<double>& values, double share) {
  const double at = share * static_cast<double>(values.size() - 1);
  const auto below = values.begin() + static_cast<std::ptrdiff_t>(at);
  std::nth_element(values.begin(), below, values.end());
  if (below + 1 == values.end()) return *below;
  const double above = *std::min_element(below + 1, values.end());
  return *below + (at - std::floor(at)) * (above - *below);
}

double share_where(const std::vector<double>& values, const auto& holds) {
  return static_cast<double>(std::count_if(values.begin(), values.end(), holds)) /
         static_cast<double>(values.size());
}

double spread_of_logs(const std::vector<double>& values) {
  double sum = 0, squares = 0;
  for (const double value : values) {
    const double log = quick_log(value);
    sum += log;
    squares += log * log;
  }
  const double mean = sum / static_cast<double>(values.size());
  return std::sqrt(std::max(0.0, squares / static_cast<double>(values.size()) - mean * mean));
}

// Square of the correlation of the logarithms; 0 where one of them does not vary.
double explained_share(const std::vector<double>& x, const std::vector<double>& y) {
  double sx = 0, sy = 0, sxx = 0, syy = 0, sxy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double a = quick_log(x[i]), b = quick_log(y[i]);
    sx += a;
    sy += b;
    sxx += a * a;
    syy += b * b;
    sxy += a * b;
  }
  const double n = static_cast<double>(x.size());
  const double vx = sxx - sx * sx / n, vy = syy - sy * sy / n, c = sxy - sx * sy / n;
  return vx > 0 && vy > 0 ? c * c / (vx * vy) : 0;
}

double square(double x) { return x * x; }

// Mean of what came so far, with one more.
void add_to_mean(double& mean, double value, int count) { mean += (value - mean) / count; }

}  // namespace

std::optional<double> OutlookScore::skill() const {
  if (judged == 0 || !(persistence_crps_cm > 0)) return std::nullopt;
  return 1 - crps_cm / persistence_crps_cm;
}

Result<double> crps(std::vector<double> ensemble, double observed) {
  if (ensemble.empty())
    return refuse(ProblemKind::missing, "ensemble",
                  Message("problem.input_missing").with("parameter", Text{"ensemble"}));
  std::sort(ensemble.begin(), ensemble.end());
  const double n = static_cast<double>(ensemble.size());
  double off = 0, among = 0;
  for (std::size_t i = 0; i < ensemble.size(); ++i) {
    off += std::fabs(ensemble[i] - observed);
    among += (2 * static_cast<double>(i) + 1 - n) * ensemble[i];
  }
  return off / n - among / (n * n);
}

OutlookRules outlook_rules(const PondState& state, const Protocol& protocol, const BloomRecord& record,
                           const Product& product, double area_ha) {
  OutlookRules rules;
  rules.band_low_cm = protocol.number("stage.hold_band.secchi_low_cm");
  rules.band_high_cm = protocol.number("stage.hold_band.secchi_high_cm");
  rules.floor_cm = protocol.number("dose.secchi_warn_cm");
  if (state.dose.allowed) {
    rules.least_kg_ha = state.dose.least_kg_ha;
    rules.most_kg_ha = state.dose.most_kg_ha;
  }
  if (record.volume_m3 > 0)
    rules.nitrogen_mg_l_per_kg_ha = 1000 * area_ha * product.nitrate_n_fraction / record.volume_m3;
  return rules;
}

OutlookRun::OutlookRun(BloomRecord record, OutlookRules rules, const OutlookPriors& priors,
                       const FarmPlace& place, Size size)
    : record_(std::move(record)),
      rules_(rules),
      priors_(priors),
      place_(place),
      size_(size),
      filter_(priors, size.particles, seed_of(record_.pond, record_.days.front().day.days)),
      blind_(priors, kPriorParticles, seed_of(record_.pond, record_.days.front().day.days)) {
  outlook_.from = record_.days.back().day;
  outlook_.doses.push_back({});
  for (const std::optional<double>& rate : {rules_.least_kg_ha, rules_.most_kg_ha}) {
    if (!rate) continue;
    DoseOutlook dose;
    dose.rate_kg_ha = *rate;
    dose.nitrogen_mg_l = *rate * rules_.nitrogen_mg_l_per_kg_ha;
    outlook_.doses.push_back(dose);
  }
}

double OutlookRun::done_share() const {
  const double ahead =
      done_ ? 1 : static_cast<double>(forecast_.ran) / static_cast<double>(size_.particles + 1);
  return (static_cast<double>(at_) + ahead) / static_cast<double>(record_.days.size() + 1);
}

bool OutlookRun::step() {
  if (at_ < record_.days.size()) {
    run_day();
    return false;
  }
  if (done_) return true;
  if (forecast_.runs.empty()) {
    begin_forecast();
  } else if (forecast_.ran < forecast_.particles.size()) {
    run_on(forecast_, std::min(forecast_.ran + kSlice, forecast_.particles.size()));
  } else {
    end_forecast();
    done_ = true;
  }
  return done_;
}

void OutlookRun::run_day() {
  const BloomDay& today = record_.days[at_];
  for (BloomFilter* filter : {&filter_, &blind_}) {
    if (at_ == 0) {
      filter->begin(today.water);
    } else {
      filter->to_noon(today.water, today.sky);
    }
  }
  if (today.secchi) {
    filter_.see(*today.secchi);
    if (!today.secchi->more_than) measured_.push_back(at_);
  }
  for (BloomFilter* filter : {&filter_, &blind_}) filter->to_evening(today.water, today.sky);
  if (today.do_swing_mg_l) filter_.see_swing(*today.do_swing_mg_l);
  if (today.sky) skies_[static_cast<std::size_t>(*today.sky)] += 1;
  if (size_.scored_particles > 0 && measured_.size() >= priors_.readings_enough) score_from(at_);
  ++at_;
}

Sky OutlookRun::drawn_sky(Dice& dice) const {
  double aim = dice.uniform() * (skies_[0] + skies_[1] + skies_[2]);
  for (std::size_t i = 0; i < 2; ++i) {
    if (aim < skies_[i]) return static_cast<Sky>(i);
    aim -= skies_[i];
  }
  return static_cast<Sky>(2);
}

OutlookRun::Ahead OutlookRun::ahead_of(const BloomFilter& filter, std::size_t count, std::size_t from,
                                       std::vector<BloomWater> waters, std::vector<double> doses_mg_l) const {
  Ahead ahead{std::move(waters),
              std::move(doses_mg_l),
              filter.drawn(count, 0.5),
              Dice(seed_of(record_.pond, record_.days[from].day.days) + 1),
              0,
              {}};
  ahead.runs.resize(ahead.doses_mg_l.size());
  for (RunOn& run : ahead.runs) {
    run.depths_cm.assign(ahead.waters.size(), std::vector<double>(count));
    run.swings_mg_l.resize(count);
  }
  return ahead;
}

void OutlookRun::run_on(Ahead& ahead, std::size_t until) const {
  const std::size_t doses = ahead.doses_mg_l.size();
  std::vector<Particle>& particles = ahead.particles;
  std::vector<RunOn>& runs = ahead.runs;
  Dice& dice = ahead.dice;
  std::vector<BloomStates> states(doses);
  while (ahead.ran < until) {
    const std::size_t first = ahead.ran, lanes = std::min(kLanes, until - first);
    ahead.ran += lanes;
    for (std::size_t dose = 0; dose < doses; ++dose) {
      for (std::size_t lane = 0; lane < lanes; ++lane) {
        BloomState state = particles[first + lane].state;
        state.nitrogen_mg_l += ahead.doses_mg_l[dose];
        states[dose].put(lane, state);
      }
    }
    for (std::size_t day = 0; day < ahead.waters.size(); ++day) {
      Lanes sky_share = {}, reading = {}, swing_reading = {};
      for (std::size_t lane = 0; lane < lanes; ++lane) {
        BloomTraits& traits = particles[first + lane].traits;
        drift(traits, priors_, dice);
        sky_share[lane] = drawn_sky_share(priors_, drawn_sky(dice), dice);
        reading[lane] = quick_exp(trait_of(traits, Trait::secchi_error_share) * dice.normal());
        if (day == 0) swing_reading[lane] = quick_exp(priors_.swing_error_share * dice.bell());
      }
      const BloomDayRates rates(&particles[first], lanes, ahead.waters[day], priors_);
      for (std::size_t dose = 0; dose < doses; ++dose) {
        rates.run_night_and_morning(states[dose], sky_share);
        for (std::size_t lane = 0; lane < lanes; ++lane) {
          Particle& particle = particles[first + lane];
          particle.state = states[dose].at(lane);
          runs[dose].depths_cm[day][first + lane] = secchi_cm(particle, priors_) * reading[lane];
        }
        rates.run_afternoon(states[dose], sky_share);
        if (day > 0) continue;
        for (std::size_t lane = 0; lane < lanes; ++lane) {
          const double made = states[dose].oxygen_made_mg_l[lane] *
                              trait_of(particles[first + lane].traits, Trait::oxygen_share);
          runs[dose].swings_mg_l[first + lane] = std::max(made * swing_reading[lane], priors_.swing_least_mg_l);
        }
      }
    }
  }
}

std::vector<BloomWater> OutlookRun::to_come(int days) const {
  std::vector<BloomWater> waters;
  const BloomDay& last = record_.days.back();
  for (int i = 1; i <= days; ++i) waters.push_back(water_of_day_to_come(last, last.day.plus(i), place_));
  return waters;
}

void OutlookRun::score_from(std::size_t day) {
  const auto measured = [&](std::size_t at) {
    return record_.days[at].secchi && !record_.days[at].secchi->more_than;
  };
  int farthest = 0;
  for (int ahead = 1; ahead <= kOutlookDays; ++ahead) {
    const std::size_t to = day + static_cast<std::size_t>(ahead);
    if (to < record_.days.size() && measured(to)) farthest = ahead;
  }
  if (farthest == 0) return;
  std::vector<BloomWater> as_it_came;
  for (int ahead = 1; ahead <= farthest; ++ahead)
    as_it_came.push_back(record_.days[day + static_cast<std::size_t>(ahead)].water);
  // No dose beside those that were given then.
  Ahead past = ahead_of(filter_, size_.scored_particles, day, std::move(as_it_came), {0});
  run_on(past, size_.scored_particles);
  // Least squares through the last readings, against the day.
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
  const std::size_t first = measured_.size() - std::min(measured_.size(), kTrendReadings);
  for (std::size_t i = first; i < measured_.size(); ++i) {
    const double x = record_.days[measured_[i]].day.days - record_.days[day].day.days;
    const double y = record_.days[measured_[i]].secchi->secchi_cm;
    n += 1;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const double slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
  const double last = record_.days[measured_.back()].secchi->secchi_cm;
  const auto in_band = [&](double cm) { return cm >= rules_.band_low_cm && cm <= rules_.band_high_cm; };
  for (int ahead = 1; ahead <= farthest; ++ahead) {
    const std::size_t to = day + static_cast<std::size_t>(ahead);
    if (!measured(to)) continue;
    std::vector<double>& depths = past.runs.front().depths_cm[static_cast<std::size_t>(ahead - 1)];
    const double seen = record_.days[to].secchi->secchi_cm;
    OutlookScore& score = outlook_.score;
    const int count = ++score.judged;
    add_to_mean(score.crps_cm, *crps(depths, seen), count);
    add_to_mean(score.persistence_crps_cm, std::fabs(last - seen), count);
    const double line = sy / n + slope * (record_.days[to].day.days - record_.days[day].day.days - sx / n);
    add_to_mean(score.trend_crps_cm, std::fabs(line - seen), count);
    const bool inside = seen >= quantile(depths, kLowShare) && seen <= quantile(depths, kHighShare);
    add_to_mean(score.covered, inside ? 1 : 0, count);
    const double truth = in_band(seen) ? 1 : 0;
    add_to_mean(score.brier, square(share_where(depths, in_band) - truth), count);
    add_to_mean(score.persistence_brier, square((in_band(last) ? 1 : 0) - truth), count);
  }
}

void OutlookRun::begin_forecast() {
  std::vector<double> doses_mg_l;
  for (const DoseOutlook& dose : outlook_.doses) doses_mg_l.push_back(dose.nitrogen_mg_l);
  forecast_ =
      ahead_of(filter_, size_.particles, record_.days.size() - 1, to_come(kOutlookDays), std::move(doses_mg_l));
}

void OutlookRun::end_forecast() {
  std::vector<RunOn>& runs = forecast_.runs;
  outlook_.learned = 1 - spread_of_logs(runs.front().depths_cm[kLearnedOnDay - 1]) / prior_spread();
  find_helpful(runs.front());
  for (std::size_t i = 0; i < runs.size(); ++i) fill_in(outlook_.doses[i], runs[i]);
  conclude();
}

void OutlookRun::fill_in(DoseOutlook& dose, RunOn& run) const {
  for (int ahead = 1; ahead <= kOutlookDays; ++ahead) {
    std::vector<double>& depths = run.depths_cm[static_cast<std::size_t>(ahead - 1)];
    SecchiForecast forecast;
    forecast.day = outlook_.from.plus(ahead);
    forecast.low_cm = quantile(depths, kLowShare);
    forecast.median_cm = quantile(depths, 0.5);
    forecast.high_cm = quantile(depths, kHighShare);
    forecast.in_band =
        share_where(depths, [&](double cm) { return cm >= rules_.band_low_cm && cm <= rules_.band_high_cm; });
    forecast.under_floor = share_where(depths, [&](double cm) { return cm < rules_.floor_cm; });
    dose.mean_in_band += forecast.in_band / kOutlookDays;
    dose.most_under_floor = std::max(dose.most_under_floor, forecast.under_floor);
    dose.days.push_back(forecast);
  }
}

double OutlookRun::prior_spread() const {
  Ahead ahead = ahead_of(blind_, kPriorParticles, record_.days.size() - 1, to_come(kLearnedOnDay), {0});
  run_on(ahead, kPriorParticles);
  return spread_of_logs(ahead.runs.front().depths_cm.back());
}

void OutlookRun::find_helpful(const RunOn& run) {
  const std::vector<double>& aim = run.depths_cm[kHelpfulForDay - 1];
  const double by_secchi = explained_share(aim, run.depths_cm.front());
  const double by_oxygen = explained_share(aim, run.swings_mg_l);
  outlook_.helps_most = by_oxygen > by_secchi ? HelpfulReading::oxygen_pair : HelpfulReading::secchi;
  outlook_.helps_share = std::max(by_oxygen, by_secchi);
}

void OutlookRun::conclude() {
  outlook_.enough_readings = measured_.size() >= priors_.readings_enough;
  outlook_.advice = outlook_.enough_readings && outlook_.learned >= priors_.least_learned_share;
  if (!outlook_.advice || outlook_.doses.size() < 2) return;
  for (std::size_t i = 0; i < outlook_.doses.size(); ++i) {
    const DoseOutlook& dose = outlook_.doses[i];
    if (dose.rate_kg_ha > 0 && dose.most_under_floor >= priors_.floor_risk_high) continue;
    if (!outlook_.suggested || dose.mean_in_band > outlook_.doses[*outlook_.suggested].mean_in_band)
      outlook_.suggested = i;
  }
}

}  // namespace tawny
