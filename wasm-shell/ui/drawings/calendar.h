// A calendar of our own: ponds down, days across, stages as bands in the tones of the water, today as an
// upright line and each delivery as a mark that can be dragged along the days.
//
// Knows nothing of plans: it draws the bands and marks it is given, only the rows that are in view, and tells
// what was done to a mark. The row of days stays in view while the page is scrolled.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ui/widgets.h"

namespace tawny::ui {

struct CalendarBand {
  double from = 0, until = 0;  // days since 1970, parts of a day too
  Colour colour = 0;
  std::string label, short_label;  // the longer one that fits is drawn
  // Ends that fade out, in days beyond from and until.
  double fade_before = 0, fade_after = 0;
};
struct CalendarMark {
  std::string id;     // of its control
  std::string name;   // for the mirror
  std::string label;  // beside it, where there is room
  double day = 0;
  bool picked = false;
  bool alarm = false;
  std::optional<double> was;  // where it stood before it was moved
};
struct CalendarRow {
  std::string name, remark;
  std::vector<CalendarBand> bands;
  std::vector<CalendarMark> marks;
  std::optional<double> spare_from, spare_until;  // days to spare, as a thin line
};
struct Calendar {
  double first = 0;  // the first day shown
  int days = 60;
  double today = 0;
  struct Tick {
    double day = 0;
    std::string label;
  };
  std::vector<Tick> ticks;  // weeks
  std::vector<CalendarRow> rows;
};

float calendar_height(const Ui& ui, const Calendar& calendar);

struct CalendarTouch {
  std::string pressed;  // mark that was pressed
  std::string dragged;  // mark that is being dragged
  double days = 0;      // how far, since the last frame
  bool elsewhere = false;
};
CalendarTouch draw_calendar(Ui& ui, std::string_view id, Rect where, const Calendar& calendar);

}  // namespace tawny::ui
