#include "protocol/check_units.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::at;
using test::Story;

// Day 8, 15:00 of a pond of 2 ha, 120 cm deep: three hours ago Secchi 52 cm, level 96 cm, salinity 20 at 25 C.
struct Row {
  const char* name;
  std::string_view kind;
  Values values;
  const char* message;                          // null: no question about the unit
  const char* other = nullptr;                  // the other unit
  std::optional<double> likely = std::nullopt;  // what it would be, in the unit of the key
  bool with_last = true;                        // the readings of three hours ago are there
  const char* corrects = "";
};

void PrintTo(const Row& one, std::ostream* out) { *out << one.name; }

Values secchi(double cm) { return {{"secchi_vanish_cm", cm + 0.2}, {"secchi_return_cm", cm - 0.2}}; }
Values broadcast(double kg) { return {{"product", std::string("sodium_nitrate")}, {"product_kg", kg}}; }
Values corrected_dose(double kg) {
  return {{"product", std::string("sodium_nitrate")},
          {"product_kg", kg},
          {"area_ha", 2.0},
          {"started", to_iso(at(8, "06:10"))},
          {"ended", to_iso(at(8, "07:00"))},
          {"coverage", std::string("whole")},
          {"dissolved", true}};
}

std::vector<Finding> questions(const Row& row) {
  Story story;
  story.pond_setup.nominal_area_ha = 2;
  story.start();
  if (row.with_last) {
    story.secchi(8, 52).level(8, "12:00", 96);
    story.tell(8, "12:00", kind::kWaterReading, {{"temperature_c", 25.0}, {"salinity", 20.0}});
  }
  Draft draft;
  draft.kind = row.kind;
  draft.pond = "p1";
  draft.observed = at(8, "15:00");
  draft.values = row.values;
  draft.corrects = row.corrects;
  const PondHistory history = story.history();
  std::vector<Finding> found = check_entry(draft, history, test::protocol(), test::place(), at(8, "15:00"),
                                           BagSizes{{"sodium_nitrate", 25.0}});
  found.erase(std::remove_if(found.begin(), found.end(),
                             [](const Finding& one) { return one.message.id.find("finding.unit") != 0; }),
              found.end());
  return found;
}

class OtherUnit : public ::testing::TestWithParam<Row> {};

TEST_P(OtherUnit, IsAskedAboutWithBothReadings) {
  const Row& row = GetParam();
  const std::vector<Finding> found = questions(row);
  if (row.message == nullptr) {
    EXPECT_TRUE(found.empty());
    return;
  }
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].message.id, row.message);
  EXPECT_EQ(found[0].weight, Finding::Weight::questioned);
  if (row.other != nullptr) {
    const auto* other = found[0].message.find("other");
    ASSERT_NE(other, nullptr);
    EXPECT_EQ(std::get<Word>(*other).id, std::string("unit_name.") + row.other);
  }
  const auto* likely = found[0].message.find("likely");
  ASSERT_EQ(likely != nullptr, row.likely.has_value());
  if (row.likely) {
    EXPECT_NEAR(std::get<Quantity>(*likely).value, *row.likely, 0.06);
  }
}

