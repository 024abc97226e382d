// What makes a reading odd: possible, but unlikely enough that somebody is asked about it. One set of rules
// asks the person before a value is saved (check_entry), and the manager about what stands in the logbook.
//
//   saturation     oxygen over entry.questioned.do_percent of what the water holds at its temperature and
//                  salinity, read with it or within a day before
//   pH             outside entry.questioned.ph_low .. ph_high
//   same value     the same to the last digit entry.questioned.same_value_times running
//   Secchi         changed by more than entry.questioned.secchi_change_cm in a day
//   level          fell by more than entry.questioned.level_fall_cm in a day with no outflow recorded
//
// An odd reading counts like any other until the manager leaves it out. What is odd need not be wrong: a crash
// of the bloom is a jump too.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "protocol/look.h"

namespace tawny {

// Each says why, or nothing. `full_mg_l`: what the water holds against the air.
std::optional<Message> odd_saturation(const Protocol& protocol, double do_mg_l, double full_mg_l);
std::optional<Message> odd_ph(const Protocol& protocol, double ph);
std::optional<Message> odd_secchi_change(const Protocol& protocol, double before_cm, Instant before,
                                         double secchi_cm, Instant at);
std::optional<Message> odd_level_fall(const Protocol& protocol, double before_cm, Instant before,
                                      double level_cm, Instant at);
// What a value is called that was read `times` running.
Message same_value(std::string_view key, double value, int times);

// Questions "odd_reading" about the readings of the last question.reading_days that nobody has decided on,
// oldest first; "asks" are the readings to be kept or left out, "evidence" also holds those they are odd
// beside.
std::vector<Question> odd_readings(const Look& look);

}  // namespace tawny
