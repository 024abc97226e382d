// The cycle as charts under one another on one time axis: level, oxygen, pH, temperature, salinity, Secchi with
// its band and the doses, the sky.
#include <algorithm>
#include <map>
#include <set>

#include "report/plot.h"
#include "report/record.h"

namespace tawny {
namespace {

constexpr double kTall = 120, kLow = 98, kSky = 54;

// Values seen, for an axis around all of them.
struct Seen {
  double low = 0, high = 0;
  std::size_t count = 0;
  void add(double value) {
    low = count == 0 ? value : std::min(low, value);
    high = count == 0 ? value : std::max(high, value);
    ++count;
  }
};

// Dawn and afternoon of one measure, each in order of time, and what was read at another time.
struct Pairs {
  std::vector<SeriesReading> dawn, afternoon, apart;
  double gap_days = 1;
};

Pairs pairs_of(const PairedSeries& series) {
  Pairs pairs;
  for (const PairedDay& day : series.days) {
    if (day.dawn) pairs.dawn.push_back(*day.dawn);
    if (day.afternoon) pairs.afternoon.push_back(*day.afternoon);
  }
  pairs.apart = series.apart;
  pairs.gap_days = series.gap_days;
  return pairs;
}

class Charts {
 public:
  Charts(Markup& out, const Record& record)
      : out_(out),
        words_(out.words()),
        record_(record),
        series_(series_of(record.cycle.pond, record.standard, record.farm.place, record.until)),
        time_(time_axis(record.cycle.start, record.until, record.offset())) {}

  void write() {
    level();
    const Pairs oxygen = pairs_of(series_.oxygen), ph = pairs_of(series_.ph);
    std::vector<std::pair<double, std::string_view>> limits;
    if (series_.oxygen.low_limit) limits.emplace_back(*series_.oxygen.low_limit, "charts.key.limit");
    pairs("oxygen", words_("charts.oxygen"), "mg_l", 1, oxygen, limits);
    limits.clear();
    if (series_.ph.low_limit) limits.emplace_back(*series_.ph.low_limit, "charts.key.limit");
    if (series_.ph.high_limit) limits.emplace_back(*series_.ph.high_limit, "charts.key.limit");
    pairs("ph", words_("charts.ph"), "", 2, ph, limits);
    pairs("temperature", words_("key.temperature_c"), "c", 1, of_water(&WaterReading::temperature_c), {});
    pairs("salinity", words_("key.salinity"), "", 1, of_water(&WaterReading::salinity), {});
    secchi();
    sky();
  }

 private:
  void stages(Plot& plot) const {
    for (const StageBegun& begun : series_.stages) {
      plot.upright(begun.at, words_.number(static_cast<double>(begun.stage), 0), "stage");
    }
  }

  // "12 readings from 4.1 mg/L to 6.0 mg/L, last 5.2 mg/L on ..."
  std::string said(const std::vector<SeriesReading>& readings, std::string_view unit, int decimals,
                   std::string_view label) const {
    if (readings.empty()) return {};
    Seen seen;
    for (const SeriesReading& reading : readings) seen.add(reading.value);
    const auto quantity = [&](double value) { return Quantity{value, decimals, std::string(unit)}; };
    return words_(Message("report.chart.said")
                      .with("what", Text{std::string(label)})
                      .with("count", bare(readings.size()))
                      .with("low", quantity(seen.low))
                      .with("high", quantity(seen.high))
                      .with("last", quantity(readings.back().value))
                      .with("at", readings.back().at)) +
           " ";
  }

  std::string unit_of(std::string_view key) const { return key.empty() ? std::string() : words_.unit(key); }

  template <typename Readings>
  void joined_lines(Plot& plot, const Readings& readings, double gap_days, std::string_view classes) const {
    std::vector<std::pair<Instant, double>> run;
    for (const SeriesReading& reading : readings) {
      if (!run.empty() && !joined(civil_day(run.back().first, record_.offset()),
                                  civil_day(reading.at, record_.offset()), gap_days)) {
        plot.line(run, classes);
        run.clear();
      }
      run.emplace_back(reading.at, reading.value);
    }
    plot.line(run, classes);
  }

  static void marks(Plot& plot, const std::vector<SeriesReading>& readings, MarkShape shape,
                    std::string_view classes) {
    for (const SeriesReading& reading : readings) plot.mark(reading.at, reading.value, shape, classes);
  }

