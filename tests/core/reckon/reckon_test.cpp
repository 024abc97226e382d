// The table as a whole: every row can be asked, answers what it lists, and refuses what it says it refuses.
#include "reckon/reckon.h"

#include <cmath>
#include <limits>
#include <set>

#include "base/decimal.h"
#include "core/reckon/bench.h"
#include "words/words.h"

namespace tawny {
namespace {

using reckon_test::given_by;
using reckon_test::reckon_by;

TEST(Reckonings, NamesAndKeysAreUnique) {
  std::set<std::string_view> names;
  ASSERT_GE(reckonings().size(), 25U);
  for (const Reckoning& reckoning : reckonings()) {
    EXPECT_TRUE(names.insert(reckoning.name).second) << reckoning.name;
    EXPECT_EQ(find_reckoning(reckoning.name), &reckoning);
    std::set<std::string_view> inputs, results;
    for (const ReckonInput& input : reckoning.inputs) {
      EXPECT_TRUE(inputs.insert(input.key).second) << reckoning.name << " " << input.key;
    }
    for (const ReckonResult& result : reckoning.results) {
      EXPECT_TRUE(results.insert(result.key).second) << reckoning.name << " " << result.key;
    }
    EXPECT_FALSE(reckoning.source.empty()) << reckoning.name;
  }
  EXPECT_EQ(find_reckoning("phosphate"), nullptr);
}

TEST(Reckonings, EveryKeyUnitAndNameHasWords) {
  const Words words = *Words::parse(assets::language("en"));
  const auto has = [&](const std::string& id) { EXPECT_TRUE(words.has(id)) << id; };
  for (const Reckoning& reckoning : reckonings()) {
    has("reckon." + std::string(reckoning.name));
    has("reckon." + std::string(reckoning.name) + ".about");
    has("reckon.group." + std::string(name_of(reckoning.group)));
    for (const ReckonInput& input : reckoning.inputs) {
      has("parameter." + std::string(input.key));
      if (!input.range.unit.empty()) has("unit." + std::string(input.range.unit));
      if (input.kind == ReckonInput::Kind::text) has("reckon.form." + std::string(input.key));
      for (const std::string_view choice : input.choices) has("reckon.choice." + std::string(choice));
    }
    for (const ReckonResult& result : reckoning.results) {
      has("parameter." + std::string(result.key));
      if (!result.unit.empty()) has("unit." + std::string(result.unit));
    }
  }
}

TEST(Reckonings, EveryExampleIsAnsweredAsTheTableListsIt) {
  const Words words = *Words::parse(assets::language("en"));
  for (const Reckoning& reckoning : reckonings()) {
    const auto answer = reckon_by(reckoning, given_by(std::string(reckoning.example)));
    ASSERT_TRUE(answer) << reckoning.name << ": " << words(answer.error().message);
    ASSERT_FALSE(answer->results.empty()) << reckoning.name;
    auto row = reckoning.results.begin();
    for (const auto& [key, value] : answer->results) {
      while (row != reckoning.results.end() && row->key != key) ++row;
      ASSERT_NE(row, reckoning.results.end()) << reckoning.name << " " << key << " is not listed in that order";
      const bool is_number = std::holds_alternative<double>(value);
      EXPECT_EQ(is_number, row->kind == ReckonResult::Kind::number) << reckoning.name << " " << key;
      if (is_number) {
        EXPECT_TRUE(std::isfinite(std::get<double>(value))) << reckoning.name << " " << key;
      }
      if (row->kind == ReckonResult::Kind::choice) {
        EXPECT_TRUE(words.has("reckon.choice." + std::get<std::string>(value))) << reckoning.name << " " << key;
      }
      if (const auto* series = std::get_if<ReckonSeries>(&value)) {
        ASSERT_FALSE(series->rows.empty());
        for (const auto& each : series->rows) {
          EXPECT_EQ(each.size(), series->columns.size());
        }
      }
    }
    for (const Message& note : answer->notes) EXPECT_TRUE(words.has(note.id)) << note.id;
    for (const auto& [key, value] : answer->inputs) EXPECT_NE(reckoning.input(key), nullptr) << key;
  }
}

// The example with one input set to something else; an input of the same group makes room.
reckon_test::Given example_with(const Reckoning& reckoning, const ReckonInput& input,
                                std::variant<double, std::string> value) {
  reckon_test::Given changed;
  for (const auto& [key, was] : given_by(std::string(reckoning.example))) {
    const ReckonInput* other = reckoning.input(key);
    if (key == input.key || (other && !input.either.empty() && other->either == input.either)) continue;
    changed.emplace_back(key, was);
  }
  changed.emplace_back(std::string(input.key), std::move(value));
  return changed;
}

// How far these may go depends on the other inputs: no day of the example has 24 h of sun, its air holds no 10
// kPa of vapour, no water of its temperature conducts 100 mS/cm, and how young is too young the protocol says.
bool depends_on_others(std::string_view key) {
  for (const std::string_view other :
       {"sunshine_h", "radiation_mj_m2_d", "vapour_pressure_kpa", "temperature_high_c", "conductivity_ms_cm",
        "specific_conductance_ms_cm", "pl_age_days"}) {
    if (key == other) return true;
  }
  return false;
}

TEST(Reckonings, TheRangeOfTheTableIsTheRangeOfTheReckoning) {
  for (const Reckoning& reckoning : reckonings()) {
    for (const ReckonInput& input : reckoning.inputs) {
      if (input.kind != ReckonInput::Kind::number) continue;
      for (const double end : {input.range.low, input.range.high}) {
        const auto answer = reckon_by(reckoning, example_with(reckoning, input, end));
        // Another input may then be at fault, or the numbers together; this one alone may not.
        if (!answer && answer.error().parameter == input.key && !depends_on_others(input.key)) {
          EXPECT_NE(answer.error().kind, ProblemKind::out_of_range)
              << reckoning.name << " " << input.key << " " << end;
        }
      }
    }
  }
}

TEST(Reckonings, WhatLiesOutsideItsRangeIsRefusedByName) {
  for (const Reckoning& reckoning : reckonings()) {
    for (const ReckonInput& input : reckoning.inputs) {
      if (input.kind != ReckonInput::Kind::number) continue;
      const double step = (input.range.high - input.range.low) / 1000;
      for (const double number :
           {input.range.low - step, input.range.high + step, std::numeric_limits<double>::quiet_NaN(),
            std::numeric_limits<double>::infinity()}) {
        const auto answer = reckon_by(reckoning, example_with(reckoning, input, number));
        ASSERT_FALSE(answer) << reckoning.name << " " << input.key << " " << number;
        EXPECT_EQ(answer.error().parameter, input.key);
        EXPECT_EQ(answer.error().kind, ProblemKind::out_of_range) << reckoning.name << " " << input.key;
      }
    }
  }
}

TEST(Reckonings, ThePrintedLimitsAreTheLimits) {
  for (const Reckoning& reckoning : reckonings()) {
    for (const ReckonInput& input : reckoning.inputs) {
      for (const double end : {input.range.low, input.range.high}) {
        EXPECT_EQ(*parse_decimal(format_decimal(end, input.range.decimals)), end)
            << reckoning.name << " " << input.key;
      }
    }
  }
}

TEST(Reckonings, WhatIsRequiredIsMissedByName) {
  for (const Reckoning& reckoning : reckonings()) {
    for (const ReckonInput& input : reckoning.inputs) {
      if (!input.required) continue;
      reckon_test::Given without;
      for (const auto& [key, value] : given_by(std::string(reckoning.example))) {
        const ReckonInput* other = reckoning.input(key);
        if (key == input.key || (!input.either.empty() && other->either == input.either)) continue;
        without.emplace_back(key, value);
      }
      const auto answer = reckon_by(reckoning, without);
      ASSERT_FALSE(answer) << reckoning.name << " without " << input.key;
      EXPECT_EQ(answer.error().kind, ProblemKind::missing) << reckoning.name << " " << input.key;
    }
  }
}

struct BadLine {
  const char* name;
  const char* given;
  const char* parameter;
  ProblemKind kind;
};

TEST(Reckonings, BadInputIsRefusedByName) {
  const BadLine lines[] = {
      // What cannot be read.
      {"oxygen-saturation", "temperature_c=warm salinity=0", "temperature_c", ProblemKind::malformed},
      {"oxygen-saturation", "temperature_c= salinity=0", "temperature_c", ProblemKind::malformed},
      {"oxygen-saturation", "temperature_c=1e1 salinity=0", "temperature_c", ProblemKind::malformed},
      {"sun", "latitude_deg=1 longitude_deg=1 date=2026-02-30 utc_offset_h=0", "date",
       ProblemKind::out_of_range},
      {"weir-flow", "shape=round head_up_m=0.1", "shape", ProblemKind::malformed},
      {"filling",
       "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 to_share=0.25 pump_l_s=60 start=soon",
       "start", ProblemKind::malformed},
      {"filling",
       "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 to_share=0.25 pump_l_s=60 "
       "start=2026-11-26T06:00 tide=2026-11-26T06:00",
       "tide", ProblemKind::malformed},
      {"lanes", "length_m=100 width_m=50 bins=2.5", "bins", ProblemKind::malformed},
      // What is not asked for, comes twice, or excludes another.
      {"oxygen-saturation", "temperature_c=20 salinity=0 depth_m=1", "depth_m", ProblemKind::malformed},
      {"oxygen-saturation", "temperature_c=20 salinity=0 temperature_c=20", "temperature_c",
       ProblemKind::conflict},
      {"oxygen-saturation", "temperature_c=20 salinity=0 pressure_kpa=100 altitude_m=10", "altitude_m",
       ProblemKind::conflict},
      {"salinity", "temperature_c=20 conductivity_ms_cm=10 specific_conductance_ms_cm=10",
       "specific_conductance_ms_cm", ProblemKind::conflict},
      // What is missing for this choice.
      {"weir-flow", "shape=rectangular head_up_m=0.1", "width_m", ProblemKind::missing},
      {"weir-flow", "shape=rectangular head_up_m=0.1 width_m=1", "crest_height_m", ProblemKind::missing},
      {"filling",
       "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 to_share=0.25 gate_width_m=1 "
       "start=2026-11-26T06:00",
       "gate_opening_m", ProblemKind::missing},
      {"dose",
       "area_ha=1 rate_kg_ha=25 product=sodium_nitrate mean_depth_m=1 bag_kg=25 temperature_c=28 "
       "production_cost=9",
       "price_per_kg", ProblemKind::missing},
      // What the protocol keeps out, and what is not known.
      {"dose", "area_ha=1 rate_kg_ha=25 product=urea mean_depth_m=1 bag_kg=25 temperature_c=28", "product",
       ProblemKind::unsupported},
      {"solubility", "product=molasses temperature_c=20", "product", ProblemKind::unsupported},
      {"solubility", "product=sugar temperature_c=20", "product", ProblemKind::unsupported},
      // What has no answer.
      {"fill-time", "volume_m3=100 inflow_l_s=0.01 area_m2=10000 loss_mm_d=100", "loss_mm_d",
       ProblemKind::impossible},
      {"seepage", "level_fall_mm_d=2 evaporation_mm_d=5", "level_fall_mm_d", ProblemKind::impossible},
  };
  for (const BadLine& line : lines) {
    const auto answer = reckon_by(line.name, line.given);
    ASSERT_FALSE(answer) << line.name << " " << line.given;
    EXPECT_EQ(answer.error().parameter, line.parameter) << line.name << " " << line.given;
    EXPECT_EQ(answer.error().kind, line.kind) << line.name << " " << line.given;
  }
}

TEST(Reckonings, ACommaIsADecimalMarkToo) {
  const auto point = reckon_by("oxygen-saturation", "temperature_c=28.5 salinity=15");
  const auto comma = reckon_by("oxygen-saturation", "temperature_c=28,5 salinity=15");
  ASSERT_TRUE(point && comma);
  EXPECT_EQ(point->results, comma->results);
}

TEST(Reckonings, WhatStandsInIsShownAmongTheInputs) {
  const auto answer = reckon_by("light", "secchi_cm=50");
  ASSERT_TRUE(answer);
  const ReckonValues inputs = {{"secchi_cm", 50.0},
                               {"coefficient", reckon_test::protocol().number("light.secchi_coefficient")}};
  EXPECT_EQ(answer->inputs, inputs);
}

TEST(Reckonings, AFarmsOwnProtocolStandsIn) {
  const Protocol own = *reckon_test::protocol().with("light.secchi_coefficient", 1.7);
  const auto answer =
      reckon(*find_reckoning("light"), given_by("secchi_cm=50"), ReckonContext{own, reckon_test::products()});
  ASSERT_TRUE(answer);
  EXPECT_DOUBLE_EQ(std::get<double>(*answer->result("attenuation_per_m")), 3.4);
}

TEST(Reckonings, AProtocolValueOutsideTheRangeIsRefusedByItsKey) {
  const Protocol own = *reckon_test::protocol().with("light.secchi_coefficient", 9.0);
  const auto answer =
      reckon(*find_reckoning("light"), given_by("secchi_cm=50"), ReckonContext{own, reckon_test::products()});
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().parameter, "coefficient");
}

}  // namespace
}  // namespace tawny
