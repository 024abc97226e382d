// The charts of a pond in words.
#include <algorithm>
#include <cmath>

#include "ui/screens/chart_plots.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

// How the values of a chart are said.
struct Manner {
  std::string unit;
  int decimals;
  Quantity operator()(double value) const { return {value, decimals, unit}; }
};

Manner manner_of(ChartOf chart) {
  if (chart == ChartOf::oxygen) return {"mg_l", 1};
  if (chart == ChartOf::ph || chart == ChartOf::salinity) return {"", 1};
  if (chart == ChartOf::temperature) return {"c", 1};
  return {"cm", 0};
}

struct Told {
  CivilDay day;
  double value = 0;
};

// "14 readings from 3.9 to 5.2, the last one 4.6 yesterday", by the sentence of this id.
std::string readings_sentence(std::string_view id, const std::vector<Told>& told, const Manner& manner,
                              const Words& words) {
  if (told.empty()) return {};
  double low = told.front().value, high = low;
  for (const Told& one : told) {
    low = std::min(low, one.value);
    high = std::max(high, one.value);
  }
  return words(Message(id)
                   .with("count", bare(told.size()))
                   .with("low", manner(low))
                   .with("high", manner(high))
                   .with("last", manner(told.back().value))
                   .with("day", Text{words.on_day(told.back().day)}));
}

void append(std::string& text, const std::string& sentence) {
  if (sentence.empty()) return;
  if (!text.empty()) text += " ";
  text += sentence;
}

std::vector<Told> dawns_of(const PairedSeries& pairs, const ChartTime& time, bool dawn) {
  std::vector<Told> told;
  for (const PairedDay& day : pairs.days) {
    const std::optional<SeriesReading>& one = dawn ? day.dawn : day.afternoon;
    if (one && time.holds(day.day)) told.push_back({day.day, one->value});
  }
  return told;
}

std::string pairs_summary(ChartOf chart, const PairedSeries& pairs, const PondSeries& series,
                          const ChartTime& time, const Words& words) {
  const Manner manner = manner_of(chart);
  const std::string id = "charts.said." + std::string(name_of(chart));
  std::string text = readings_sentence(id + ".dawn", dawns_of(pairs, time, true), manner, words);
  append(text, readings_sentence(id + ".afternoon", dawns_of(pairs, time, false), manner, words));
  append(text, trend_of(chart, series, time, words));
  const auto apart = std::count_if(pairs.apart.begin(), pairs.apart.end(),
                                   [&](const SeriesReading& one) { return time.holds(one.at); });
  if (apart > 0) append(text, words(Message("charts.said.apart").with("count", bare(apart))));
  return text;
}

std::string secchi_summary(const PondSeries& series, const ChartTime& time, const Words& words) {
  std::vector<Told> told;
  for (const SecchiDepth& day : series.secchi.days) {
    if (time.holds(day.day)) told.push_back({day.day, day.secchi_cm});
  }
  std::string text = readings_sentence("charts.said.secchi", told, manner_of(ChartOf::secchi), words);
  const auto bottom = std::count_if(series.secchi.days.begin(), series.secchi.days.end(),
                                    [&](const auto& day) { return day.more_than && time.holds(day.day); });
  if (bottom > 0) append(text, words(Message("charts.said.bottom").with("count", bare(bottom))));
  for (auto band = series.secchi.bands.rbegin(); band != series.secchi.bands.rend(); ++band) {
    if (band->until < time.from || band->from > time.until) continue;
    append(text, words(Message("charts.said.band")
                           .with("low", Quantity{band->low_cm, 0, "cm"})
                           .with("high", Quantity{band->high_cm, 0, "cm"})));
    break;
  }
  int doses = 0;
  double product_kg = 0;
  for (const DoseGiven& dose : series.secchi.doses) {
    if (!time.holds(dose.at)) continue;
    ++doses;
    product_kg += dose.product_kg;
  }
  if (doses > 0) {
    append(
        text,
        words(
            Message("charts.said.doses").with("count", bare(doses)).with("kg", Quantity{product_kg, 0, "kg"})));
  }
  return text;
}

