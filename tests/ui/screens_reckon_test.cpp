// The calculators, over the whole table: what is entered on their screens gives what reckon() gives.
#include <gtest/gtest.h>

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "assets.h"
#include "base/decimal.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the demo farm

using Given = std::vector<std::pair<std::string, std::variant<double, std::string>>>;

// "temperature_c=28 salinity=15"
std::vector<std::pair<std::string, std::string>> parts_of(std::string_view example) {
  std::vector<std::pair<std::string, std::string>> parts;
  std::string part;
  for (const char c : std::string(example) + " ") {
    if (c != ' ') {
      part += c;
      continue;
    }
    const std::size_t equals = part.find('=');
    if (equals != std::string::npos) parts.emplace_back(part.substr(0, equals), part.substr(equals + 1));
    part.clear();
  }
  return parts;
}

Given given_of(std::string_view example) {
  Given given;
  for (const auto& [key, value] : parts_of(example)) given.emplace_back(key, value);
  return given;
}

std::string field_of(const std::string& key) { return "reckon/in/" + key; }

class Calculators : public ::testing::Test {
 protected:
  // On a phone without a farm nothing but today is known.
  Calculators() : Calculators(false) {}
  explicit Calculators(bool demo) : bench(kDawn), words(*Words::parse(assets::language("en"))) {
    if (demo) {
      bench.open_demo();
    } else {
      bench.open_new(-300);
    }
  }

  void open(const Reckoning& reckoning, const std::string& pond = {}) {
    bench.app->open(make_reckon_screen(reckoning, pond));
    bench.frames(2);
  }
  void open(std::string_view name, const std::string& pond = {}) { open(*find_reckoning(name), pond); }

  void type_number(const std::string& key, const std::string& number) {
    ASSERT_TRUE(bench.press(field_of(key))) << key;
    const bool negative = number.front() == '-';
    ASSERT_TRUE(bench.type("number/keys", negative ? number.substr(1) : number)) << key << "=" << number;
    if (negative) {
      ASSERT_TRUE(bench.press("number/keys/sign")) << key;
    }
    ASSERT_TRUE(bench.press("number/accept")) << key;
  }

  void enter(const Reckoning& reckoning, const std::string& key, const std::string& value) {
    const ReckonInput* input = reckoning.input(key);
    ASSERT_NE(input, nullptr) << reckoning.name << " has no " << key;
    const std::string either = "reckon/either/" + std::string(input->either) + "/" + key;
    const auto there = [&] {
      return bench.find(input->either.empty() ? field_of(key) : either) != nullptr ||
             bench.find(field_of(key) + "/" + value) != nullptr;
    };
    if (!there()) bench.press("reckon/more");
    ASSERT_TRUE(there()) << key << " is not on the screen";
    if (!input->either.empty()) {
      ASSERT_TRUE(bench.press(either));
    }
    switch (input->kind) {
      case ReckonInput::Kind::number:
        type_number(key, value);
        break;
      case ReckonInput::Kind::day:
      case ReckonInput::Kind::text:
        bench.app->on_text(field_of(key), value);
        bench.frames(2);
        break;
      case ReckonInput::Kind::product:
      case ReckonInput::Kind::choice:
        ASSERT_TRUE(bench.press(field_of(key) + "/" + value)) << value;
        break;
    }
  }

  std::string value_at(std::string_view id) const {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string("nothing at ") + std::string(id) : node->value;
  }
  std::string name_at(std::string_view id) const {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string("nothing at ") + std::string(id) : node->name;
  }

  std::string worded(const ReckonResult& result, const ReckonValue& value) const {
    if (const double* number = std::get_if<double>(&value)) {
      const std::string text = format_decimal(*number, result.decimals);
      return result.unit.empty() ? text : text + " " + words.unit(result.unit);
    }
    if (const bool* flag = std::get_if<bool>(&value)) return *flag ? "yes" : "no";
    const std::string text = std::get<std::string>(value);
    if (result.kind != ReckonResult::Kind::choice) return text;
    std::string word = words("reckon.choice." + text);
    if (word.front() >= 'a' && word.front() <= 'z') word.front() = static_cast<char>(word.front() - 'a' + 'A');
    return word;
  }

  AppBench bench;
  Words words;
};

