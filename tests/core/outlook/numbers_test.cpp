// The tools under the forecasts: numbers from dice, exp and ln, the score of an ensemble.
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "outlook/dice.h"
#include "outlook/outlook.h"
#include "outlook/quick_math.h"

namespace tawny {
namespace {

// The first words of xoshiro256** from the state 1, 2, 3, 4: its reference implementation (from memory).
TEST(Dice, GiveTheWordsOfTheReference) {
  Dice dice(std::array<std::uint64_t, 4>{1, 2, 3, 4});
  for (const std::uint64_t word : {11520U, 0U, 1509978240U}) EXPECT_EQ(dice.word(), word);
  EXPECT_EQ(dice.word(), 1215971899390074240U);
}

TEST(Dice, NormalNumbersHaveTheMomentsOfTheNormalDistribution) {
  Dice dice(1);
  double sum = 0, squares = 0, fourths = 0;
  int within = 0;
  constexpr int kCount = 200000;
  for (int i = 0; i < kCount; ++i) {
    const double x = dice.normal();
    sum += x;
    squares += x * x;
    fourths += x * x * x * x;
    within += std::fabs(x) < 1.2815515655446004 ? 1 : 0;  // 80 % of the normal distribution
  }
  // Four standard errors.
  EXPECT_NEAR(sum / kCount, 0, 4 / std::sqrt(kCount));
  EXPECT_NEAR(squares / kCount, 1, 4 * std::sqrt(2.0 / kCount));
  EXPECT_NEAR(fourths / kCount, 3, 4 * std::sqrt(96.0 / kCount));
  EXPECT_NEAR(within / static_cast<double>(kCount), 0.8, 4 * std::sqrt(0.16 / kCount));
}

TEST(Dice, ASeedDependsOnPondAndDay) {
  EXPECT_NE(seed_of("p1", 20000), seed_of("p1", 20001));
  EXPECT_NE(seed_of("p1", 20000), seed_of("p2", 20000));
  EXPECT_EQ(seed_of("p1", 20000), seed_of("p1", 20000));
}

// The C++ library's own.
TEST(QuickMath, AgreesWithTheLibrary) {
  for (double x = -690; x <= 690; x += 0.0137) {
    ASSERT_NEAR(quick_exp(x) / std::exp(x), 1, 1e-8) << x;
    ASSERT_NEAR(quick_log(std::exp(x)), x, 1e-9) << x;
  }
}

// CRPS of a normal distribution with mean 0 and sd 1 (Gneiting & Raftery 2007, eq. 21 with the sign turned).
TEST(Crps, OfAnEnsembleComesToThatOfItsDistribution) {
  std::vector<double> ensemble;
  Dice dice(3);
  for (int i = 0; i < 50000; ++i) ensemble.push_back(dice.normal());
  for (const double y : {-2.0, 0.0, 0.7, 3.0}) {
    const double cdf = 0.5 * std::erfc(-y / std::sqrt(2.0));
    const double density = std::exp(-y * y / 2) / std::sqrt(2 * std::acos(-1.0));
    const double exact = y * (2 * cdf - 1) + 2 * density - 1 / std::sqrt(std::acos(-1.0));
    EXPECT_NEAR(*crps(ensemble, y), exact, 0.01) << y;
  }
}

TEST(Crps, OfASinglePointIsItsDistance) {
  EXPECT_DOUBLE_EQ(*crps({48}, 55), 7);
  EXPECT_FALSE(crps({}, 55));
}

}  // namespace
}  // namespace tawny
