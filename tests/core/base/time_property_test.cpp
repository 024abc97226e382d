#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "base/decimal.h"
#include "base/problem.h"
#include "base/time.h"

namespace tawny {
namespace {

constexpr std::int64_t kFirst = -2208988800;  // 1900-01-01T00:00:00Z
constexpr std::int64_t kLast = 7289654399;    // 2200-12-31T23:59:59Z

Instant any_instant() { return Instant{*rc::gen::inRange(kFirst, kLast + 1)}; }
UtcOffset any_offset() { return UtcOffset{*rc::gen::inRange(-720, 841)}; }

RC_GTEST_PROP(TimeProperty, TextGoesThereAndBack, ()) {
  const Instant instant = any_instant();
  RC_ASSERT(parse_instant(to_iso(instant)) == instant);
}

RC_GTEST_PROP(TimeProperty, DayAndSecondMakeTheInstant, ()) {
  const Instant instant = any_instant();
  const UtcOffset offset = any_offset();
  const int second = second_of_day(instant, offset);
  RC_ASSERT(second >= 0);
  RC_ASSERT(second < 86400);
  RC_ASSERT(instant_at(civil_day(instant, offset), second, offset) == instant);
}

RC_GTEST_PROP(TimeProperty, DateGoesThereAndBack, ()) {
  const CivilDay day = civil_day(any_instant(), UtcOffset{0});
  RC_ASSERT(civil_day_of(year_month_day(day)) == day);
}

RC_GTEST_PROP(TimeProperty, NoTextAborts, (const std::string& text)) {
  const Result<Instant> instant = parse_instant(text);
  const Result<CivilDay> day = parse_civil_day(text);
  const Result<double> number = parse_decimal(text);
  if (instant) RC_ASSERT(to_iso(*instant) == text);
  if (day) RC_ASSERT(to_iso(*day) == text);
  if (number) RC_ASSERT(!text.empty());
}

RC_GTEST_PROP(DecimalProperty, WhatIsShownReadsBack, ()) {
  const int decimals = *rc::gen::inRange(0, 5);
  const std::int64_t units = *rc::gen::inRange<std::int64_t>(-9999999999, 10000000000);
  double power = 1;
  for (int i = 0; i < decimals; ++i) power *= 10;
  const double value = static_cast<double>(units) / power;
  RC_ASSERT(parse_decimal(format_decimal(value, decimals)) == value);
  RC_ASSERT(parse_decimal(format_decimal(value, decimals, ',')) == value);
}

}  // namespace
}  // namespace tawny
