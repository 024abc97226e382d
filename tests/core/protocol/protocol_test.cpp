#include "protocol/protocol.h"

#include <gtest/gtest.h>

#include "assets.h"
#include "core/protocol/story.h"

namespace tawny {
namespace {

TEST(ProtocolFile, EveryValueHasAMarkAndASource) {
  for (const auto& [path, value] : test::protocol().values()) {
    EXPECT_TRUE(value.mark == "P" || value.mark == "H" || value.mark == "E") << path;
    EXPECT_EQ(value.source.rfind("source.", 0), 0U) << path;
  }
}

TEST(ProtocolFile, WithoutAValueThatTheCodeUsesIsRefusedByItsPath) {
  for (const char* path : {"stage.bloom.secchi_low_cm", "dose.products_allowed", "windows.peak.from_min"}) {
    std::string json(assets::find("protocol.json"));
    const std::size_t at = json.find(path);
    ASSERT_NE(at, std::string::npos);
    json.replace(at, 3, "xxx");
    const auto parsed = Protocol::parse(json);
    ASSERT_FALSE(parsed);
    EXPECT_EQ(parsed.error().kind, ProblemKind::missing);
    EXPECT_EQ(std::get<Text>(*parsed.error().message.find("path")).text, path);
  }
}

TEST(ProtocolFile, DamagedTextIsRefused) {
  const std::string json(assets::find("protocol.json"));
  EXPECT_FALSE(Protocol::parse(""));
  EXPECT_FALSE(Protocol::parse("[]"));
  EXPECT_FALSE(Protocol::parse(json.substr(0, json.size() / 2)));
  EXPECT_FALSE(Protocol::parse(R"({"a":{"value":null,"mark":"P"}})"));
  EXPECT_FALSE(Protocol::parse(R"({"a":{"value":1,"mark":"Q"}})"));
}

TEST(Protocol, AChangeKeepsTheTypeAndThePath) {
  const Protocol& standard = test::protocol();
  const auto changed = standard.with("stage.bloom.secchi_low_cm", 40.0);
  ASSERT_TRUE(changed);
  EXPECT_EQ(changed->number("stage.bloom.secchi_low_cm"), 40);
  EXPECT_EQ(standard.number("stage.bloom.secchi_low_cm"), 45);
  EXPECT_FALSE(standard.with("stage.bloom.secchi_low_cm", std::string("40")));
  EXPECT_FALSE(standard.with("stage.bloom.secchi_low_cm", true));
  EXPECT_FALSE(standard.with("stage.bloom.nothing", 1.0));
  EXPECT_EQ(standard.with("dose.products_allowed", std::string("sodium_nitrate, urea"))
                ->list("dose.products_allowed"),
            (std::vector<std::string>{"sodium_nitrate", "urea"}));
}

TEST(Names, GoThereAndBack) {
  for (int i = 0; i <= static_cast<int>(WaterColour::red_brown); ++i) {
    const auto colour = static_cast<WaterColour>(i);
    EXPECT_EQ(water_colour_of(name_of(colour)), colour);
  }
  for (const Sky sky : {Sky::bright, Sky::mixed, Sky::dull}) EXPECT_EQ(sky_of(name_of(sky)), sky);
  EXPECT_EQ(water_colour_of("blue"), std::nullopt);
  EXPECT_EQ(name_of(Stage::bottom), "bottom");
  EXPECT_EQ(name_of(Stage::early_cycle), "early_cycle");
  EXPECT_EQ(name_of(Act::bottom_look), "bottom_look");
  EXPECT_EQ(name_of(Act::start_cycle), "start_cycle");
  EXPECT_EQ(name_of(WindowName::afternoon), "afternoon");
}

}  // namespace
}  // namespace tawny