TEST_F(Calculators, EveryReckoningIsARowOfTheList) {
  bench.app->open(make_reckon_list_screen());
  bench.frames(2);
  for (const Reckoning& reckoning : reckonings()) {
    const std::string name(reckoning.name);
    EXPECT_NE(bench.find("reckon/group/" + std::string(name_of(reckoning.group))), nullptr) << name;
    EXPECT_EQ(name_at("reckon/open/" + name), words("reckon." + name));
    ASSERT_TRUE(bench.press("reckon/open/" + name)) << name;
    EXPECT_NE(bench.find("reckon/source"), nullptr) << name;
    ASSERT_TRUE(bench.press("back"));
  }
}

TEST_F(Calculators, EveryExampleGivesOnTheScreenWhatTheReckoningGives) {
  for (const Reckoning& reckoning : reckonings()) {
    SCOPED_TRACE(std::string(reckoning.name));
    const auto answer = reckon(reckoning, given_of(reckoning.example),
                               ReckonContext{bench.app->protocol(), bench.app->products()});
    ASSERT_TRUE(answer.has_value()) << words(answer.error().message);
    open(reckoning);
    for (const auto& [key, value] : parts_of(reckoning.example)) enter(reckoning, key, value);
    bench.frames(4);
    for (const ReckonResult& result : reckoning.results) {
      const std::string id = "reckon/result/" + std::string(result.key);
      const ReckonValue* value = answer->result(result.key);
      if (value == nullptr) {
        EXPECT_EQ(bench.find(id), nullptr) << result.key;
      } else if (const auto* series = std::get_if<ReckonSeries>(value)) {
        for (std::size_t i = 1; i < series->columns.size() && series->rows.size() > 1; ++i) {
          EXPECT_NE(bench.find(id + "/" + std::string(series->columns[i])), nullptr);
        }
      } else {
        EXPECT_EQ(value_at(id), worded(result, *value)) << result.key;
        EXPECT_EQ(name_at(id), words("parameter." + std::string(result.key)));
      }
    }
    for (std::size_t i = 0; i < answer->notes.size(); ++i) {
      EXPECT_EQ(name_at("reckon/note/" + std::to_string(i + 1)), words(answer->notes[i]));
    }
    EXPECT_EQ(name_at("reckon/source"), "Source: " + std::string(reckoning.source));
    bench.app->back();
    bench.frames(2);
  }
}

TEST_F(Calculators, NoRowIsWithoutWords) {
  const auto worded = [&](const std::string& id) { EXPECT_TRUE(words.has(id)) << id << " has no words"; };
  for (const Reckoning& reckoning : reckonings()) {
    const std::string name(reckoning.name);
    worded("reckon." + name);
    worded("reckon." + name + ".about");
    worded("reckon.group." + std::string(name_of(reckoning.group)));
    EXPECT_FALSE(reckoning.source.empty()) << name;
    for (const ReckonInput& input : reckoning.inputs) {
      worded("parameter." + std::string(input.key));
      if (!input.range.unit.empty()) worded("unit." + std::string(input.range.unit));
      if (input.kind == ReckonInput::Kind::text) worded("reckon.form." + std::string(input.key));
      for (const std::string_view choice : input.choices) worded("reckon.choice." + std::string(choice));
    }
    for (const ReckonResult& result : reckoning.results) {
      worded("parameter." + std::string(result.key));
      if (!result.unit.empty()) worded("unit." + std::string(result.unit));
    }
  }
  for (const Product& product : bench.app->products()) worded("product." + product.id);
}

TEST_F(Calculators, NoTwoControlsOfAScreenHaveOneName) {
  for (const Reckoning& reckoning : reckonings()) {
    open(reckoning);
    bench.press("reckon/more");
    std::set<std::string> names;
    for (const Node& node : bench.model().nodes()) {
      if (node.role != NodeRole::button && node.role != NodeRole::textfield) continue;
      EXPECT_TRUE(names.insert(node.name).second) << reckoning.name << ": " << node.name << " comes twice";
    }
    bench.app->back();
    bench.frames(2);
  }
}

TEST_F(Calculators, WhatIsMissingIsToldAndIsNoFault) {
  open("oxygen-saturation");
  EXPECT_EQ(name_at("reckon/missing"), "Still missing: Temperature, Salinity");
  type_number("temperature_c", "25");
  EXPECT_EQ(name_at("reckon/missing"), "Still missing: Salinity");
  for (const Node& node : bench.model().nodes()) EXPECT_NE(node.role, NodeRole::alert) << node.name;
  type_number("salinity", "0");
  EXPECT_EQ(bench.find("reckon/missing"), nullptr);
  EXPECT_EQ(value_at("reckon/result/oxygen_saturation_mg_l"), "8.26 mg/L");
}

