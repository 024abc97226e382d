#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "core/protocol/same_state.h"

namespace tawny {
namespace {

using test::Story;

// Readings left out of a cycle, wherever they stand and whenever that was decided, leave the same pond behind
// as readings that were never made.
RC_GTEST_PROP(LeftOutProperty, IsTheSameAsTakenBack, ()) {
  Story whole = test::whole_cycle();
  const int added = *rc::gen::inRange(0, 15);
  for (int i = 0; i < added; ++i) {
    const int day = *rc::gen::inRange(0, 12);
    switch (*rc::gen::inRange(0, 4)) {
      case 0:
        whole.water(day, "06:10", *rc::gen::inRange(0, 200) / 10.0, *rc::gen::inRange(60, 110) / 10.0);
        break;
      case 1:
        whole.water(day, "16:20", 5.0, 8.0);
        break;
      case 2:
        whole.secchi(day, *rc::gen::inRange(20, 110), "12:40");
        break;
      default:
        whole.level(day, "17:00", *rc::gen::inRange(10, 120));
        break;
    }
  }
  Story out = whole;
  Story taken_back = whole;
  for (std::uint32_t number = 1; number <= whole.told.size(); ++number) {
    if (!is_reading(whole.told[number - 1].kind) || !*rc::gen::weightedElement<bool>({{1, true}, {3, false}}))
      continue;
    test::word_on(out, number, "none", *rc::gen::inRange(9, 13), "22:00");
    test::silence(taken_back, number);
  }
  const int day = *rc::gen::inRange(1, 40);
  RC_ASSERT(test::told_of(out.assess_at(day, "23:00")) == test::told_of(taken_back.assess_at(day, "23:00")));
}

}  // namespace
}  // namespace tawny
