#include "ui/screens/reckon_answer.h"

#include <algorithm>
#include <cmath>

#include "ui/drawings/plot.h"
#include "ui/screens/parts.h"
#include "ui/screens/reckon_sheet.h"

namespace tawny::ui {
namespace {

constexpr float kCurveHeight = 128;
constexpr std::size_t kMostNotices = 2;

std::string label_of(const Words& words, std::string_view key) {
  return words("parameter." + std::string(key));
}

std::string bare_word(const Words& words, const ReckonResult& result, const ReckonValue& value) {
  if (const double* number = std::get_if<double>(&value)) return words.number(*number, result.decimals);
  if (const bool* flag = std::get_if<bool>(&value)) return words(*flag ? "reckon.yes" : "reckon.no");
  const std::string* text = std::get_if<std::string>(&value);
  if (text == nullptr) return {};
  return result.kind == ReckonResult::Kind::choice ? capitalised(words("reckon.choice." + *text)) : *text;
}

// A key carries its unit: "inflow_l_s" is in "l_s".
std::string unit_of(const Words& words, const Reckoning& reckoning, std::string_view key) {
  if (const ReckonResult* result = reckoning.result(key)) return std::string(result->unit);
  for (std::size_t at = key.find('_'); at != std::string_view::npos; at = key.find('_', at + 1)) {
    const std::string unit(key.substr(at + 1));
    if (words.has("unit." + unit)) return unit;
  }
  return {};
}

std::string figure(const Words& words, double value, const std::string& unit) {
  const int decimals = decimals_needed(std::round(100 * value) / 100, 2);
  return words.quantity(Quantity{value, decimals, unit});
}

// Each column over the first.
void draw_series(Ui& ui, const Reckoning& reckoning, const std::string& id, const ReckonSeries& series) {
  const Words& words = ui.words();
  if (series.rows.size() < 2) return;
  const std::string over_unit = unit_of(words, reckoning, series.columns.front());
  for (std::size_t column = 1; column < series.columns.size(); ++column) {
    const std::string key(series.columns[column]);
    const std::string unit = unit_of(words, reckoning, key);
    PlotPoints points;
    for (const std::vector<double>& row : series.rows) points.emplace_back(row[0], row[column]);
    const auto by_height = [](const auto& a, const auto& b) { return a.second < b.second; };
    const auto [lowest, highest] = std::minmax_element(points.begin(), points.end(), by_height);
    const std::string low = figure(words, lowest->second, unit);
    const std::string high = figure(words, highest->second, unit);
    const std::string from = figure(words, points.front().first, over_unit);
    const std::string until = figure(words, points.back().first, over_unit);
    const std::string title = label_of(words, key);
    const std::string name = words(Message("reckon.curve")
                                       .with("what", Text{title})
                                       .with("low", Text{low})
                                       .with("high", Text{high})
                                       .with("from", Text{from})
                                       .with("until", Text{until}));
    ui.gap(16);
    ui.text(id + "/" + key + "/title", title, TextSize::body, Tone::quiet);
    Plot plot;
    plot.up = ends_axis(lowest->second, highest->second, low, high);
    plot.across = ends_axis(points.front().first, points.back().first, from, until);
    plot.lines.push_back({std::move(points), ui.theme().open, PlotStroke::strong, {}});
    draw_plot(ui, ui.picture(id + "/" + key, name, kCurveHeight), plot);
  }
}

void draw_notes(Ui& ui, const std::vector<Message>& notes) {
  const Words& words = ui.words();
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const std::string id = "reckon/note/" + std::to_string(i + 1);
    if (notes.size() <= kMostNotices) {
      ui.notice(id, Tone::warn, words(notes[i]));
    } else {
      ui.point(id, words(notes[i]));
    }
  }
}

}  // namespace

std::string result_word(const Words& words, const ReckonResult& result, const ReckonValue& value) {
  const double* number = std::get_if<double>(&value);
  if (number == nullptr || result.unit.empty()) return bare_word(words, result, value);
  return words.quantity(Quantity{*number, result.decimals, std::string(result.unit)});
}

void draw_reckon_answer(Ui& ui, const Reckoning& reckoning, const ReckonAnswer& answer) {
  const Words& words = ui.words();
  ui.begin_card("reckon/answer");
  bool first = true;
  for (const ReckonResult& result : reckoning.results) {
    const ReckonValue* value = answer.result(result.key);
    if (value == nullptr) continue;
    const std::string key(result.key);
    const std::string id = "reckon/result/" + key;
    if (const ReckonSeries* series = std::get_if<ReckonSeries>(value)) {
      draw_series(ui, reckoning, id, *series);
    } else if (first) {
      ui.number(id, label_of(words, key), bare_word(words, result, *value),
                result.unit.empty() ? std::string() : words.unit(result.unit), Tone::act);
    } else {
      ui.fact(id, label_of(words, key), result_word(words, result, *value));
    }
    first = false;
  }
  ui.end_card();
  if (answer.notes.empty()) return;
  ui.gap(16);
  draw_notes(ui, answer.notes);
}

void draw_reckon_source(Ui& ui, const Reckoning& reckoning) {
  ui.gap();
  ui.text("reckon/source",
          ui.words()(Message("reckon.source").with("source", Text{std::string(reckoning.source)})),
          TextSize::body, Tone::quiet);
}

}  // namespace tawny::ui
