#include "simulate/weather.h"

#include <algorithm>
#include <numbers>

#include "science/sun.h"

namespace tawny::simulate {
namespace {

struct SkyKind {
  Sky sky;
  double share;                      // of days, over long
  double through_low, through_high;  // of a clear sky's light
  double rain_chance;
};

// Estimates; the light of a dull day as in the lower end of FAO-56, eq. 35 (a quarter of what comes in).
constexpr SkyKind kSkyKinds[] = {{Sky::bright, 0.62, 0.86, 1.0, 0.0},
                                 {Sky::mixed, 0.26, 0.55, 0.85, 0.2},
                                 {Sky::dull, 0.12, 0.22, 0.5, 0.55}};

const SkyKind& draw_kind(Random& random) {
  double left = random.share();
  for (const SkyKind& kind : kSkyKinds) {
    if (left < kind.share) return kind;
    left -= kind.share;
  }
  return kSkyKinds[0];
}

}  // namespace

Weather::Weather(const FarmPlace& place, CivilDay first, int days, Random random)
    : first_(first), begin_(instant_at(first, 0, place.offset)) {
  const double persistence = random.between(0.35, 0.65);
  const double mean_air_c = random.between(24.5, 28.5);
  const double diel_air_c = random.between(2.5, 4.5);
  const double calm_m_s = random.between(0.6, 1.8);
  const double breeze_m_s = random.between(2.0, 4.5);
  const SkyKind* kind = &draw_kind(random);
  double wander_c = 0;
  for (int day = 0; day < days; ++day) {
    if (!random.happens(persistence)) kind = &draw_kind(random);
    skies_.push_back(kind->sky);
    wander_c = 0.8 * wander_c + 0.6 * random.normal() - (kind->sky == Sky::dull ? 0.3 : 0);
    const double through_day = random.between(kind->through_low, kind->through_high);
    const double gust = random.around(1, 0.25);
    const bool rains = random.happens(kind->rain_chance);
    const int shower_from = random.whole(11, 20);
    const int shower_h = random.whole(1, 4);
    const double shower_mm = rains ? std::min(90.0, random.waiting(14)) : 0;
    double cloud = 0;
    for (int hour = 0; hour < 24; ++hour) {
      Hour one;
      const Instant middle = instant_at(first.plus(day), hour * 3600 + 1800, place.offset);
      const double height_deg = solar_elevation_deg(middle, place.latitude_deg, place.longitude_deg);
      const double sine = std::sin(height_deg * std::numbers::pi / 180);
      cloud = 0.6 * cloud + (kind->sky == Sky::bright ? 0.02 : 0.07) * random.normal();
      const double through = std::clamp(through_day + cloud, 0.12, 1.0);
      if (sine > 0.02) one.short_wave_w_m2 = 1098 * sine * std::exp(-0.057 / sine) * through;
      one.par_umol_m2_s = one.short_wave_w_m2 * 0.45 * 4.57;
      const double phase = std::cos((hour + 0.5 - 14) * std::numbers::pi / 12);
      one.air_c = mean_air_c + wander_c + diel_air_c * phase * (0.4 + 0.6 * through);
      const double breeze = std::max(0.0, std::cos((hour + 0.5 - 15) * std::numbers::pi / 14));
      one.wind_m_s = std::clamp((calm_m_s + breeze_m_s * breeze) * gust, 0.2, 12.0);
      if (hour >= shower_from && hour < shower_from + shower_h) one.rain_mm = shower_mm / shower_h;
      hours_.push_back(one);
    }
  }
}

const Hour& Weather::at(Instant at) const {
  const std::int64_t hour = (at.unix_s - begin_.unix_s) / 3600;
  const auto last = static_cast<std::int64_t>(hours_.size()) - 1;
  return hours_[static_cast<std::size_t>(std::clamp<std::int64_t>(hour, 0, last))];
}

Sky Weather::sky(CivilDay day) const {
  const auto last = static_cast<int>(skies_.size()) - 1;
  return skies_[static_cast<std::size_t>(std::clamp(day.days - first_.days, 0, last))];
}

}  // namespace tawny::simulate
