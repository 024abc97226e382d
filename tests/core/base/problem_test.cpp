#include "base/problem.h"

#include <gtest/gtest.h>

#include <limits>

namespace tawny {
namespace {

constexpr Range kTemperature{0, 45, "c", 1};

Result<double> doubled(double temperature_c) {
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  return 2 * temperature_c;
}

TEST(Outside, LimitsBelongToTheRange) {
  EXPECT_FALSE(outside("temperature_c", 0, kTemperature));
  EXPECT_FALSE(outside("temperature_c", 45, kTemperature));
  EXPECT_TRUE(outside("temperature_c", -0.001, kTemperature));
  EXPECT_TRUE(outside("temperature_c", 45.001, kTemperature));
}

TEST(Outside, RefusesWhatIsNoNumber) {
  EXPECT_TRUE(outside("temperature_c", std::numeric_limits<double>::quiet_NaN(), kTemperature));
  EXPECT_TRUE(outside("temperature_c", std::numeric_limits<double>::infinity(), kTemperature));
  EXPECT_TRUE(outside("temperature_c", -std::numeric_limits<double>::infinity(), kTemperature));
}

TEST(Outside, NamesTheThingTheValueAndTheLimits) {
  const Result<double> result = doubled(50);
  ASSERT_FALSE(result);
  const Problem& problem = result.error();
  EXPECT_EQ(problem.kind, ProblemKind::out_of_range);
  EXPECT_EQ(problem.parameter, "temperature_c");
  EXPECT_EQ(problem.message.id, "problem.out_of_range");
  ASSERT_TRUE(problem.message.find("parameter"));
  EXPECT_EQ(*problem.message.find("parameter"), MessageValue(Word{"parameter.temperature_c"}));
  EXPECT_EQ(*problem.message.find("value"), MessageValue(Quantity{50, 1, "c"}));
  EXPECT_EQ(*problem.message.find("low"), MessageValue(Quantity{0, 1, "c"}));
  EXPECT_EQ(*problem.message.find("high"), MessageValue(Quantity{45, 1, "c"}));
  EXPECT_EQ(problem.message.find("nothing"), nullptr);
}

TEST(Outside, LetsGoodValuesPass) { EXPECT_EQ(doubled(21), 42); }

TEST(Message, KeepsItsValuesInOrder) {
  Message message("criterion.level");
  message.with("level", Quantity{32, 0, "cm"}).with("pond", Text{"North 1"});
  ASSERT_EQ(message.values.size(), 2u);
  EXPECT_EQ(message.values[0].first, "level");
  EXPECT_EQ(message.values[1].first, "pond");
}

}  // namespace
}  // namespace tawny