std::string level_summary(const PondSeries& series, const ChartTime& time, const Words& words) {
  std::vector<Told> told;
  for (const SeriesReading& reading : series.level.readings) {
    if (time.holds(reading.at)) told.push_back({civil_day(reading.at, time.offset), reading.value});
  }
  std::string text = readings_sentence("charts.said.level", told, manner_of(ChartOf::level), words);
  const LevelSeries& level = series.level;
  if (!level.planned.empty()) {
    const PlannedLevel& planned = level.planned.back();
    append(text, words(Message("charts.said.plan")
                           .with("low", Quantity{planned.low_cm, 0, "cm"})
                           .with("high", Quantity{planned.high_cm, 0, "cm"})));
  }
  if (level.next) {
    append(text, words(Message("charts.said.next")
                           .with("stage", Text{stage_word(words, level.next->fill)})
                           .with("level", Quantity{level.next->aim_cm, 0, "cm"})));
  }
  return text;
}

std::string salinity_summary(const PondSeries& series, const ChartTime& time, const Words& words) {
  std::vector<Told> told;
  for (const SeriesReading& reading : series.salinity.readings) {
    if (time.holds(reading.at)) told.push_back({civil_day(reading.at, time.offset), reading.value});
  }
  return readings_sentence("charts.said.salinity", told, manner_of(ChartOf::salinity), words);
}

std::string sky_summary(const PondSeries& series, const ChartTime& time, const Words& words) {
  std::size_t days[3] = {};
  for (const SkySeen& seen : series.sky) {
    if (time.holds(seen.day)) ++days[static_cast<std::size_t>(seen.sky)];
  }
  const std::size_t count = days[0] + days[1] + days[2];
  if (count == 0) return {};
  return words(Message("charts.said.sky")
                   .with("count", bare(count))
                   .with("bright", bare(days[static_cast<std::size_t>(Sky::bright)]))
                   .with("mixed", bare(days[static_cast<std::size_t>(Sky::mixed)]))
                   .with("dull", bare(days[static_cast<std::size_t>(Sky::dull)])));
}

std::string with_who(const Words& words, const std::string& what, Instant at, const std::string& who) {
  if (who.empty()) {
    return words(Message("charts.at").with("what", Text{what}).with("clock", Text{words.clock(at)}));
  }
  return words(Message("charts.at_by")
                   .with("what", Text{what})
                   .with("clock", Text{words.clock(at)})
                   .with("who", Text{who}));
}

std::string secchi_said(const SecchiDepth& day, const Words& words) {
  return words(Message(day.more_than ? "charts.day.deeper" : "charts.day.secchi")
                   .with("depth", Quantity{day.secchi_cm, 0, "cm"}));
}

std::string sky_said(const SkySeen& seen, const Words& words) {
  return words(Message("charts.day.sky").with("sky", Word{"sky." + std::string(name_of(seen.sky))}));
}

std::string salinity_said(const SeriesReading& reading, const Words& words) {
  return words(Message("charts.day.salinity").with("salinity", manner_of(ChartOf::salinity)(reading.value)));
}

std::string dose_said(const DoseGiven& dose, const Words& words) {
  return words(Message("charts.day.dose").with("kg", Quantity{dose.product_kg, 0, "kg"}));
}

std::string apart_said(const Manner& manner, const SeriesReading& reading, const Words& words) {
  return words(Message("charts.day.apart").with("value", manner(reading.value)));
}

template <typename Say>
void each_apart(const std::vector<SeriesReading>& apart, const ChartTime& time, CivilDay day, Say say) {
  for (const SeriesReading& reading : apart) {
    if (civil_day(reading.at, time.offset) == day) say(reading);
  }
}

}  // namespace