// Salinity 20 at 25 C is 32.1 mS/cm and 35 is 53.0 (practical salinity scale, UNESCO Technical Papers 44); 250 % of
// saturation is 18.4 mg/L there (7.36 mg/L full, Garcia and Gordon 1992). An inch is 2.54 cm, a foot 30.48 cm.
INSTANTIATE_TEST_SUITE_P(
    Units, OtherUnit,
    ::testing::Values(
        Row{"Secchi in inches", kind::kSecchiReading, secchi(20.5), "finding.unit", "inch", 52.1},
        Row{"a Secchi that fell", kind::kSecchiReading, secchi(30), nullptr},
        Row{"a Secchi like the last", kind::kSecchiReading, secchi(50), nullptr},
        Row{"a first Secchi under 25 cm", kind::kSecchiReading, secchi(20), "finding.unit", "inch", 50.8,
            false},
        Row{"a first Secchi of 25 cm", kind::kSecchiReading, secchi(25), nullptr, nullptr, {}, false},
        Row{"Secchi in decimetres", kind::kSecchiReading, secchi(4.8), "finding.unit", "dm", 48.0},
        Row{"Secchi of 5 cm", kind::kSecchiReading, secchi(5), nullptr},
        Row{"depth at the disc in metres",
            kind::kSecchiReading,
            {{"seen_on_bottom", true}, {"depth_at_disc_cm", 1.1}},
            "finding.unit",
            "m",
            110.0},
        Row{"level in metres", kind::kLevelReading, {{"level_cm", 0.95}}, "finding.unit", "m", 95.0},
        Row{"level of a whole metre", kind::kLevelReading, {{"level_cm", 1.0}}, "finding.unit", "m", 100.0},
        Row{"level in inches", kind::kLevelReading, {{"level_cm", 37.5}}, "finding.unit", "inch", 95.25},
        Row{"level in feet", kind::kLevelReading, {{"level_cm", 3.1}}, "finding.unit", "foot", 94.5},
        Row{"a level that fell", kind::kLevelReading, {{"level_cm", 70.0}}, nullptr},
        Row{"a first level in metres",
            kind::kLevelReading,
            {{"level_cm", 0.3}},
            "finding.unit",
            "m",
            30.0,
            false},
        Row{"metres beyond the gauge",
            kind::kLevelReading,
            {{"level_cm", 1.5}},
            "finding.unit_open",
            "m",
            {},
            false},
        Row{"a first level of 2 cm", kind::kLevelReading, {{"level_cm", 2.0}}, nullptr, nullptr, {}, false},
        Row{"oxygen in percent",
            kind::kWaterReading,
            {{"do_mg_l", 35.0}},
            "finding.unit",
            "percent_saturation",
            2.6},
        Row{"oxygen in percent of water not known",
            kind::kWaterReading,
            {{"do_mg_l", 35.0}},
            "finding.unit_open",
            "percent_saturation",
            {},
            false},
        Row{"oxygen of 18 mg/L", kind::kWaterReading, {{"do_mg_l", 18.0}}, nullptr},
        Row{"salinity by a conductivity meter",
            kind::kWaterReading,
            {{"salinity", 32.1}},
            "finding.unit_salinity",
            nullptr,
            20.0},
        Row{"salinity like the last", kind::kWaterReading, {{"salinity", 22.0}}, nullptr},
        Row{"salinity that is neither", kind::kWaterReading, {{"salinity", 45.0}}, nullptr},
        Row{"a first salinity of 53",
            kind::kWaterReading,
            {{"salinity", 53.0}, {"temperature_c", 25.0}},
            "finding.unit_salinity",
            nullptr,
            35.0,
            false},
        Row{"a first salinity of 40", kind::kWaterReading, {{"salinity", 40.0}}, nullptr, nullptr, {}, false},
        Row{"the meter in air in mg/L",
            kind::kMeterCheck,
            {{"do_percent_in_air", 7.9}},
            "finding.unit_open",
            "mg_l"},
        Row{"the meter in air in percent", kind::kMeterCheck, {{"do_percent_in_air", 97.0}}, nullptr},
        Row{"nitrate in bags", kind::kSoilBroadcast, broadcast(8), "finding.unit", "bag", 200.0},
        Row{"nitrate in grams", kind::kSoilBroadcast, broadcast(200000), "finding.unit", "g", 200.0},
        Row{"nitrate for each hectare", kind::kSoilBroadcast, broadcast(45), "finding.unit", "kg_ha", 90.0},
        Row{"nitrate for the pond", kind::kSoilBroadcast, broadcast(90), nullptr},
        Row{"far too much nitrate", kind::kSoilBroadcast, broadcast(900), nullptr},
        Row{"a dose corrected to bags", kind::kDose, corrected_dose(2), "finding.unit", "bag", 50.0, true,
            "d/1/x"},
        Row{"a dose corrected", kind::kDose, corrected_dose(40), nullptr, nullptr, {}, true, "d/1/x"}),
    [](const auto& info) {
      std::string name = info.param.name;
      std::replace_if(
          name.begin(), name.end(), [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); }, '_');
      return name;
    });

TEST(OtherUnitLast, AnOldReadingIsComparedWithNothing) {
  Story story;
  story.start().secchi(4, 52);
  Draft draft;
  draft.kind = kind::kSecchiReading;
  draft.pond = "p1";
  draft.observed = at(8, "15:00");
  draft.values = secchi(30);
  const PondHistory history = story.history();
  EXPECT_TRUE(check_entry(draft, history, test::protocol(), test::place(), at(8, "15:00")).empty());
}

TEST(OtherUnitArea, IsAskedAboutWhereTheShapeSaysOtherwise) {
  const struct {
    double nominal_ha, shape_ha;
    std::optional<double> likely;
    const char* key;
  } rows[] = {
      {1.2, 1.3, {}, ""},
      {12000, 1.3, 1.2, "nominal_area_ha"},
      {12000, 0.5, {}, ""},                         // m2 do not explain it either
      {1.2, 1.3 / 10000, 13000, "survey_area_m2"},  // 1.3 m2
      {1.3 / 10000, 1.3 / 10000, 13000, "survey_area_m2"},
      {1.2, 0.01, {}, ""},  // 100 m2 may be a pond for trying things out
      {0, 1.3, {}, ""},
  };
  for (const auto& row : rows) {
    const std::optional<Finding> found = question_area(test::protocol(), row.nominal_ha, row.shape_ha);
    ASSERT_EQ(found.has_value(), row.likely.has_value()) << row.nominal_ha << " " << row.shape_ha;
    if (!found) continue;
    EXPECT_EQ(found->key, row.key);
    EXPECT_NEAR(*found->likely, *row.likely, 1e-6);
  }
}

TEST(OtherUnitStock, IsAskedAboutUnderOneBagAndOverAShipload) {
  EXPECT_FALSE(question_stock(test::protocol(), 25, 25));
  EXPECT_FALSE(question_stock(test::protocol(), 50000, 25));
  EXPECT_FALSE(question_stock(test::protocol(), 20, 0));
  EXPECT_NEAR(*question_stock(test::protocol(), 20, 25)->likely, 500, 1e-9);
  EXPECT_NEAR(*question_stock(test::protocol(), 500000, 25)->likely, 500, 1e-9);
}

}  // namespace
}  // namespace tawny
