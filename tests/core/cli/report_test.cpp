// tawny report, whole: what it writes where, and with which exit code it ends.
#include <gmock/gmock.h>

#include <algorithm>
#include <map>

#include "assets.h"
#include "cli/command.h"
#include "farm/demo.h"
#include "logbook/kinds.h"

namespace tawny::cli {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

constexpr std::string_view kNow = "2026-03-21T18:00:00Z";

class Disk : public Outside {
 public:
  Result<std::string> read(const std::string& path) override {
    const auto file = files.find(path);
    if (file != files.end()) return file->second;
    return refuse(ProblemKind::missing, "", Message("problem.file_unreadable").with("file", Text{path}));
  }
  Instant now() override { return *parse_instant(kNow); }
  bool is_good(const SignatureCheck&) override { return false; }
  Carried<std::vector<std::string>> list(const std::string&) override { return fault(); }
  Carried<std::string> get(const std::string&) override { return fault(); }
  Carried<void> put(const std::string& path, const std::string& bytes) override {
    if (path == "full/record.html") return fault();
    files[path] = bytes;
    return {};
  }
  Carried<void> make_folder(const std::string&) override { return fault(); }
  static tl::unexpected<CarryFault> fault() { return tl::unexpected<CarryFault>(CarryFault::full); }

  std::map<std::string, std::string> files;
};

// The demo farm, its lines on two phones' files.
Disk disk() {
  Disk all;
  const Instant now = *parse_instant(kNow);
  DeviceChain chain{"demo", "demo", 0, 0, std::string(64, '0')};
  std::string& first = all.files["a.jsonl"];
  std::string& second = all.files["b.jsonl"];
  const Protocol protocol = *Protocol::parse(assets::find("protocol.json"));
  const std::vector<Draft> drafts = *demo_drafts(assets::find("demo-farm.json"), protocol, now);
  for (const Draft& draft : drafts) {
    const Entry entry = *seal(draft, draft.observed, chain);
    (entry.id.number <= 200 ? first : second) += entry.line + "\n";
  }
  return all;
}

void expect_refused(const Outcome& outcome, std::string_view says) {
  EXPECT_EQ(outcome.exit_code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 1) << outcome.err;
  EXPECT_THAT(outcome.err, StartsWith("tawny report"));
  EXPECT_THAT(outcome.err, HasSubstr(std::string(says)));
}

TEST(ReportCommand, PrintsThePageOfAPondByIdOrName) {
  Disk outside = disk();
  const Outcome by_id = run({"report", "a.jsonl", "b.jsonl", "--pond", "p6"}, outside);
  EXPECT_EQ(by_id.exit_code, 0) << by_id.err;
  EXPECT_EQ(by_id.err, "");
  EXPECT_THAT(by_id.out, StartsWith("<!DOCTYPE html>\n<html"));
  EXPECT_THAT(by_id.out, HasSubstr("Saltbush"));
  EXPECT_EQ(run({"report", "--pond", "Saltbush", "b.jsonl", "a.jsonl"}, outside).out, by_id.out);
}

TEST(ReportCommand, WritesPageAndTableIntoFiles) {
  Disk outside = disk();
  const Outcome printed = run({"report", "a.jsonl", "b.jsonl", "--pond", "p6"}, outside);
  const Outcome outcome =
      run({"report", "a.jsonl", "b.jsonl", "--pond", "p6", "--csv", "p6.csv", "-o", "p6.html"}, outside);
  EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(outside.files["p6.html"], printed.out);
  EXPECT_THAT(outside.files["p6.csv"], StartsWith("\xef\xbb\xbf"
                                                  "device,number,"));
}

// One pond with two cycles of one name, and the day of each start by the farm's clock.
Disk twice_dry() {
  Disk all;
  DeviceChain chain{"demo", "demo", 0, 0, std::string(64, '0')};
  const auto tell = [&](std::string_view when, std::string_view kind, Values values, std::string pond = "p1") {
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = std::move(pond);
    draft.observed = *parse_instant(when);
    draft.values = std::move(values);
    all.files["twice.jsonl"] += seal(draft, draft.observed, chain)->line + "\n";
  };
  tell("2026-01-01T00:00:00Z", kind::kFarmSetup,
       {{"name", std::string("Farm")},
        {"latitude_deg", -2.0},
        {"longitude_deg", -79.0},
        {"utc_offset_min", -300.0}},
       "");
  tell("2026-01-01T00:10:00Z", kind::kPondSetup,
       {{"name", std::string("Reed")},
        {"walk_order", 1.0},
        {"build", std::string("earthen")},
        {"nominal_area_ha", 1.0},
        {"inlets", std::vector<std::string>{"gate"}},
        {"bottom_length_m", 100.0},
        {"bottom_width_m", 100.0},
        {"depth_m", 1.2},
        {"bank_slope", 0.0}});
  const Values dry = {{"cycle", std::string("dry")}};
  tell("2026-01-02T02:00:00Z", kind::kCycleStart, dry);
  tell("2026-01-04T13:00:00Z", kind::kLevelReading, {{"level_cm", 30.0}});
  tell("2026-01-20T13:00:00Z", kind::kCycleEnd, {});
  tell("2026-02-01T13:00:00Z", kind::kCycleStart, dry);
  tell("2026-02-03T13:00:00Z", kind::kLevelReading, {{"level_cm", 77.0}});
  return all;
}

TEST(ReportCommand, OfTwoCyclesWithOneLabelTheDayOfTheStartNamesOne) {
  Disk outside = twice_dry();
  const auto of = [&](std::vector<std::string> more) {
    more.insert(more.begin(), {"report", "twice.jsonl", "--pond", "p1", "--csv", "t.csv"});
    return run(more, outside);
  };
  // 2 January, 02:00 UTC, is still the evening of the 1st at the farm.
  EXPECT_EQ(of({"--cycle", "dry", "--started", "2026-01-01"}).exit_code, 0);
  EXPECT_THAT(outside.files["t.csv"], HasSubstr(",30,"));
  EXPECT_EQ(of({"--started", "2026-01-02T02:00:00Z"}).exit_code, 0);
  EXPECT_THAT(outside.files["t.csv"], HasSubstr(",30,"));
  const Outcome latest = of({"--cycle", "dry"});
  EXPECT_EQ(latest.exit_code, 0);
  EXPECT_THAT(outside.files["t.csv"], HasSubstr(",77,"));
  EXPECT_THAT(latest.err, HasSubstr("2 cycles are called \"dry\"")) << "that there is another is said";
  EXPECT_EQ(of({}).err, "") << "the running cycle was asked for, not a label";
  expect_refused(of({"--cycle", "dry", "--started", "2026-01-02"}), "2026-01-02T02:00:00Z");
  expect_refused(of({"--cycle", "dry", "--started", "May"}), "--started takes a day");
}

TEST(ReportCommand, SpeaksTheLanguageAndTheInstantThatItIsTold) {
  Disk outside = disk();
  const Outcome outcome =
      run({"report", "a.jsonl", "b.jsonl", "--pond", "p5", "--language", "vi", "--at", "2026-03-10T18:00:00Z"},
          outside);
  EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("lang=\"vi\""));
  EXPECT_THAT(outcome.out, HasSubstr("Hồ sơ một vụ nuôi"));
  EXPECT_THAT(outcome.out, testing::Not(HasSubstr("11/3/2026")));
}

