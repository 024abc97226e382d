// tawny sync on files and folders in memory.
#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <map>
#include <set>

#include "cli/command.h"
#include "core/logbook/entries.h"
#include "logbook/segment.h"

namespace tawny::cli {
namespace {

using namespace testing_entries;

class Disk : public Outside {
 public:
  Result<std::string> read(const std::string& path) override {
    if (const Carried<std::string> text = get(path)) return *text;
    return refuse(ProblemKind::missing, "", Message("problem.file_unreadable").with("file", Text{path}));
  }
  Instant now() override { return kMorning; }
  bool is_good(const SignatureCheck&) override { return false; }
  Carried<std::vector<std::string>> list(const std::string& folder) override {
    const std::string start = folder.back() == '/' ? folder : folder + "/";
    if (folders.count(start.substr(0, start.size() - 1)) == 0) return fault(CarryFault::not_there);
    std::set<std::string> names;
    for (const auto& [path, bytes] : files) {
      if (path.rfind(start, 0) != 0) continue;
      const std::size_t slash = path.find('/', start.size());
      names.insert(path.substr(start.size(), slash == std::string::npos ? slash : slash + 1 - start.size()));
    }
    return std::vector<std::string>(names.begin(), names.end());
  }
  Carried<std::string> get(const std::string& path) override {
    if (refused_get.count(path) > 0) return fault(CarryFault::no_right);
    const auto file = files.find(path);
    if (file == files.end()) return fault(CarryFault::not_there);
    return file->second;
  }
  Carried<void> put(const std::string& path, const std::string& bytes) override {
    const std::size_t slash = path.rfind('/');
    if (slash != std::string::npos && folders.count(path.substr(0, slash)) == 0)
      return fault(CarryFault::not_there);
    if (put_fault && path.rfind(fault_below, 0) == 0) return fault(*put_fault);
    ++puts;
    files[path] = bytes;
    return {};
  }
  Carried<void> make_folder(const std::string& path) override {
    const std::size_t slash = path.rfind('/');
    if (slash != std::string::npos && folders.count(path.substr(0, slash)) == 0)
      return fault(CarryFault::not_there);
    folders.insert(path);
    return {};
  }
  static tl::unexpected<CarryFault> fault(CarryFault what) { return tl::unexpected<CarryFault>(what); }

  std::map<std::string, std::string> files;
  std::set<std::string> folders = {"depot"};
  std::set<std::string> refused_get;
  std::optional<CarryFault> put_fault;
  std::string fault_below;
  int puts = 0;
};

std::string lines_of(std::string_view device, int count, std::string_view farm = "north-farm") {
  Logbook logbook{std::string(farm)};
  DeviceChain chain = chain_for(device, farm);
  for (int i = 0; i < count; ++i) logbook.add(sealed(level_draft(i), chain));
  return logbook.to_lines();
}

rapidjson::Document parsed(const std::string& json) {
  rapidjson::Document document;
  document.Parse(json.data(), json.size());
  EXPECT_FALSE(document.HasParseError()) << json;
  return document;
}

TEST(SyncCommand, BringsTwoLogbooksAndAnEmptyOneTogether) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 3);
  disk.files["b.jsonl"] = lines_of("b", 2);
  const Outcome first = run({"sync", "depot", "a.jsonl", "--as", "anna"}, disk);
  EXPECT_EQ(first.exit_code, 0) << first.err;
  const rapidjson::Document answer = parsed(first.out);
  EXPECT_EQ(answer["entries_out"].GetInt(), 3);
  EXPECT_EQ(answer["segments_out"].GetInt(), 1);
  EXPECT_STREQ(answer["farm"].GetString(), "north-farm");
  EXPECT_TRUE(answer["whole"].GetBool());
  EXPECT_EQ(disk.files.lower_bound("depot/anna/a/0/1-3-")->second, disk.files["a.jsonl"]);
  run({"sync", "depot", "b.jsonl", "--as", "ben"}, disk);
  run({"sync", "depot", "a.jsonl", "--as", "anna"}, disk);
  EXPECT_EQ(run({"sync", "depot", "new.jsonl"}, disk).exit_code, 0);
  EXPECT_EQ(disk.files["a.jsonl"], lines_of("a", 3) + lines_of("b", 2));
  EXPECT_EQ(disk.files["b.jsonl"], disk.files["a.jsonl"]);
  EXPECT_EQ(disk.files["new.jsonl"], disk.files["a.jsonl"]);
  const int puts = disk.puts;
  run({"sync", "depot", "a.jsonl", "--as", "anna"}, disk);
  EXPECT_EQ(disk.puts, puts) << "nothing new: nothing is written";
}

TEST(SyncCommand, AFolderThatIsNotThereIsSaidAndNotMade) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 1);
  const Outcome outcome = run({"sync", "stick", "a.jsonl"}, disk);
  EXPECT_EQ(outcome.exit_code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(outcome.err, "tawny sync: the folder stick: not there\n");
  EXPECT_EQ(disk.files.size(), 1U);
}

