#include "ui/screens/chart_view.h"

#include <algorithm>

namespace tawny::ui {
namespace {

constexpr double kDayS = 24 * 3600;

}  // namespace

void ChartView::set_limits(Instant first, Instant last) {
  last_s_ = static_cast<double>(last.unix_s);
  first_s_ = std::min(static_cast<double>(first.unix_s), last_s_ - kNarrowestDays * kDayS);
  show(from_s_, until_s_ - from_s_);
}

void ChartView::show_last(double days) { show(last_s_ - days * kDayS, days * kDayS); }

void ChartView::show_all() { show(first_s_, last_s_ - first_s_); }

void ChartView::move(double share) {
  const double span_s = until_s_ - from_s_;
  show(from_s_ + share * span_s, span_s);
}

void ChartView::widen(double times, double share) {
  const double span_s = until_s_ - from_s_;
  const double held_s = from_s_ + share * span_s;
  const double next_s = std::clamp(times * span_s, kNarrowestDays * kDayS, last_s_ - first_s_);
  show(held_s - share * next_s, next_s);
}

bool ChartView::narrowest() const { return until_s_ - from_s_ <= kNarrowestDays * kDayS + 1; }

void ChartView::show(double from_s, double span_s) {
  const double span = std::clamp(span_s, kNarrowestDays * kDayS, last_s_ - first_s_);
  from_s_ = std::clamp(from_s, first_s_, last_s_ - span);
  until_s_ = from_s_ + span;
}

}  // namespace tawny::ui