TEST_F(Calculators, OneOfTwoWaysIsAskedForAndOnlyThatOneCounts) {
  open("oxygen-saturation");
  type_number("temperature_c", "25");
  type_number("salinity", "0");
  EXPECT_EQ(bench.find(field_of("altitude_m")), nullptr);
  ASSERT_TRUE(bench.press("reckon/either/air/altitude_m"));
  EXPECT_EQ(value_at("reckon/result/oxygen_saturation_mg_l"), "8.26 mg/L");
  type_number("altitude_m", "2000");
  const std::string high_up = value_at("reckon/result/oxygen_saturation_mg_l");
  EXPECT_NE(high_up, "8.26 mg/L");
  ASSERT_TRUE(bench.press("reckon/either/air/pressure_kpa"));
  EXPECT_EQ(bench.find(field_of("altitude_m")), nullptr);
  EXPECT_EQ(value_at("reckon/result/oxygen_saturation_mg_l"), "8.26 mg/L");
  ASSERT_TRUE(bench.press("reckon/either/air/altitude_m"));
  EXPECT_EQ(value_at("reckon/result/oxygen_saturation_mg_l"), high_up);
  ASSERT_TRUE(bench.press("reckon/either/air/none"));
  EXPECT_EQ(value_at("reckon/result/oxygen_saturation_mg_l"), "8.26 mg/L");
}

TEST_F(Calculators, AValueOutOfRangeIsRefusedWhereItIsTyped) {
  open("oxygen-saturation");
  ASSERT_TRUE(bench.press(field_of("temperature_c")));
  ASSERT_TRUE(bench.type("number/keys", "400"));
  ASSERT_TRUE(bench.press("number/accept"));
  EXPECT_NE(bench.find("number/refused"), nullptr);
}

TEST_F(Calculators, ARefusalStandsUnderTheFieldThatItNames) {
  const Reckoning& sun = *find_reckoning("sun");
  open(sun);
  for (const auto& [key, value] : parts_of(sun.example)) enter(sun, key, value);
  ASSERT_NE(bench.find("reckon/result/sunrise"), nullptr);
  enter(sun, "date", "2026-02-31");
  const Node* refusal = bench.find("reckon/problem");
  ASSERT_NE(refusal, nullptr);
  EXPECT_EQ(refusal->role, NodeRole::alert);
  EXPECT_EQ(bench.find("reckon/result/sunrise"), nullptr);
  EXPECT_EQ(value_at(field_of("date")), "2026-02-31");
  const std::vector<Node>& nodes = bench.model().nodes();
  const auto place_of = [&](const std::string& id) {
    std::size_t i = 0;
    while (i < nodes.size() && nodes[i].id != id) ++i;
    return i;
  };
  EXPECT_GT(place_of("reckon/problem"), place_of(field_of("date")));
  EXPECT_LT(place_of("reckon/problem"), place_of(field_of("utc_offset_h")));
  enter(sun, "date", "2026-03-20");
  EXPECT_EQ(bench.find("reckon/problem"), nullptr);
  EXPECT_NE(bench.find("reckon/result/sunrise"), nullptr);
}

TEST_F(Calculators, WhatOnlyAnotherAnswerAsksForIsShownAndIsNoFault) {
  open("weir-flow");
  type_number("head_up_m", "0.2");
  ASSERT_NE(bench.find("reckon/result/flow_l_s"), nullptr);
  EXPECT_EQ(bench.find(field_of("width_m")), nullptr);
  ASSERT_TRUE(bench.press(field_of("shape") + "/rectangular"));
  ASSERT_NE(bench.find(field_of("width_m")), nullptr);
  const Node* asked = bench.find("reckon/problem");
  ASSERT_NE(asked, nullptr);
  EXPECT_NE(asked->role, NodeRole::alert);
  EXPECT_EQ(name_at("reckon/stopped_by"), "No answer yet. See what is said at: Width");
}

TEST_F(Calculators, ADayIsMovedByOne) {
  open("sun");
  EXPECT_EQ(value_at(field_of("date")), "2026-11-25");
  ASSERT_TRUE(bench.press(field_of("date") + "/later"));
  ASSERT_TRUE(bench.press(field_of("date") + "/later"));
  EXPECT_EQ(value_at(field_of("date")), "2026-11-27");
  ASSERT_TRUE(bench.press(field_of("date") + "/earlier"));
  EXPECT_EQ(value_at(field_of("date")), "2026-11-26");
}