TEST(ReportCommand, WhatIsMissingInTheFileIsSaidAndTheRestIsReported) {
  Disk outside = disk();
  outside.files["b.jsonl"].resize(outside.files["b.jsonl"].size() - 40);
  const Outcome outcome = run({"report", "a.jsonl", "b.jsonl", "--pond", "p6"}, outside);
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_THAT(outcome.err, HasSubstr("left out: b.jsonl, "));
  EXPECT_THAT(outcome.out, HasSubstr("Saltbush"));
}

TEST(ReportCommand, WhatItCannotDoIsOneLine) {
  Disk outside = disk();
  const auto of = [&](std::vector<std::string> more) {
    more.insert(more.begin(), {"report", "a.jsonl", "b.jsonl"});
    return run(more, outside);
  };
  expect_refused(run({"report"}, outside), "name one logbook");
  expect_refused(run({"report", "--pond", "p6"}, outside), "name one logbook");
  expect_refused(of({}), "--pond");
  expect_refused(of({"--pond"}), "--pond takes one value");
  expect_refused(of({"--pond", "p6", "--pond", "p5"}), "--pond takes one value");
  expect_refused(of({"--pond", "p9"}), "Saltbush (p6)");
  expect_refused(of({"--pond", "p6", "--cycle", "no such"}), "no such");
  expect_refused(of({"--pond", "p6", "--language", "xx"}), "xx");
  expect_refused(of({"--pond", "p6", "--at", "noon"}), "noon");
  expect_refused(of({"--pond", "p6", "--pdf"}), "--pdf");
  expect_refused(of({"--pond", "p6", "c.jsonl"}), "c.jsonl");
  expect_refused(of({"--pond", "p6", "-o", "full/record.html"}), "could not be written");
}

}  // namespace
}  // namespace tawny::cli