std::string trend_of(ChartOf chart, const PondSeries& series, const ChartTime& time, const Words& words) {
  // How far water warms in a day is the weather's.
  if (chart != ChartOf::oxygen && chart != ChartOf::ph) return {};
  const PairedSeries& pairs = *pairs_of(chart, series);
  const PairedDay* first = nullptr;
  const PairedDay* last = nullptr;
  for (const PairedDay& day : pairs.days) {
    if (!day.swing() || !time.holds(day.day)) continue;
    if (first == nullptr) first = &day;
    last = &day;
  }
  if (last == nullptr) return {};
  const Manner manner = manner_of(chart);
  const std::string day = words.on_day(last->day);
  const auto trend = swing_trend_per_day(pairs, time.first(), time.last());
  if (!trend) {
    return words(Message("charts.swing").with("swing", manner(*last->swing())).with("day", Text{day}));
  }
  // One decimal more than the readings: a trend is small.
  const double shown = std::abs(*trend);
  const double least = 0.5 * std::pow(10.0, -manner.decimals - 1);
  const char* id = shown < least ? "charts.swing.steady"
                   : *trend > 0  ? "charts.swing.grows"
                                 : "charts.swing.shrinks";
  Message message(id);
  message.with("swing", manner(*last->swing()))
      .with("day", Text{day})
      .with("count", bare(last->day.days - first->day.days + 1));
  if (shown >= least) message.with("trend", Quantity{shown, manner.decimals + 1, manner.unit});
  return words(message);
}

std::string summary_of(ChartOf chart, const PondSeries& series, const ChartTime& time, const Words& words) {
  std::string text;
  if (const PairedSeries* pairs = pairs_of(chart, series)) {
    text = pairs_summary(chart, *pairs, series, time, words);
  } else if (chart == ChartOf::secchi) {
    text = secchi_summary(series, time, words);
  } else if (chart == ChartOf::level) {
    text = level_summary(series, time, words);
  } else {
    text =
        chart == ChartOf::salinity ? salinity_summary(series, time, words) : sky_summary(series, time, words);
  }
  return text.empty() ? words("charts.nothing") : text;
}

std::vector<CivilDay> days_of(ChartOf chart, const PondSeries& series, const ChartTime& time) {
  std::vector<CivilDay> days;
  const auto take_day = [&](CivilDay day) {
    if (time.holds(day)) days.push_back(day);
  };
  const auto take = [&](const std::vector<SeriesReading>& readings) {
    for (const SeriesReading& reading : readings) {
      if (time.holds(reading.at)) days.push_back(civil_day(reading.at, time.offset));
    }
  };
  if (const PairedSeries* pairs = pairs_of(chart, series)) {
    for (const PairedDay& day : pairs->days) take_day(day.day);
    take(pairs->apart);
  } else if (chart == ChartOf::salinity) {
    take(series.salinity.readings);
  } else if (chart == ChartOf::sky) {
    for (const SkySeen& seen : series.sky) take_day(seen.day);
  } else if (chart == ChartOf::secchi) {
    for (const SecchiDepth& day : series.secchi.days) take_day(day.day);
    take(series.secchi.apart);
    for (const DoseGiven& dose : series.secchi.doses) {
      if (time.holds(dose.at)) days.push_back(civil_day(dose.at, time.offset));
    }
  } else {
    take(series.level.readings);
  }
  std::sort(days.begin(), days.end());
  days.erase(std::unique(days.begin(), days.end()), days.end());
  return days;
}

std::vector<std::string> day_in_full(ChartOf chart, const PondSeries& series, const ChartTime& time,
                                     CivilDay day, const Words& words) {
  std::vector<std::string> lines;
  const Manner manner = manner_of(chart);
  const auto say = [&](const std::string& what, Instant at, const std::string& who) {
    lines.push_back(with_who(words, what, at, who));
  };
  if (const PairedSeries* pairs = pairs_of(chart, series)) {
    for (const PairedDay& one : pairs->days) {
      if (one.day != day) continue;
      if (one.dawn) {
        say(words(Message("charts.day.dawn").with("value", manner(one.dawn->value))), one.dawn->at,
            one.dawn->who);
      }
      if (one.afternoon) {
        say(words(Message("charts.day.afternoon").with("value", manner(one.afternoon->value))),
            one.afternoon->at, one.afternoon->who);
      }
      if (one.swing()) lines.push_back(words(Message("charts.day.swing").with("value", manner(*one.swing()))));
    }
    each_apart(pairs->apart, time, day,
               [&](const SeriesReading& one) { say(apart_said(manner, one, words), one.at, one.who); });
  } else if (chart == ChartOf::salinity) {
    each_apart(series.salinity.readings, time, day,
               [&](const SeriesReading& one) { say(salinity_said(one, words), one.at, one.who); });
  } else if (chart == ChartOf::sky) {
    for (const SkySeen& seen : series.sky) {
      if (seen.day == day) say(sky_said(seen, words), seen.at, seen.who);
    }
  } else if (chart == ChartOf::secchi) {
    for (const SecchiDepth& one : series.secchi.days) {
      if (one.day == day) say(secchi_said(one, words), one.at, one.who);
    }
    each_apart(series.secchi.apart, time, day,
               [&](const SeriesReading& one) { say(apart_said(manner, one, words), one.at, one.who); });
    for (const DoseGiven& dose : series.secchi.doses) {
      if (civil_day(dose.at, time.offset) == day) say(dose_said(dose, words), dose.at, dose.who);
    }
  } else {
    each_apart(series.level.readings, time, day, [&](const SeriesReading& one) {
      say(words(Message("charts.day.level").with("level", manner(one.value))), one.at, one.who);
    });
  }
  return lines;
}

