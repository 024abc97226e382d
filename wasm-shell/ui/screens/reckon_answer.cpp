#include "ui/screens/reckon_answer.h"

#include <algorithm>

#include "ui/drawings/drawings.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr float kCurveHeight = 112;
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

// Each column over the first.
void draw_series(Ui& ui, const std::string& id, const ReckonSeries& series) {
  const Words& words = ui.words();
  if (series.rows.size() < 2) return;
  for (std::size_t column = 1; column < series.columns.size(); ++column) {
    Curve curve;
    for (const std::vector<double>& row : series.rows) curve.points.emplace_back(row[0], row[column]);
    const auto by_height = [](const auto& a, const auto& b) { return a.second < b.second; };
    const auto [lowest, highest] = std::minmax_element(curve.points.begin(), curve.points.end(), by_height);
    const std::string key(series.columns[column]);
    curve.low = words.number(lowest->second, 2);
    curve.high = words.number(highest->second, 2);
    curve.from = words.number(curve.points.front().first, 1);
    curve.until = words.number(curve.points.back().first, 1);
    const std::string title = words(Message("reckon.curve")
                                        .with("what", Text{label_of(words, key)})
                                        .with("over", Text{label_of(words, series.columns.front())}));
    const std::string name = words(Message("reckon.curve.name")
                                       .with("title", Text{title})
                                       .with("low", Text{curve.low})
                                       .with("high", Text{curve.high}));
    ui.gap();
    ui.text(id + "/" + key + "/title", title, TextSize::body, Tone::quiet);
    draw_curve(ui, ui.picture(id + "/" + key, name, kCurveHeight), curve);
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
      draw_series(ui, id, *series);
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