TEST_F(Calculators, WhatStandsInIsShownAndGivesWayAndComesBack) {
  open("screen-area");
  const std::string before = value_at(field_of("clogging_factor"));
  EXPECT_EQ(std::stod(before), bench.app->protocol().number("screen.clogging_factor"));
  type_number("flow_l_s", "100");
  const std::string area = value_at("reckon/result/gross_area_m2");
  type_number("clogging_factor", "5");
  EXPECT_EQ(value_at(field_of("clogging_factor")), "5");
  EXPECT_NE(value_at("reckon/result/gross_area_m2"), area);
  ASSERT_TRUE(bench.press(field_of("clogging_factor")));
  ASSERT_TRUE(bench.press("number/clear"));
  EXPECT_EQ(value_at(field_of("clogging_factor")), before);
  EXPECT_EQ(value_at("reckon/result/gross_area_m2"), area);
}

TEST_F(Calculators, WhatWasGivenIsStillThereAfterGoingBack) {
  open("oxygen-saturation");
  type_number("temperature_c", "25");
  type_number("salinity", "0");
  bench.app->back();
  bench.frames(2);
  open("oxygen-saturation");
  EXPECT_EQ(value_at(field_of("temperature_c")), "25 °C");
  EXPECT_EQ(value_at("reckon/result/oxygen_saturation_mg_l"), "8.26 mg/L");
  EXPECT_EQ(bench.platform.saves, 0);
}

class CalculatorsOfAFarm : public Calculators {
 protected:
  CalculatorsOfAFarm() : Calculators(true) {}
};

TEST_F(CalculatorsOfAFarm, TheOfficeLeadsToThem) {
  bench.app->open_tab(Tab::office);
  bench.frames(2);
  ASSERT_TRUE(bench.press("office/reckon"));
  ASSERT_TRUE(bench.press("reckon/open/sun"));
  // All of it is known: the farm's place and today.
  EXPECT_EQ(value_at(field_of("latitude_deg")), "-2.4 °");
  EXPECT_EQ(value_at(field_of("longitude_deg")), "-81.6 °");
  EXPECT_EQ(value_at(field_of("utc_offset_h")), "-5 h");
  EXPECT_EQ(value_at("reckon/result/sunrise").substr(0, 2), "06");
}

TEST_F(CalculatorsOfAFarm, APondFillsInItsLastValuesWhichCanBeChangedAndCleared) {
  const FarmPond* pond = bench.app->farm().pond("p5");
  ASSERT_NE(pond, nullptr);
  bench.app->open(make_pond_screen("p5"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("pond/reckon"));
  ASSERT_TRUE(bench.press("reckon/open/oxygen-saturation"));
  const WaterReading& last = pond->history.water.back();
  ASSERT_TRUE(last.temperature_c.has_value());
  EXPECT_EQ(std::stod(value_at(field_of("temperature_c"))), *last.temperature_c);
  EXPECT_NE(bench.find("reckon/result/oxygen_percent"), nullptr);
  type_number("temperature_c", "12");
  EXPECT_EQ(value_at(field_of("temperature_c")), "12 °C");
  ASSERT_TRUE(bench.press(field_of("temperature_c")));
  ASSERT_TRUE(bench.press("number/clear"));
  EXPECT_EQ(value_at(field_of("temperature_c")), "");
  EXPECT_EQ(name_at("reckon/missing"), "Still missing: Temperature");
}

TEST_F(CalculatorsOfAFarm, TheBinOfTheFarmStandsInTheDose) {
  open("dose");
  ASSERT_TRUE(bench.app->farm().bin_set_up);
  const std::string bin = format_decimal(bench.app->farm().bin_limits.bin_volume_l, 0) + " L";
  EXPECT_NE(value_at("reckon/more").find("Bin volume " + bin), std::string::npos);
  ASSERT_TRUE(bench.press("reckon/more"));
  EXPECT_EQ(value_at(field_of("bin_l")), bin);
  EXPECT_EQ(value_at(field_of("lift_kg")), format_decimal(bench.app->farm().bin_limits.lift_kg, 0) + " kg");
}

}  // namespace
}  // namespace tawny::ui