std::vector<std::string> day_in_short(ChartOf chart, const PondSeries& series, const ChartTime& time,
                                      CivilDay day, const Words& words) {
  std::vector<std::string> lines;
  const Manner manner = manner_of(chart);
  if (const PairedSeries* pairs = pairs_of(chart, series)) {
    const std::string id = "charts.row." + std::string(name_of(chart));
    for (const PairedDay& one : pairs->days) {
      if (one.day != day) continue;
      Message message(id + (one.swing() ? "" : one.dawn ? ".dawn" : ".afternoon"));
      if (one.dawn) message.with("dawn", manner(one.dawn->value));
      if (one.afternoon) message.with("afternoon", manner(one.afternoon->value));
      if (one.swing()) message.with("swing", manner(*one.swing()));
      lines.push_back(words(message));
    }
    each_apart(pairs->apart, time, day, [&](const SeriesReading& one) {
      lines.push_back(words(
          Message(id + ".apart").with("value", manner(one.value)).with("clock", Text{words.clock(one.at)})));
    });
    return lines;
  }
  if (chart == ChartOf::secchi) {
    for (const SecchiDepth& one : series.secchi.days) {
      if (one.day == day) lines.push_back(secchi_said(one, words));
    }
    each_apart(series.secchi.apart, time, day, [&](const SeriesReading& one) {
      lines.push_back(words(Message("charts.row.secchi.apart")
                                .with("value", manner(one.value))
                                .with("clock", Text{words.clock(one.at)})));
    });
    for (const DoseGiven& dose : series.secchi.doses) {
      if (civil_day(dose.at, time.offset) == day) lines.push_back(dose_said(dose, words));
    }
    return lines;
  }
  if (chart == ChartOf::salinity) {
    each_apart(series.salinity.readings, time, day,
               [&](const SeriesReading& one) { lines.push_back(salinity_said(one, words)); });
    return lines;
  }
  if (chart == ChartOf::sky) {
    for (const SkySeen& seen : series.sky) {
      if (seen.day == day) lines.push_back(sky_said(seen, words));
    }
    return lines;
  }
  each_apart(series.level.readings, time, day, [&](const SeriesReading& one) {
    lines.push_back(words(Message("charts.day.level").with("level", manner(one.value))));
  });
  return lines;
}

std::string day_in_brief(ChartOf chart, const PondSeries& series, const ChartTime& time, CivilDay day,
                         const Words& words) {
  std::string brief;
  const auto add = [&](const std::string& part) { brief += (brief.empty() ? "" : " \u00b7 ") + part; };
  const PairedSeries* pairs = pairs_of(chart, series);
  if (pairs == nullptr) {
    for (const std::string& line : day_in_short(chart, series, time, day, words)) add(line);
    return brief;
  }
  const Manner manner = manner_of(chart);
  for (const PairedDay& one : pairs->days) {
    if (one.day != day) continue;
    if (one.dawn) add(words(Message("charts.day.dawn").with("value", manner(one.dawn->value))));
    if (one.afternoon) add(words(Message("charts.day.afternoon").with("value", manner(one.afternoon->value))));
    if (one.swing()) add(words(Message("charts.day.swing").with("value", manner(*one.swing()))));
  }
  each_apart(pairs->apart, time, day, [&](const SeriesReading& one) { add(apart_said(manner, one, words)); });
  return brief;
}

}  // namespace tawny::ui
