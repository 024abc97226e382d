#include <gtest/gtest.h>

#include "assets.h"
#include "ui/app_bench.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the demo farm

constexpr std::string_view kOther = R"({"office.title": "Oficina", "number.decimal_mark": ",",
  "number.plural": "any_one", "unit.mg_l": "mg/L", "language.es": "Español", "language.en": "English"})";

class LanguageChoice : public ::testing::Test {
 protected:
  LanguageChoice() : bench(kDawn) {
    bench.open_demo();
    bench.app->open_tab(Tab::office);
    bench.frames(2);
  }
  AppBench bench;
};

TEST_F(LanguageChoice, ALanguageIsFetchedThenSpokenAndKept) {
  ASSERT_TRUE(bench.press("language/es"));
  EXPECT_EQ(bench.platform.wanted_language, "es");
  EXPECT_NE(bench.find("language/coming"), nullptr) << "said until the words are there";
  EXPECT_EQ(bench.platform.settings.count("language"), 0U) << "not kept before it can be spoken";
  bench.app->speak("es", kOther);
  bench.frames(2);
  EXPECT_EQ(bench.find("title")->name, "Oficina");
  EXPECT_EQ(bench.platform.settings["language"], "es");
  EXPECT_EQ(bench.find("language/es")->state, "checked");
  EXPECT_EQ(bench.find("language/coming"), nullptr);
  EXPECT_EQ(bench.app->ui().words().quantity({4.2, 1, "mg_l"}), "4,2 mg/L");
}

TEST_F(LanguageChoice, WithoutTheWordsThePresentLanguageStays) {
  ASSERT_TRUE(bench.press("language/es"));
  bench.app->speak("es", "");
  bench.frames(2);
  EXPECT_EQ(bench.find("title")->name, "Office");
  EXPECT_NE(bench.find("language/not_here"), nullptr);
  EXPECT_EQ(bench.platform.settings.count("language"), 0U);
  ASSERT_TRUE(bench.press("language/es")) << "can be tried again";
  EXPECT_EQ(bench.find("language/not_here"), nullptr);
}

TEST(LanguageAtFirst, IsChosenOnTheFirstScreen) {
  AppBench bench(kDawn);
  bench.open_new(-300);
  EXPECT_EQ(bench.find("language/en")->state, "checked");
  ASSERT_TRUE(bench.press("language/vi"));
  EXPECT_EQ(bench.platform.wanted_language, "vi");
}

}  // namespace
}  // namespace tawny::ui
