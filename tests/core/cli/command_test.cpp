// The shell command, whole: what it prints, what it says on the error stream, with which exit code it ends.
#include "cli/command.h"

#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <algorithm>
#include <map>

#include "assets.h"
#include "farm/demo.h"
#include "farm/farm.h"
#include "farm/rounds.h"
#include "logbook/bundle.h"
#include "logbook/kinds.h"
#include "logbook/receipts.h"
#include "reckon/reckon.h"

namespace tawny::cli {
namespace {

class Files : public Outside {
 public:
  Result<std::string> read(const std::string& path) override {
    const auto file = files.find(path);
    if (file != files.end()) return file->second;
    return refuse(ProblemKind::missing, "", Message("problem.file_unreadable").with("file", Text{path}));
  }
  Instant now() override { return clock; }
  bool is_good(const SignatureCheck&) override { return false; }
  Carried<std::vector<std::string>> list(const std::string&) override { return not_there(); }
  Carried<std::string> get(const std::string&) override { return not_there(); }
  Carried<void> put(const std::string&, const std::string&) override { return not_there(); }
  Carried<void> make_folder(const std::string&) override { return not_there(); }
  static tl::unexpected<CarryFault> not_there() { return tl::unexpected<CarryFault>(CarryFault::not_there); }

  std::map<std::string, std::string> files;
  Instant clock = *parse_instant("2026-03-21T03:00:00Z");
};

rapidjson::Document parsed(const std::string& json) {
  rapidjson::Document document;
  document.Parse(json.data(), json.size());
  EXPECT_FALSE(document.HasParseError()) << json;
  return document;
}

void expect_refused(const Outcome& outcome) {
  EXPECT_EQ(outcome.exit_code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 1) << outcome.err;
  EXPECT_EQ(outcome.err.rfind("tawny", 0), 0U) << outcome.err;
}

// --- reckon

TEST(ReckonCommand, AnswersWithOneObject) {
  Files files;
  const Outcome outcome = run({"reckon", "oxygen-saturation", "temperature_c=25", "salinity=0"}, files);
  EXPECT_EQ(outcome.exit_code, 0);
  EXPECT_EQ(outcome.err, "");
  const rapidjson::Document answer = parsed(outcome.out);
  ASSERT_TRUE(answer.IsObject());
  EXPECT_STREQ(answer["reckoning"].GetString(), "oxygen-saturation");
  EXPECT_EQ(answer["inputs"]["temperature_c"].GetDouble(), 25);
  EXPECT_EQ(answer["inputs"]["salinity"].GetDouble(), 0);
  // EN 25814 / ISO 5814, table: 8.26.
  EXPECT_NEAR(answer["results"]["oxygen_saturation_mg_l"].GetDouble(), 8.26, 0.005);
  EXPECT_NE(std::string(answer["source"].GetString()).find("Benson & Krause"), std::string::npos);
}

TEST(ReckonCommand, EveryReckoningOfTheTableAnswersItsExample) {
  Files files;
  for (const Reckoning& reckoning : reckonings()) {
    std::vector<std::string> arguments = {"reckon", std::string(reckoning.name)};
    std::string example(reckoning.example);
    for (std::size_t at = 0; at < example.size();) {
      const std::size_t end = std::min(example.find(' ', at), example.size());
      arguments.push_back(example.substr(at, end - at));
      at = end + 1;
    }
    const Outcome outcome = run(arguments, files);
    ASSERT_EQ(outcome.exit_code, 0) << outcome.err;
    const rapidjson::Document answer = parsed(outcome.out);
    EXPECT_FALSE(answer["results"].ObjectEmpty()) << reckoning.name;
    // What was reckoned with, given back, reckons the same.
    std::vector<std::string> again = {"reckon", std::string(reckoning.name)};
    for (const auto& input : answer["inputs"].GetObject()) {
      const std::string value =
          input.value.IsString() ? input.value.GetString() : Words().number(input.value.GetDouble(), 6);
      again.push_back(std::string(input.name.GetString()) + "=" + value);
    }
    EXPECT_EQ(run(again, files).out, outcome.out) << reckoning.name;
  }
}

TEST(ReckonCommand, BadInputIsOneLineAndNothingElse) {
  Files files;
  const std::vector<std::vector<std::string>> lines = {
      {"reckon", "oxygen-saturation", "temperature_c=60", "salinity=0"},
      {"reckon", "oxygen-saturation", "temperature_c=25"},
      {"reckon", "oxygen-saturation", "temperature_c=25", "salinity=0", "colour=green"},
      {"reckon", "oxygen-saturation", "temperature_c=25", "salinity=0", "salinity=0"},
      {"reckon", "oxygen-saturation", "temperature_c=25", "salinity"},
      {"reckon", "oxygen-saturation", "=25", "salinity=0"},
      {"reckon", "oxygen-saturation", "temperature_c=nan", "salinity=0"},
      {"reckon", "oxygen-saturation", "temperature_c=", "salinity=0"},
      {"reckon", "oxygen"},
      {"reckon", ""},
      {"weigh"},
      {"assess"},
      {"assess", "a", "b"},
      {"assess", "a", "--at"},
      {"assess", "a", "--at", "yesterday"},
      {"assess", "not there"},
      {"outlook"},
      {"outlook", "a"},
      {"outlook", "--pond", "p1"},
      {"outlook", "a", "--pond"},
      {"outlook", "a", "--pond", "p1", "--pond", "p2"},
      {"outlook", "a", "--pond", "p1", "--at", "yesterday"},
      {"outlook", "a", "b", "--pond", "p1"},
      {"outlook", "not there", "--pond", "p1"},
      {"check"},
      {"check", "not there"},
      {"merge"},
      {"export"},
      {"export", "--csv"},
      {"export", "--xml", "not there"},
      {"export", "--csv", "not there"},
      {"export", "--csv", "not there", "neither"},
      {"merge", "not there"},
      {"sync"},
      {"sync", "not there"},
      {"sync", "not there", "a"},
      {"sync", "not there", "a", "--as"},
      {"sync", "not there", "a", "b"},
      {"sync", "not there", "-"},
  };
  for (const auto& line : lines) expect_refused(run(line, files));
}

TEST(ReckonCommand, TheLineNamesTheKeyItsUnitAndItsRange) {
  Files files;
  const Outcome outcome = run({"reckon", "oxygen-saturation", "temperature_c=60", "salinity=0"}, files);
  for (const char* part : {"oxygen-saturation", "temperature_c", "60", "0", "40", "°C"}) {
    EXPECT_NE(outcome.err.find(part), std::string::npos) << part << ": " << outcome.err;
  }
}

TEST(ReckonCommand, AloneItListsNamesKeysUnitsAndRanges) {
  Files files;
  const Outcome outcome = run({"reckon"}, files);
  EXPECT_EQ(outcome.exit_code, 0);
  const Words words = *Words::parse(assets::language("en"));
  for (const Reckoning& reckoning : reckonings()) {
    const std::size_t at = outcome.out.find("\n" + std::string(reckoning.name) + "\n");
    ASSERT_TRUE(at != std::string::npos || outcome.out.rfind(std::string(reckoning.name) + "\n", 0) == 0)
        << reckoning.name;
    const std::size_t begin = at == std::string::npos ? 0 : at;
    const std::string block = outcome.out.substr(begin, outcome.out.find("\n\n", begin + 1) - begin);
    for (const ReckonInput& input : reckoning.inputs) {
      EXPECT_NE(block.find("< " + std::string(input.key) + " "), std::string::npos) << block << input.key;
      if (!input.range.unit.empty()) {
        EXPECT_NE(block.find(words.unit(input.range.unit)), std::string::npos) << block << input.key;
      }
    }
    for (const ReckonResult& result : reckoning.results) {
      EXPECT_NE(block.find("> " + std::string(result.key)), std::string::npos) << block << result.key;
    }
    EXPECT_NE(block.find(reckoning.source), std::string::npos) << reckoning.name;
  }
}

TEST(Command, WithoutArgumentsItTellsItsUse) {
  Files files;
  const Outcome bare_call = run({}, files);
  EXPECT_EQ(bare_call.exit_code, 2);
  EXPECT_EQ(bare_call.out, "");
  const Outcome help = run({"help"}, files);
  EXPECT_EQ(help.exit_code, 0);
  EXPECT_EQ(help.out, bare_call.err);
}

// --- logbooks

const Instant kNow = *parse_instant("2026-03-21T03:00:00Z");

const Protocol& protocol() {
  static const Protocol kProtocol = *Protocol::parse(assets::find("protocol.json"));
  return kProtocol;
}

// The demo farm's entries, shared among two devices in turn.
const Logbook& two_devices() {
  static const Logbook kLogbook = [] {
    DeviceChain chains[2];
    for (int i = 0; i < 2; ++i) {
      chains[i].farm = "demo";
      chains[i].device = i == 0 ? "boat" : "bank";
    }
    Logbook logbook;
    std::size_t count = 0;
    const auto drafts = demo_drafts(assets::find("demo-farm.json"), protocol(), kNow);
    for (const Draft& draft : *drafts) {
      DeviceChain& chain = chains[++count % 2];
      auto entry = seal(draft, draft.observed, chain);
      EXPECT_TRUE(entry);
      logbook.add(*std::move(entry));
    }
    return logbook;
  }();
  return kLogbook;
}

std::string lines_of(const std::string& device) {
  std::string lines;
  for (const Entry* entry : two_devices().all()) {
    if (entry->id.device == device) lines += entry->line + "\n";
  }
  return lines;
}

TEST(AssessCommand, TellsWhatTheFarmFoldsTo) {
  Files files;
  files.files["farm.jsonl"] = two_devices().to_lines();
  const Outcome outcome = run({"assess", "farm.jsonl", "--at", to_iso(kNow)}, files);
  EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
  const rapidjson::Document answer = parsed(outcome.out);
  const Farm farm = fold_farm(two_devices(), protocol(), kNow);
  ASSERT_EQ(answer["ponds"].Size(), farm.ponds.size());
  std::size_t criteria = 0, with_evidence = 0;
  for (rapidjson::SizeType i = 0; i < answer["ponds"].Size(); ++i) {
    const auto& told = answer["ponds"][i];
    const FarmPond& pond = farm.ponds[i];
    EXPECT_EQ(told["id"].GetString(), pond.history.pond.id);
    EXPECT_EQ(told["in_cycle"].GetBool(), pond.state.in_cycle);
    if (!pond.state.in_cycle) continue;
    EXPECT_EQ(told["stage"].GetString(), name_of(pond.state.stage));
    ASSERT_EQ(told["criteria"].Size(), pond.state.criteria.size());
    for (rapidjson::SizeType k = 0; k < told["criteria"].Size(); ++k) {
      const auto& each = told["criteria"][k];
      const Criterion& criterion = pond.state.criteria[k];
      EXPECT_EQ(each["id"].GetString(), criterion.id);
      const char* names[] = {"met", "unmet", "unknown"};
      EXPECT_STREQ(each["verdict"].GetString(), names[static_cast<int>(criterion.verdict)]);
      EXPECT_EQ(each["why"]["id"].GetString(), criterion.why.id);
      ++criteria;
      for (const auto& reference : each["evidence"].GetArray()) {
        ++with_evidence;
        EXPECT_NE(two_devices().find(reference.GetString()), nullptr) << reference.GetString();
      }
    }
    EXPECT_EQ(told["troubles"].Size(), pond.state.troubles.size());
  }
  EXPECT_GT(criteria, 10U);
  EXPECT_GT(with_evidence, 10U);
  EXPECT_EQ(answer["rounds"].Size(), rounds(farm, protocol(), kNow)->items.size());
}

TEST(AssessCommand, WithoutATimeItIsNow) {
  Files files;
  files.files["farm.jsonl"] = two_devices().to_lines();
  files.clock = kNow;
  EXPECT_EQ(run({"assess", "farm.jsonl"}, files).out,
            run({"assess", "farm.jsonl", "--at", to_iso(kNow)}, files).out);
  EXPECT_NE(run({"assess", "farm.jsonl"}, files).out,
            run({"assess", "farm.jsonl", "--at", to_iso(kNow.plus_h(-30))}, files).out);
}

TEST(AssessCommand, ReceiptsOfAnOfficeChangeNothing) {
  Logbook with_receipt = two_devices();
  Draft draft;
  draft.kind = std::string(kind::kOfficeReceipt);
  draft.observed = kNow.plus_h(-1);
  draft.values = *receipt_due(with_receipt, "office");
  DeviceChain chain = with_receipt.chain_of("office");
  with_receipt.add(*seal(draft, kNow.plus_h(-1), chain));
  Files files;
  files.files["plain.jsonl"] = two_devices().to_lines();
  files.files["farm.jsonl"] = with_receipt.to_lines();
  const Outcome outcome = run({"assess", "farm.jsonl", "--at", to_iso(kNow)}, files);
  files.files["farm.jsonl"] = two_devices().to_lines();
  EXPECT_EQ(outcome.out, run({"assess", "farm.jsonl", "--at", to_iso(kNow)}, files).out);
  EXPECT_EQ(outcome.exit_code, 0);
  files.files["farm.jsonl"] = with_receipt.to_lines();
  EXPECT_EQ(parsed(run({"check", "farm.jsonl"}, files).out)["problems"].Size(),
            parsed(run({"check", "plain.jsonl"}, files).out)["problems"].Size());
}

TEST(AssessCommand, SaysWhenNotEverythingCouldBeUsed) {
  Files files;
  files.files["farm.jsonl"] = two_devices().to_lines() + "{\"half\": \n";
  const Outcome outcome = run({"assess", "farm.jsonl", "--at", to_iso(kNow)}, files);
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_TRUE(parsed(outcome.out)["ponds"].Size() > 0);
  EXPECT_NE(outcome.err.find("tawny check"), std::string::npos);
}

TEST(OutlookCommand, TellsThePondsForecastByIdAndByName) {
  Files files;
  files.files["farm.jsonl"] = two_devices().to_lines();
  const Farm farm = fold_farm(two_devices(), protocol(), kNow);
  int told_with_score = 0, doses = 0;
  for (const FarmPond& pond : farm.ponds) {
    const Pond& one = pond.history.pond;
    const Outcome outcome = run({"outlook", "farm.jsonl", "--pond", one.id, "--at", to_iso(kNow)}, files);
    ASSERT_EQ(outcome.exit_code, 0) << outcome.err;
    EXPECT_EQ(run({"outlook", "farm.jsonl", "--pond", one.name, "--at", to_iso(kNow)}, files).out, outcome.out);
    const rapidjson::Document answer = parsed(outcome.out);
    EXPECT_EQ(answer["pond"].GetString(), one.id);
    EXPECT_TRUE(answer["dawn"].HasMember("not_told") != answer["dawn"].HasMember("under_floor"));
    const auto& bloom = answer["bloom"];
    if (bloom.HasMember("not_told")) continue;
    ASSERT_EQ(bloom["doses"].Size(), pond.state.dose.allowed ? 3U : 1U) << one.id;
    doses += static_cast<int>(bloom["doses"].Size());
    EXPECT_EQ(bloom["doses"][0]["rate_kg_ha"].GetDouble(), 0);
    for (const auto& dose : bloom["doses"].GetArray()) {
      ASSERT_EQ(dose["days"].Size(), 5U);
      for (const auto& day : dose["days"].GetArray()) {
        EXPECT_LT(day["low_cm"].GetDouble(), day["median_cm"].GetDouble());
        EXPECT_LT(day["median_cm"].GetDouble(), day["high_cm"].GetDouble());
      }
    }
    EXPECT_EQ(bloom["advice"].GetBool(), !bloom.HasMember("no_advice"));
    if (!bloom["advice"].GetBool()) {
      EXPECT_TRUE(bloom["suggested_kg_ha"].IsNull());
    }
    if (bloom["score"]["judged"].GetInt() == 0) continue;
    ++told_with_score;
    EXPECT_GT(bloom["score"]["persistence_crps_cm"].GetDouble(), 0);
    EXPECT_TRUE(bloom["score"].HasMember("trend_crps_cm"));
  }
  EXPECT_GT(told_with_score, 0);
  EXPECT_GT(doses, 5);
}

TEST(OutlookCommand, SaysWhenThereIsNoSuchPond) {
  Files files;
  files.files["farm.jsonl"] = two_devices().to_lines();
  const Outcome outcome = run({"outlook", "farm.jsonl", "--pond", "Nowhere", "--at", to_iso(kNow)}, files);
  expect_refused(outcome);
  EXPECT_NE(outcome.err.find("Kingfisher"), std::string::npos) << outcome.err;
}

TEST(CheckCommand, FindsNothingInAWholeLogbook) {
  Files files;
  files.files["farm.jsonl"] = two_devices().to_lines();
  const Outcome outcome = run({"check", "farm.jsonl"}, files);
  EXPECT_EQ(outcome.exit_code, 0) << outcome.err << outcome.out;
  const rapidjson::Document answer = parsed(outcome.out);
  EXPECT_EQ(answer["problems"].Size(), 0U);
  EXPECT_EQ(answer["entries"].GetUint(), two_devices().size());
  EXPECT_EQ(answer["devices"].Size(), 2U);
}

TEST(CheckCommand, FindsTheLineThatWasChanged) {
  std::string lines = two_devices().to_lines();
  // One digit of a number in the tenth line.
  std::size_t at = 0;
  for (int line = 1; line < 10; ++line) at = lines.find('\n', at) + 1;
  const std::size_t digit = lines.find_first_of("123456789", lines.find("\"values\"", at));
  lines[digit] = lines[digit] == '9' ? '8' : static_cast<char>(lines[digit] + 1);
  Files files;
  files.files["farm.jsonl"] = lines;
  const Outcome outcome = run({"check", "farm.jsonl"}, files);
  EXPECT_EQ(outcome.exit_code, 1);
  const rapidjson::Document answer = parsed(outcome.out);
  ASSERT_GE(answer["problems"].Size(), 1U);
  EXPECT_EQ(answer["problems"][0]["line"].GetInt(), 10);
  EXPECT_STREQ(answer["problems"][0]["id"].GetString(), "problem.line_changed");
}

TEST(CheckCommand, FindsTheGapWhereALineIsGone) {
  std::string lines = two_devices().to_lines();
  std::size_t at = 0;
  for (int line = 1; line < 10; ++line) at = lines.find('\n', at) + 1;
  lines.erase(at, lines.find('\n', at) + 1 - at);
  Files files;
  files.files["farm.jsonl"] = lines;
  const Outcome outcome = run({"check", "farm.jsonl"}, files);
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_NE(outcome.out.find("chain.gap"), std::string::npos) << outcome.out;
}

TEST(MergeCommand, IsTheUnionInAnyOrderAnyNumberOfTimes) {
  Files files;
  files.files["boat"] = lines_of("boat");
  files.files["bank"] = lines_of("bank");
  const Outcome merged = run({"merge", "boat", "bank"}, files);
  EXPECT_EQ(merged.exit_code, 0) << merged.err;
  EXPECT_EQ(merged.out, two_devices().to_lines());
  EXPECT_EQ(run({"merge", "bank", "boat", "bank"}, files).out, merged.out);
  files.files["all"] = merged.out;
  EXPECT_EQ(run({"merge", "all", "boat"}, files).out, merged.out);
}

TEST(MergeCommand, SaysWhichLinesItLeavesOut) {
  Files files;
  files.files["boat"] = lines_of("boat");
  files.files["torn"] = lines_of("bank") + "{\"half\": \n";
  const Outcome merged = run({"merge", "boat", "torn"}, files);
  EXPECT_EQ(merged.exit_code, 1);
  EXPECT_EQ(merged.out, two_devices().to_lines());
  EXPECT_NE(merged.err.find("torn"), std::string::npos) << merged.err;
}

TEST(MergeCommand, TakesBundlesAndNamesWhatOneLacks) {
  Files files;
  Logbook boat;
  boat.load(lines_of("boat"));
  files.files["boat"] = write_bundle(boat, kNow, "boat");
  files.files["bank"] = lines_of("bank");
  const Outcome whole = run({"merge", "boat", "bank"}, files);
  EXPECT_EQ(whole.exit_code, 0) << whole.err;
  EXPECT_EQ(whole.err, "");
  EXPECT_EQ(whole.out, two_devices().to_lines());
  // The last line is lost, with its line feed.
  files.files["boat"].resize(files.files["boat"].rfind('\n', files.files["boat"].size() - 2) + 1);
  const Outcome cut = run({"merge", "boat", "bank"}, files);
  EXPECT_EQ(cut.exit_code, 1);
  EXPECT_LT(cut.out.size(), whole.out.size());
  const std::string last = std::to_string(boat.chain_of("boat").last_number);
  EXPECT_EQ(cut.err, "tawny merge: boat: Missing from this file: entry " + last + " of device boat.\n");
}

TEST(MergeCommand, TakesABundleWithoutEntries) {
  Files files;
  files.files["boat"] = lines_of("boat");
  files.files["nothing"] = write_bundle(Logbook(), kNow, "new");
  for (const Arguments& arguments :
       {Arguments{"merge", "boat", "nothing"}, Arguments{"merge", "nothing", "boat"}}) {
    const Outcome merged = run(arguments, files);
    EXPECT_EQ(merged.exit_code, 0) << merged.err;
    EXPECT_EQ(merged.out, lines_of("boat"));
  }
}

TEST(CheckCommand, NamesWhatABundleLacks) {
  Files files;
  const std::string bundle = write_bundle(two_devices(), kNow, "boat");
  files.files["whole.txt"] = bundle;
  EXPECT_EQ(run({"check", "whole.txt"}, files).exit_code, 0);
  // A whole line gone, no other hurt: only the index knows it where it is the last of its device.
  files.files["cut.txt"] = bundle.substr(0, bundle.rfind('\n', bundle.size() - 2) + 1);
  const Outcome outcome = run({"check", "cut.txt"}, files);
  EXPECT_EQ(outcome.exit_code, 1);
  const rapidjson::Document answer = parsed(outcome.out);
  ASSERT_EQ(answer["problems"].Size(), 1U);
  const rapidjson::Value& missing = answer["problems"][0];
  EXPECT_STREQ(missing["id"].GetString(), "import.missing_one");
  EXPECT_EQ(missing["first"].GetUint(), missing["last"].GetUint());
  EXPECT_EQ(missing["device"].GetString(), two_devices().devices().back());
}

TEST(CheckCommand, SaysThatAnIndexWasChanged) {
  Files files;
  std::string bundle = write_bundle(two_devices(), kNow, "boat");
  ++bundle[20];
  files.files["farm.txt"] = bundle;
  const Outcome outcome = run({"check", "farm.txt"}, files);
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_NE(outcome.out.find("problem.bundle_index"), std::string::npos);
}

TEST(ExportCommand, WritesATableOrTheLines) {
  Files files;
  files.files["farm.txt"] = write_bundle(two_devices(), kNow, "boat");
  files.files["farm.jsonl"] = two_devices().to_lines();
  for (const char* file : {"farm.txt", "farm.jsonl"}) {
    const Outcome table = run({"export", "--csv", file}, files);
    EXPECT_EQ(table.exit_code, 0) << table.err;
    EXPECT_EQ(table.out.substr(0, 16),
              "\xef\xbb\xbf"
              "device,number");
    const Outcome lines = run({"export", "--jsonl", file}, files);
    EXPECT_EQ(lines.exit_code, 0) << lines.err;
    EXPECT_EQ(lines.out, two_devices().to_lines());
  }
  files.files["torn.jsonl"] = two_devices().to_lines() + "{\"v\":1,";
  const Outcome torn = run({"export", "--jsonl", "torn.jsonl"}, files);
  EXPECT_EQ(torn.exit_code, 1);
  EXPECT_EQ(torn.out, two_devices().to_lines());
  EXPECT_NE(torn.err.find("left out"), std::string::npos);
}

TEST(MergeCommand, RefusesAnotherFarmsLogbook) {
  DeviceChain chain;
  chain.farm = "another";
  chain.device = "phone";
  Draft draft;
  draft.kind = "sky";
  draft.observed = kNow;
  draft.values["sky"] = std::string("bright");
  Files files;
  files.files["boat"] = lines_of("boat");
  files.files["other"] = seal(draft, kNow, chain)->line + "\n";
  expect_refused(run({"merge", "boat", "other"}, files));
}

TEST(MergeCommand, RefusesWhatIsNoLogbook) {
  Files files;
  files.files["boat"] = lines_of("boat");
  files.files["letter"] = "Dear all,\nthe pond is golden.\n";
  files.files["empty"] = "";
  expect_refused(run({"merge", "boat", "letter"}, files));
  expect_refused(run({"merge", "boat", "empty"}, files));
}

// --- what names may do

TEST(Commands, ANameSteersNoTerminal) {
  Files files;
  const Outcome refused = run({"assess", "\x1b[31mred\u202Etxt.exe"}, files);
  expect_refused(refused);
  EXPECT_EQ(refused.err.find('\x1b'), std::string::npos) << refused.err;
  EXPECT_NE(refused.err.find("[U+001B][31mred[U+202E]txt.exe"), std::string::npos) << refused.err;
  const Outcome formats = run({"reckon", "%s%n%x", "a=%1$s"}, files);
  EXPECT_NE(formats.err.find("%s%n%x"), std::string::npos) << formats.err;
}

}  // namespace
}  // namespace tawny::cli
