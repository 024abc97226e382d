// The record of a cycle in the app: which cycles it offers, and what it hands to the platform.
#include <gmock/gmock.h>

#include "logbook/kinds.h"
#include "report/report.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

const Instant kNoon{1795626000};  // 2026-11-25 12:00 at the demo farm

class ReportScreen : public ::testing::Test {
 protected:
  ReportScreen() : bench(kNoon) { bench.open_demo(); }
  AppBench bench;
};

TEST_F(ReportScreen, ThePondsPageLeadsToItsRecord) {
  bench.app->open(make_pond_screen("p5"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("pond/report"));
  ASSERT_TRUE(bench.press("report/cycle/0/page"));
  EXPECT_EQ(bench.platform.shown_name, "tawny-long-pond-dry-season.html");
  const App& app = *bench.app;
  const auto html = report_html(app.logbook(), app.farm(), {"p5", "dry season", "en"}, app.protocol(),
                                app.products(), bench.app->ui().words(), assets::find("report.css"), kNoon);
  ASSERT_TRUE(html);
  EXPECT_EQ(bench.platform.shown_report, *html);
}

TEST_F(ReportScreen, TheTableIsHandedOutAsAFile) {
  bench.app->open(make_report_screen("p5"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("report/cycle/0/table"));
  EXPECT_EQ(bench.platform.shared_name, "tawny-long-pond-dry-season.csv");
  EXPECT_THAT(bench.platform.shared_text, StartsWith("\xef\xbb\xbf"
                                                     "device,number,"));
}

TEST_F(ReportScreen, TwoCyclesOfOneLabelAreBothReachedAndToldApart) {
  Draft end, start;
  end.kind = std::string(kind::kCycleEnd);
  start.kind = std::string(kind::kCycleStart);
  start.values = {{"cycle", std::string("dry season")}};
  end.pond = start.pond = "p5";
  end.observed = kNoon.plus_min(-30);
  start.observed = kNoon.plus_min(-20);
  bench.app->put({end, start});
  bench.answer(SaveOutcome::saved);
  bench.app->open(make_report_screen("p5"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("report/cycle/1/table"));
  const std::string older = bench.platform.shared_name;
  EXPECT_THAT(bench.platform.shared_text, HasSubstr("secchi_reading"));
  ASSERT_TRUE(bench.press("report/cycle/0/table"));
  EXPECT_EQ(bench.platform.shared_name, "tawny-long-pond-dry-season-2026-11-25.csv");
  EXPECT_NE(older, bench.platform.shared_name);
  EXPECT_THAT(bench.platform.shared_text, Not(HasSubstr("secchi_reading")));
}

TEST_F(ReportScreen, TheOfficeAsksWhichPondFirst) {
  bench.app->open_tab(Tab::office);
  bench.frames(2);
  ASSERT_TRUE(bench.press("office/report"));
  ASSERT_TRUE(bench.press("report/pond/p6"));
  EXPECT_NE(bench.find("report/cycle/0/page"), nullptr);
}

TEST_F(ReportScreen, ItIsWrittenInTheLanguageOfTheScreen) {
  bench.app->speak("vi", assets::language("vi"));
  bench.app->open(make_report_screen("p5"));
  bench.frames(2);
  ASSERT_TRUE(bench.press("report/cycle/0/page"));
  EXPECT_THAT(bench.platform.shown_report, HasSubstr("lang=\"vi\""));
  EXPECT_THAT(bench.platform.shown_report, HasSubstr("Hồ sơ một vụ nuôi"));
}

TEST_F(ReportScreen, APondWithoutACycleSaysSo) {
  AppBench empty(kNoon);
  empty.open_new(-300);
  empty.app->open(make_report_screen("p1"));
  empty.frames(2);
  EXPECT_NE(empty.find("report/none"), nullptr);
}

}  // namespace
}  // namespace tawny::ui