  void level() {
    const LevelSeries& level = series_.level;
    if (level.readings.empty()) return;
    Seen seen;
    seen.add(0);
    for (const SeriesReading& reading : level.readings) seen.add(reading.value);
    for (const PlannedLevel& planned : level.planned) seen.add(planned.high_cm);
    Plot plot(out_, "level", time_, value_axis(seen.low, seen.high), kTall);
    plot.begin(words_("charts.level"), said(level.readings, "cm", 0, words_("charts.level")), unit_of("cm"));
    for (const PlannedLevel& planned : level.planned) {
      plot.band(planned.from, planned.until, planned.low_cm, planned.high_cm);
    }
    plot.values();
    plot.days();
    stages(plot);
    joined_lines(plot, level.readings, level.gap_days, "dawn");
    marks(plot, level.readings, MarkShape::dot, "dawn");
    plot.end_picture();
    plot.key(MarkShape::dot, "dawn", words_("charts.key.level"));
    if (!level.planned.empty()) plot.key(std::nullopt, "band", words_("charts.key.plan"));
    plot.key(std::nullopt, "stage", words_("report.chart.stage"));
    plot.end();
  }

  void pairs(std::string_view name, const std::string& title, std::string_view unit, int decimals,
             const Pairs& pairs, const std::vector<std::pair<double, std::string_view>>& limits) {
    Seen seen;
    for (const auto* readings : {&pairs.dawn, &pairs.afternoon, &pairs.apart}) {
      for (const SeriesReading& reading : *readings) seen.add(reading.value);
    }
    if (seen.count == 0) return;
    for (const auto& [limit, id] : limits) seen.add(limit);
    Plot plot(out_, name, time_, value_axis(seen.low, seen.high), kLow);
    const std::string dawn = words_("window.dawn.label"), afternoon = words_("window.afternoon.label");
    const std::string apart = words_("charts.key.apart");
    plot.begin(title,
               said(pairs.dawn, unit, decimals, dawn) + said(pairs.afternoon, unit, decimals, afternoon) +
                   said(pairs.apart, unit, decimals, apart),
               unit_of(unit));
    plot.values();
    plot.days();
    stages(plot);
    for (const auto& [limit, id] : limits) plot.level_line(time_.from, time_.until, limit, "limit");
    joined_lines(plot, pairs.dawn, pairs.gap_days, "dawn");
    joined_lines(plot, pairs.afternoon, pairs.gap_days, "afternoon");
    marks(plot, pairs.apart, MarkShape::cross, "apart");
    marks(plot, pairs.dawn, MarkShape::dot, "dawn");
    marks(plot, pairs.afternoon, MarkShape::square, "afternoon");
    plot.end_picture();
    plot.key(MarkShape::dot, "dawn", dawn);
    plot.key(MarkShape::square, "afternoon", afternoon);
    if (!pairs.apart.empty()) plot.key(MarkShape::cross, "", apart);
    if (!limits.empty()) plot.key(std::nullopt, "limit", words_(limits.front().second));
    plot.end();
  }

  // A measure that the protocol does not pair: dawn and afternoon are the readings that count for oxygen or pH.
  Pairs of_water(std::optional<double> WaterReading::*measure) const {
    std::set<Instant> dawn, afternoon;
    for (const PairedSeries* series : {&series_.oxygen, &series_.ph}) {
      for (const PairedDay& day : series->days) {
        if (day.dawn) dawn.insert(day.dawn->at);
        if (day.afternoon) afternoon.insert(day.afternoon->at);
      }
    }
    Pairs pairs;
    pairs.gap_days = series_.oxygen.gap_days;
    for (const WaterReading& reading : record_.history().water) {
      if (reading.at > record_.until) break;
      const std::optional<double>& value = reading.*measure;
      if (!value) continue;
      const SeriesReading one{reading.at, *value, reading.entry->who};
      (dawn.count(reading.at) > 0        ? pairs.dawn
       : afternoon.count(reading.at) > 0 ? pairs.afternoon
                                         : pairs.apart)
          .push_back(one);
    }
    return pairs;
  }

