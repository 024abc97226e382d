#include "base/time.h"

#include <chrono>

#include "base/problem.h"

namespace tawny {
namespace {

constexpr std::int64_t kSecondsPerDay = 86400;

std::int64_t floor_div(std::int64_t a, std::int64_t b) {
  const std::int64_t quotient = a / b;
  return (a % b != 0 && (a < 0) != (b < 0)) ? quotient - 1 : quotient;
}

void append_padded(std::string& out, int value, int width) {
  std::string digits = std::to_string(value);
  while (static_cast<int>(digits.size()) < width) digits.insert(digits.begin(), '0');
  out += digits;
}

// `text[at, at+count)` as a whole number of digits only.
bool read_digits(std::string_view text, std::size_t at, std::size_t count, int& out) {
  int value = 0;
  for (std::size_t i = at; i < at + count; ++i) {
    if (text[i] < '0' || text[i] > '9') return false;
    value = value * 10 + (text[i] - '0');
  }
  out = value;
  return true;
}

}  // namespace

CivilDay civil_day(Instant instant, UtcOffset offset) {
  return CivilDay{static_cast<std::int32_t>(floor_div(instant.unix_s + 60 * offset.minutes, kSecondsPerDay))};
}

int second_of_day(Instant instant, UtcOffset offset) {
  const std::int64_t local = instant.unix_s + 60 * offset.minutes;
  return static_cast<int>(local - kSecondsPerDay * floor_div(local, kSecondsPerDay));
}

Instant instant_at(CivilDay day, int second_of_day, UtcOffset offset) {
  return Instant{day.days * kSecondsPerDay + second_of_day - 60 * offset.minutes};
}

YearMonthDay year_month_day(CivilDay day) {
  const std::chrono::year_month_day date{std::chrono::sys_days{std::chrono::days{day.days}}};
  return YearMonthDay{static_cast<int>(date.year()), static_cast<int>(static_cast<unsigned>(date.month())),
                      static_cast<int>(static_cast<unsigned>(date.day()))};
}

Result<CivilDay> civil_day_of(YearMonthDay date) {
  // Checked before chrono sees them: it keeps a month or a day in one byte, in which 257 is 1.
  const bool plausible = date.year >= 1900 && date.year <= 2200 && date.month >= 1 && date.month <= 12 &&
                         date.day >= 1 && date.day <= 31;
  const std::chrono::year_month_day ymd{std::chrono::year{plausible ? date.year : 1900},
                                        std::chrono::month{plausible ? static_cast<unsigned>(date.month) : 1},
                                        std::chrono::day{plausible ? static_cast<unsigned>(date.day) : 1}};
  if (!plausible || !ymd.ok()) {
    return refuse(ProblemKind::out_of_range, "date", Message("problem.no_such_date"));
  }
  return CivilDay{static_cast<std::int32_t>(std::chrono::sys_days{ymd}.time_since_epoch().count())};
}

Result<CivilDay> parse_civil_day(std::string_view text) {
  YearMonthDay date;
  if (text.size() != 10 || text[4] != '-' || text[7] != '-' || !read_digits(text, 0, 4, date.year) ||
      !read_digits(text, 5, 2, date.month) || !read_digits(text, 8, 2, date.day)) {
    return refuse(ProblemKind::malformed, "date",
                  Message("problem.not_a_date").with("text", Text{std::string(text)}));
  }
  return civil_day_of(date);
}

std::string to_iso(CivilDay day) {
  const YearMonthDay date = year_month_day(day);
  std::string out;
  append_padded(out, date.year, 4);
  out += '-';
  append_padded(out, date.month, 2);
  out += '-';
  append_padded(out, date.day, 2);
  return out;
}

Result<Instant> parse_instant(std::string_view text) {
  int hour = 0;
  int minute = 0;
  int second = 0;
  if (text.size() != 20 || text[10] != 'T' || text[13] != ':' || text[16] != ':' || text[19] != 'Z' ||
      !read_digits(text, 11, 2, hour) || !read_digits(text, 14, 2, minute) ||
      !read_digits(text, 17, 2, second) || hour > 23 || minute > 59 || second > 59) {
    return refuse(ProblemKind::malformed, "time",
                  Message("problem.not_an_instant").with("text", Text{std::string(text)}));
  }
  const Result<CivilDay> day = parse_civil_day(text.substr(0, 10));
  if (!day) return tl::unexpected<Problem>(day.error());
  return instant_at(*day, hour * 3600 + minute * 60 + second, UtcOffset{0});
}

std::string to_iso(Instant instant) {
  const UtcOffset utc{0};
  const int second = second_of_day(instant, utc);
  std::string out = to_iso(civil_day(instant, utc));
  out += 'T';
  append_padded(out, second / 3600, 2);
  out += ':';
  append_padded(out, second / 60 % 60, 2);
  out += ':';
  append_padded(out, second % 60, 2);
  out += 'Z';
  return out;
}

std::string to_hh_mm(Instant instant, UtcOffset offset) {
  const int second = second_of_day(instant, offset);
  std::string out;
  append_padded(out, second / 3600, 2);
  out += ':';
  append_padded(out, second / 60 % 60, 2);
  return out;
}

}  // namespace tawny
