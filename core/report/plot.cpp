#include "report/plot.h"

#include <algorithm>
#include <cmath>

#include "base/decimal.h"

namespace tawny {
namespace {

constexpr int kMostDayLabels = 12;
constexpr int kDaySteps[] = {1, 2, 5, 7, 14, 28, 56, 112, 365};

}  // namespace

std::string coordinate(double value) {
  std::string text = format_decimal(value, 2);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

TimeAxis time_axis(Instant first, Instant last, UtcOffset offset) {
  return {instant_at(civil_day(first, offset), 0, offset),
          instant_at(civil_day(std::max(first, last), offset).plus(1), 0, offset), offset};
}

ValueAxis value_axis(double low, double high) {
  const double span = std::max(high - low, 1e-6 + 0.02 * std::fabs(high));
  const double tenth = std::pow(10.0, std::floor(std::log10(span / 4)));
  double step = tenth;
  for (const double times : {1.0, 2.0, 5.0, 10.0}) {
    step = times * tenth;
    if (span / step <= 5) break;
  }
  ValueAxis axis;
  axis.step = step;
  axis.low = std::floor(low / step) * step;
  axis.high = std::ceil(high / step) * step;
  if (axis.high - axis.low < step / 2) axis.high = axis.low + step;
  axis.decimals = std::clamp(static_cast<int>(std::ceil(-std::log10(step) - 1e-9)), 0, 3);
  return axis;
}

Plot::Plot(Markup& out, std::string_view name, const TimeAxis& time, const ValueAxis& values, double height)
    : out_(out), name_(name), time_(time), values_(values), height_(height) {}

double Plot::x(Instant at) const {
  const double all_s = static_cast<double>(time_.until.unix_s - time_.from.unix_s);
  const double share = static_cast<double>(at.unix_s - time_.from.unix_s) / all_s;
  return kLeft + std::clamp(share, 0.0, 1.0) * (kWidth - kLeft - kRight);
}

double Plot::y(double value) const {
  const double share = (value - values_.low) / (values_.high - values_.low);
  return height_ - kBottom - std::clamp(share, 0.0, 1.0) * (height_ - kTop - kBottom);
}

void Plot::begin(std::string_view title, std::string_view description, std::string_view unit) {
  out_.open("figure", "chart");
  out_.open("svg").attribute("xmlns", "http://www.w3.org/2000/svg");
  out_.attribute("viewBox", "0 0 " + coordinate(kWidth) + " " + coordinate(height_)).attribute("role", "img");
  out_.attribute("aria-labelledby", "chart-" + name_ + "-title chart-" + name_ + "-about");
  out_.open("title").attribute("id", "chart-" + name_ + "-title").text(title).close();
  out_.open("desc").attribute("id", "chart-" + name_ + "-about").text(description).close();
  out_.open("text", "name").attribute("x", "0").attribute("y", "10").text(title);
  if (!unit.empty()) out_.text(", " + std::string(unit));
  out_.close();
}

void Plot::values() {
  const Words& words = out_.words();
  for (double value = values_.low; value <= values_.high + values_.step / 2; value += values_.step) {
    level_line(time_.from, time_.until, value, "grid");
    out_.open("text", "value_label").attribute("x", coordinate(kLeft - 4));
    out_.attribute("y", coordinate(y(value) + 3)).attribute("text-anchor", "end");
    out_.text(words.number(value, values_.decimals)).close();
  }
}

void Plot::days() {
  const Words& words = out_.words();
  const CivilDay first = civil_day(time_.from, time_.offset), end = civil_day(time_.until, time_.offset);
  int step = 1;
  for (const int days : kDaySteps) {
    step = days;
    if ((end.days - first.days) / days < kMostDayLabels) break;
  }
  for (CivilDay day = first; day < end; day = day.plus(step)) {
    const double at = x(instant_at(day, 0, time_.offset));
    out_.empty_element("line").attribute("class", "tick").attribute("x1", coordinate(at));
    out_.attribute("x2", coordinate(at)).attribute("y1", coordinate(height_ - kBottom));
    out_.attribute("y2", coordinate(height_ - kBottom + 4));
    const YearMonthDay date = year_month_day(day);
    out_.open("text", "day_label").attribute("x", coordinate(at + 2));
    out_.attribute("y", coordinate(height_ - kBottom + 12));
    out_.text(words(Message("day.of_this_year")
                        .with("day", bare(date.day))
                        .with("month", Word{"month." + std::to_string(date.month)})));
    out_.close();
  }
}

void Plot::upright(Instant at, std::string_view label, std::string_view classes) {
  const std::string where = coordinate(x(at));
  out_.empty_element("line").attribute("class", classes).attribute("x1", where).attribute("x2", where);
  out_.attribute("y1", coordinate(kTop - 9)).attribute("y2", coordinate(height_ - kBottom));
  if (label.empty()) return;
  out_.open("text", "stage_label").attribute("x", coordinate(x(at) + 2)).attribute("y", coordinate(kTop - 2));
  out_.text(label).close();
}

void Plot::band(Instant from, Instant until, double low, double high) {
  const double left = x(from), right = x(until), top = y(high), bottom = y(low);
  out_.empty_element("rect").attribute("class", "band").attribute("x", coordinate(left));
  out_.attribute("y", coordinate(top)).attribute("width", coordinate(right - left));
  out_.attribute("height", coordinate(bottom - top));
  for (const double edge : {low, high}) level_line(from, until, edge, "band_edge");
}

void Plot::level_line(Instant from, Instant until, double value, std::string_view classes) {
  const std::string height = coordinate(y(value));
  out_.empty_element("line").attribute("class", classes).attribute("x1", coordinate(x(from)));
  out_.attribute("x2", coordinate(x(until))).attribute("y1", height).attribute("y2", height);
}

void Plot::line(const std::vector<std::pair<Instant, double>>& points, std::string_view classes) {
  if (points.size() < 2) return;
  std::string path;
  for (const auto& [at, value] : points) {
    path += (path.empty() ? "" : " ") + coordinate(x(at)) + "," + coordinate(y(value));
  }
  out_.empty_element("polyline").attribute("class", "line " + std::string(classes)).attribute("points", path);
  out_.attribute("fill", "none");
}

void Plot::mark(Instant at, double value, MarkShape shape, std::string_view classes) {
  draw(x(at), y(value), shape, classes);
}

void Plot::mark_on_top(Instant at, MarkShape shape, std::string_view label) {
  draw(x(at), kTop + 5, shape, "dose");
  out_.open("text", "dose_label").attribute("x", coordinate(x(at) + 6)).attribute("y", coordinate(kTop + 8));
  out_.text(label).close();
}

void Plot::draw(double x, double y, MarkShape shape, std::string_view classes) {
  const auto at = [](double ax, double ay) { return coordinate(ax) + "," + coordinate(ay); };
  switch (shape) {
    case MarkShape::dot:
      out_.empty_element("circle").attribute("class", classes);
      out_.attribute("cx", coordinate(x)).attribute("cy", coordinate(y)).attribute("r", "2.4");
      break;
    case MarkShape::square:
      out_.empty_element("rect").attribute("class", classes).attribute("x", coordinate(x - 2.4));
      out_.attribute("y", coordinate(y - 2.4)).attribute("width", "4.8").attribute("height", "4.8");
      break;
    case MarkShape::cross:
      out_.empty_element("path").attribute("class", classes).attribute("fill", "none");
      out_.attribute("d", "M" + at(x - 2.4, y - 2.4) + " L" + at(x + 2.4, y + 2.4) + " M" +
                              at(x - 2.4, y + 2.4) + " L" + at(x + 2.4, y - 2.4));
      break;
    case MarkShape::triangle:
      out_.empty_element("polygon").attribute("class", classes);
      out_.attribute("points", at(x - 3.2, y + 2.6) + " " + at(x + 3.2, y + 2.6) + " " + at(x, y - 3.2));
      break;
    case MarkShape::dose:
      out_.empty_element("polygon").attribute("class", classes);
      out_.attribute("points", at(x - 4.4, y - 4) + " " + at(x + 4.4, y - 4) + " " + at(x, y + 4));
      break;
  }
}

void Plot::end_picture() { out_.close(); }

void Plot::key(std::optional<MarkShape> shape, std::string_view line_classes, std::string_view words) {
  if (!has_keys_) out_.open("figcaption");
  has_keys_ = true;
  out_.open("span", "key").open("svg").attribute("xmlns", "http://www.w3.org/2000/svg");
  out_.attribute("viewBox", "0 0 24 10").attribute("aria-hidden", "true");
  if (line_classes == "band") {
    out_.empty_element("rect").attribute("class", "band").attribute("x", "0").attribute("y", "1");
    out_.attribute("width", "24").attribute("height", "8");
    for (const std::string_view edge : {"1", "9"}) {
      out_.empty_element("line").attribute("class", "band_edge").attribute("x1", "0").attribute("x2", "24");
      out_.attribute("y1", edge).attribute("y2", edge);
    }
  } else if (!line_classes.empty()) {
    out_.empty_element("line").attribute("class", "line " + std::string(line_classes)).attribute("x1", "0");
    out_.attribute("x2", "24").attribute("y1", "5").attribute("y2", "5");
  }
  if (shape) draw(12, 5, *shape, line_classes.empty() ? std::string_view("apart") : line_classes);
  out_.close().text(" " + std::string(words)).close();
}

void Plot::end() {
  if (has_keys_) out_.close();
  out_.close();
}

}  // namespace tawny
