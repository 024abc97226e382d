// One chart of a record as SVG: a time axis of the farm's days, a value axis, and marks that differ in shape
// and dash as well as in colour, so that a black and white print says the same.
//
// Marks are drawn in the order of the calls. Colours and line widths are the style sheet's; geometry stands in
// attributes.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "report/markup.h"

namespace tawny {

struct TimeAxis {
  Instant from, until;  // begin of the first day and end of the last
  UtcOffset offset;
};
// Whole days of the farm around a cycle.
TimeAxis time_axis(Instant first, Instant last, UtcOffset offset);

struct ValueAxis {
  double low = 0, high = 1, step = 1;
  int decimals = 0;
};
// Round steps, three to six of them, around `low` .. `high`.
ValueAxis value_axis(double low, double high);

enum class MarkShape { dot, square, cross, triangle, dose };

class Plot {
 public:
  // `name` is unique in the document; `height` in the units of 720 across the page.
  Plot(Markup& out, std::string_view name, const TimeAxis& time, const ValueAxis& values, double height);

  // <figure> and <svg> with title and description; `unit` stands at the value axis.
  void begin(std::string_view title, std::string_view description, std::string_view unit);
  void values();  // grid and values
  void days();    // dates
  void upright(Instant at, std::string_view label, std::string_view classes);
  void band(Instant from, Instant until, double low, double high);
  void level_line(Instant from, Instant until, double value, std::string_view classes);
  void line(const std::vector<std::pair<Instant, double>>& points, std::string_view classes);
  void mark(Instant at, double value, MarkShape shape, std::string_view classes);
  void mark_on_top(Instant at, MarkShape shape, std::string_view label);
  void end_picture();  // </svg>; a legend may follow
  // A sample of the mark, or of the line where there is no shape, and its words.
  void key(std::optional<MarkShape> shape, std::string_view line_classes, std::string_view words);
  void end();  // </figure>

  double x(Instant at) const;
  double y(double value) const;
  double height() const { return height_; }
  static constexpr double kWidth = 720, kLeft = 44, kRight = 10, kTop = 24, kBottom = 20;

 private:
  void draw(double x, double y, MarkShape shape, std::string_view classes);

  Markup& out_;
  std::string name_;
  TimeAxis time_;
  ValueAxis values_;
  double height_;
  bool has_keys_ = false;
};

// A coordinate with two decimals at most.
std::string coordinate(double value);

}  // namespace tawny