TEST(SyncCommand, AFolderThatGoesAwayMidwayIsNotMadeAnew) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 1);
  class Pulled : public Disk {
   public:
    Carried<void> make_folder(const std::string& path) override {
      folders.erase("depot");
      return Disk::make_folder(path);
    }
  } pulled;
  pulled.files = disk.files;
  const Outcome outcome = run({"sync", "depot", "a.jsonl"}, pulled);
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_EQ(pulled.files.size(), 1U);
}

TEST(SyncCommand, ANameThatCannotBeAFolderIsRefused) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 1);
  for (const char* name : {"", "..", "a/b", "a b"}) {
    EXPECT_EQ(run({"sync", "depot", "a.jsonl", "--as", name}, disk).exit_code, 2) << name;
  }
  EXPECT_EQ(disk.puts, 0);
}

TEST(SyncCommand, ALogbookWithALineThatCannotBeReadIsNotTouched) {
  for (const std::string& damaged :
       {lines_of("a", 2) + "{\"v\":1,", lines_of("a", 1) + lines_of("b", 1, "south-farm")}) {
    Disk disk;
    disk.files["b.jsonl"] = lines_of("b", 2);
    run({"sync", "depot", "b.jsonl"}, disk);
    disk.files["a.jsonl"] = damaged;
    const int puts = disk.puts;
    const Outcome outcome = run({"sync", "depot", "a.jsonl"}, disk);
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_NE(outcome.err.find("not touched"), std::string::npos) << outcome.err;
    EXPECT_EQ(disk.files["a.jsonl"], damaged);
    EXPECT_EQ(disk.puts, puts);
  }
}

TEST(SyncCommand, ALogbookThatMayNotBeReadIsNotTakenForANewOne) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 2);
  disk.refused_get = {"a.jsonl"};
  EXPECT_EQ(run({"sync", "depot", "a.jsonl"}, disk).exit_code, 2);
  EXPECT_EQ(disk.files["a.jsonl"], lines_of("a", 2));
}

TEST(SyncCommand, AFolderThatMayNotBeWrittenStillGivesWhatItHas) {
  for (const CarryFault fault : {CarryFault::no_right, CarryFault::full}) {
    Disk disk;
    disk.files["a.jsonl"] = lines_of("a", 2);
    disk.files["b.jsonl"] = lines_of("b", 2);
    run({"sync", "depot", "b.jsonl"}, disk);
    disk.put_fault = fault;
    disk.fault_below = "depot/";
    const Outcome outcome = run({"sync", "depot", "a.jsonl"}, disk);
    EXPECT_EQ(outcome.exit_code, 1);
    const rapidjson::Document answer = parsed(outcome.out);
    EXPECT_FALSE(answer["whole"].GetBool());
    EXPECT_EQ(answer["entries_in"].GetInt(), 2);
    EXPECT_EQ(answer["faults"][0]["fault"].GetString(), name_of(fault));
    EXPECT_EQ(disk.files["a.jsonl"], lines_of("a", 2) + lines_of("b", 2));
  }
}

TEST(SyncCommand, ALogbookThatCannotBeWrittenIsNoSuccessAndNothingGoesOut) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 2);
  disk.files["b.jsonl"] = lines_of("b", 2);
  run({"sync", "depot", "b.jsonl"}, disk);
  const auto before = disk.files;
  disk.put_fault = CarryFault::full;
  disk.fault_below = "a.jsonl";
  const Outcome outcome = run({"sync", "depot", "a.jsonl"}, disk);
  EXPECT_EQ(outcome.exit_code, 2);
  EXPECT_EQ(outcome.err, "tawny sync: a.jsonl cannot be written: the disk is full\n");
  EXPECT_EQ(disk.files, before);
}

TEST(SyncCommand, ADamagedFileOfTheDepotIsNamedAndMadeWholeByItsWriter) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 4);
  run({"sync", "depot", "a.jsonl", "--as", "anna"}, disk);
  const std::string path = disk.files.lower_bound("depot/")->first;
  disk.files[path].resize(disk.files[path].size() / 2);
  const Outcome outcome = run({"sync", "depot", "new.jsonl", "--as", "anna2"}, disk);
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_NE(outcome.err.find(path), std::string::npos) << outcome.err;
  EXPECT_EQ(parsed(outcome.out)["entries_in"].GetInt(), 2);
  run({"sync", "depot", "a.jsonl", "--as", "anna"}, disk);
  run({"sync", "depot", "new.jsonl", "--as", "anna2"}, disk);
  EXPECT_EQ(disk.files["new.jsonl"], disk.files["a.jsonl"]);
}

TEST(SyncCommand, AWholeFileOfTheDepotIsNeverWrittenAgain) {
  Disk disk;
  disk.files["a.jsonl"] = lines_of("a", 4);
  run({"sync", "depot", "a.jsonl", "--as", "anna"}, disk);
  const int puts = disk.puts;
  // As if the listing had not shown it yet.
  class Late : public Disk {
   public:
    Carried<std::vector<std::string>> list(const std::string&) override { return std::vector<std::string>(); }
  } late;
  late.files = disk.files;
  late.folders = disk.folders;
  EXPECT_EQ(run({"sync", "depot", "a.jsonl", "--as", "anna"}, late).exit_code, 0);
  EXPECT_EQ(late.puts, 0);
  EXPECT_EQ(late.files, disk.files);
  EXPECT_EQ(puts, 1);
}

}  // namespace
}  // namespace tawny::cli