  void secchi() {
    const SecchiSeries& secchi = series_.secchi;
    if (secchi.days.empty() && secchi.apart.empty() && secchi.doses.empty()) return;
    Seen seen;
    std::vector<SeriesReading> days;
    for (const SecchiDepth& day : secchi.days) days.push_back({day.at, day.secchi_cm, day.who});
    for (const SeriesReading& reading : days) seen.add(reading.value);
    for (const SeriesReading& reading : secchi.apart) seen.add(reading.value);
    for (const SecchiBand& band : secchi.bands) {
      seen.add(band.low_cm);
      seen.add(band.high_cm);
    }
    // Room for the doses above the deepest depth.
    seen.add(seen.high + 12);
    Plot plot(out_, "secchi", time_, value_axis(std::min(seen.low, 30.0), seen.high), kTall + 12);
    std::string about = said(days, "cm", 0, words_("charts.key.secchi"));
    double sum_kg = 0;
    for (const DoseGiven& dose : secchi.doses) sum_kg += dose.product_kg;
    if (!secchi.doses.empty()) {
      about += words_(Message("charts.said.doses")
                          .with("count", bare(secchi.doses.size()))
                          .with("kg", Quantity{sum_kg, 1, "kg"}));
    }
    plot.begin(words_("charts.secchi"), about, unit_of("cm"));
    for (const SecchiBand& band : secchi.bands) plot.band(band.from, band.until, band.low_cm, band.high_cm);
    plot.values();
    plot.days();
    stages(plot);
    for (const DoseGiven& dose : secchi.doses) plot.upright(dose.at, "", "dose_line");
    joined_lines(plot, days, secchi.gap_days, "dawn");
    marks(plot, secchi.apart, MarkShape::cross, "apart");
    bool deeper = false;
    for (const SecchiDepth& day : secchi.days) {
      deeper = deeper || day.more_than;
      plot.mark(day.at, day.secchi_cm, day.more_than ? MarkShape::triangle : MarkShape::dot,
                day.more_than ? "afternoon" : "dawn");
    }
    for (const DoseGiven& dose : secchi.doses) {
      plot.mark_on_top(dose.at, MarkShape::dose, words_.quantity({dose.product_kg, 1, "kg"}));
    }
    plot.end_picture();
    plot.key(MarkShape::dot, "dawn", words_("charts.key.secchi"));
    if (deeper) plot.key(MarkShape::triangle, "", words_("charts.key.deeper"));
    if (!secchi.apart.empty()) plot.key(MarkShape::cross, "", words_("charts.key.apart"));
    if (!secchi.bands.empty()) plot.key(std::nullopt, "band", words_("charts.key.band"));
    if (!secchi.doses.empty()) plot.key(MarkShape::dose, "dose", words_("charts.key.dose"));
    plot.end();
  }

  // One disc a day, the last look at the sky: empty, half full or full, as the sky is covered.
  void sky() {
    std::map<CivilDay, Sky> days;
    for (const SkyLook& look : record_.history().skies) {
      if (look.at <= record_.until) days.insert_or_assign(civil_day(look.at, record_.offset()), look.sky);
    }
    if (days.empty()) return;
    std::map<Sky, std::size_t> counts;
    for (const auto& [day, sky] : days) ++counts[sky];
    std::string about;
    for (const auto& [sky, count] : counts) {
      about += words_(Message("report.chart.sky")
                          .with("sky", Word{"sky." + std::string(name_of(sky))})
                          .with("count", bare(count))) +
               " ";
    }
    Plot plot(out_, "sky", time_, ValueAxis{0, 1, 2, 0}, kSky);
    plot.begin(words_("key.sky"), about, "");
    plot.days();
    constexpr int kNoon_s = 12 * 3600;
    const double day_width = plot.x(time_.from.plus_h(24)) - plot.x(time_.from);
    const double radius = std::min(5.0, 0.4 * day_width);
    for (const auto& [day, sky] : days) {
      disc(plot.x(instant_at(day, kNoon_s, record_.offset())), plot.y(0.5), radius, sky);
    }
    plot.end_picture();
    out_.open("figcaption");
    for (const Sky sky : {Sky::bright, Sky::mixed, Sky::dull}) {
      out_.open("span", "key").open("svg").attribute("xmlns", "http://www.w3.org/2000/svg");
      out_.attribute("viewBox", "0 0 12 12").attribute("class", "small").attribute("aria-hidden", "true");
      disc(6, 6, 5, sky);
      out_.close().text(" " + words_("sky." + std::string(name_of(sky)))).close();
    }
    out_.close();
    plot.end();
  }

  void disc(double x, double y, double radius, Sky sky) {
    const std::string r = coordinate(radius);
    out_.empty_element("circle").attribute("class", sky == Sky::dull ? "covered" : "open_sky");
    out_.attribute("cx", coordinate(x)).attribute("cy", coordinate(y)).attribute("r", r);
    if (sky != Sky::mixed) return;
    out_.empty_element("path").attribute("class", "covered");
    out_.attribute("d", "M" + coordinate(x) + "," + coordinate(y - radius) + " A" + r + "," + r + " 0 0 1 " +
                            coordinate(x) + "," + coordinate(y + radius) + " Z");
  }

  Markup& out_;
  const Words& words_;
  const Record& record_;
  PondSeries series_;
  TimeAxis time_;
};

}  // namespace

void write_charts(Markup& out, const Record& record) {
  // On one page together: they share a time axis.
  out.open("section", "keep").open("h2").say("charts.title").close();
  Charts(out, record).write();
  out.close();
}

}  // namespace tawny
