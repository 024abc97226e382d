// Whatever goes wrong on the way, in whatever order: in the end everybody holds everything, once.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "core/logbook/entries.h"
#include "core/logbook/fake_depot.h"
#include "watched.h"

namespace tawny {
namespace {

// Sanitizers make a run some ten times slower, and look for faults of another kind, which a share of the seeds
// shows as well.
unsigned seeds_of(unsigned all) { return testing_watched::is_watched() ? all / 10 : all; }

using namespace testing_entries;
using namespace testing_depot;
using Act = DepotStep::Act;

class Chance {
 public:
  explicit Chance(unsigned seed) : random_(seed) {}
  int below(int limit) { return static_cast<int>(random_() % static_cast<unsigned>(limit)); }
  bool one_in(int count) { return below(count) == 0; }
  std::string garbage(int longest) {
    std::string bytes(static_cast<std::size_t>(below(longest + 1)), '\0');
    for (char& byte : bytes) byte = static_cast<char>(below(256));
    return bytes;
  }
  // A bit turned, the end cut off, something behind it, or other bytes altogether.
  void spoil(std::string& bytes) {
    if (bytes.empty()) return;
    const auto at = static_cast<std::size_t>(below(static_cast<int>(bytes.size())));
    switch (below(4)) {
      case 0:
        bytes[at] = static_cast<char>(bytes[at] ^ (1 << below(8)));
        break;
      case 1:
        bytes.resize(at);
        break;
      case 2:
        bytes += garbage(40);
        break;
      default:
        bytes = garbage(200);
    }
  }

 private:
  std::mt19937 random_;
};

// Steps fail with any fault, uploads are torn, answers are lost, bytes change on the way, the driver dies.
OnStep storm(Chance& chance, int one_in) {
  return [&chance, one_in](const DepotStep& step, std::string& bytes) {
    Mishap mishap;
    if (!chance.one_in(one_in)) return mishap;
    const bool put = step.act == Act::put;
    switch (chance.below(put ? 4 : 3)) {
      case 0:
        mishap.fault = static_cast<CarryFault>(chance.below(10));
        break;
      case 1:
        mishap.aborted = true;
        break;
      case 2:
        // Bytes altered in an upload are what the read back is there for.
        if (!put) chance.spoil(bytes);
        mishap.done_all_the_same = put;
        if (put) mishap.fault = CarryFault::offline;
        break;
      default:
        chance.spoil(bytes);
        mishap.done_all_the_same = true;
        mishap.aborted = chance.one_in(2);
        if (!mishap.aborted && chance.one_in(2)) mishap.fault = CarryFault::server;
    }
    return mishap;
  };
}

struct Farm {
  FakeDepot depot;
  std::vector<FakeDevice> devices;
  std::set<std::string> written;  // every line that was ever saved
};

Draft any_draft(Chance& chance, const Logbook& logbook) {
  Draft draft = level_draft(chance.below(1000), kMorning.plus_min(chance.below(50)));
  const std::vector<const Entry*> all = logbook.all();
  if (all.empty() || !chance.one_in(4)) return draft;
  const Entry& other = *all[static_cast<std::size_t>(chance.below(static_cast<int>(all.size())))];
  return chance.one_in(2) ? void_of(other) : correction_of(other, 7);
}

void write_some(Chance& chance, FakeDevice& device, Farm& farm) {
  const std::uint32_t before = device.logbook.chain_of(device.name).last_number;
  for (int count = 1 + chance.below(chance.one_in(20) ? 250 : 4); count > 0; --count) {
    device.write(any_draft(chance, device.logbook));
  }
  if (chance.one_in(8)) {
    const std::uint32_t number = device.logbook.chain_of(device.name).last_number + 1;
    device.logbook.add_line(line_of(R"({"v":2,"farm":"north-farm","device":")" + device.name +
                                    R"(","number":)" + std::to_string(number) + R"(,"new":)" +
                                    std::to_string(chance.below(999))));
  }
  device.logbook.visit(device.name, before + 1, UINT32_MAX,
                       [&](const Logbook::Line& line) { farm.written.emplace(line.bytes); });
}

Farm five_devices(Chance& chance) {
  Farm farm;
  farm.depot.flat = chance.one_in(2);
  for (const char* name : {"a", "b", "c", "d", "e"}) {
    farm.devices.emplace_back(name, chance.one_in(4) ? "shared" : std::string("w") + name);
    farm.devices.back().office = chance.one_in(4);
  }
  return farm;
}

// Gives how many syncs did more than look.
int sync_all_in_turn(Farm& farm) {
  int busy = 0;
  for (FakeDevice& device : farm.devices) {
    const Steps steps = sync(device, farm.depot);
    // A torn file that nobody can make whole any more, its numbers being in conflict by now, is looked at
    // again.
    const bool looked = std::all_of(steps.gets.begin(), steps.gets.end(), [&](const std::string& name) {
      return segment_hash(farm.depot.files[name]) != parse_segment_name(name)->hash;
    });
    busy += looked && steps.puts.empty() ? 0 : 1;
  }
  return busy;
}

// After `rounds` of syncs in which nothing goes wrong everybody holds the same, and after `more` all are quiet.
void expect_all_the_same(Farm& farm, int rounds, int more) {
  // A receipt that is written in the last but one round still has to reach the others.
  if (std::any_of(farm.devices.begin(), farm.devices.end(),
                  [](const FakeDevice& device) { return device.office; })) {
    ++rounds;
  }
  for (int round = 0; round < rounds; ++round) sync_all_in_turn(farm);
  for (FakeDevice& device : farm.devices) {
    if (!device.office) continue;
    device.logbook.visit(device.name, 1, UINT32_MAX, [&](const Logbook::Line& line) {
      if (line.entry != nullptr && line.entry->kind == kind::kOfficeReceipt) farm.written.emplace(line.bytes);
    });
  }
  const std::string lines = farm.devices.front().logbook.to_lines();
  for (const FakeDevice& device : farm.devices) ASSERT_TRUE(device.logbook.to_lines() == lines) << device.name;
  std::multiset<std::string> held;
  farm.devices.front().logbook.visit([&](const Logbook::Line& line) { held.emplace(line.bytes); });
  ASSERT_TRUE(held == std::multiset<std::string>(farm.written.begin(), farm.written.end()));
  for (int round = 0; round < more; ++round) sync_all_in_turn(farm);
  ASSERT_EQ(sync_all_in_turn(farm), 0);
  for (const FakeDevice& device : farm.devices) ASSERT_TRUE(device.logbook.to_lines() == lines) << device.name;
}

TEST(DepotProperties, AnyOrderOfSyncsAndHandCarriedLogbooksEndsWithTheSameBytes) {
  for (unsigned seed = 1; seed <= seeds_of(700) && !testing::Test::HasFatalFailure(); ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Chance chance(seed);
    Farm farm = five_devices(chance);
    const int one_in = 2 + chance.below(12);
    const auto any_device = [&]() -> FakeDevice& {
      return farm.devices[static_cast<std::size_t>(chance.below(5))];
    };
    for (int act = 0; act < 30; ++act) {
      FakeDevice& device = any_device();
      switch (chance.below(8)) {
        case 0:
        case 1:
        case 2:
          write_some(chance, device, farm);
          break;
        case 3:
          device.logbook.merge(any_device().logbook);
          break;
        case 4:
          if (chance.one_in(3)) device.known.clear();
          break;
        default:
          sync(device, farm.depot, storm(chance, one_in));
      }
    }
    expect_all_the_same(farm, 2, 0);
  }
}

TEST(DepotProperties, BothLinesOfEveryNumberThatACloneWroteAgainArriveEverywhere) {
  for (unsigned seed = 1; seed <= seeds_of(500) && !testing::Test::HasFatalFailure(); ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Chance chance(seed);
    Farm farm = five_devices(chance);
    const int one_in = 3 + chance.below(12);
    for (int act = 0; act < 30; ++act) {
      FakeDevice& device = farm.devices[static_cast<std::size_t>(chance.below(5))];
      FakeDevice& other = farm.devices[static_cast<std::size_t>(chance.below(5))];
      if (chance.one_in(10)) {
        // All that the browser holds is copied to another phone.
        const bool office = other.office;
        other = device;
        other.office = office;
      } else if (chance.one_in(2)) {
        write_some(chance, device, farm);
      } else if (chance.one_in(3)) {
        device.logbook.merge(other.logbook);
      } else {
        sync(device, farm.depot, storm(chance, one_in));
      }
    }
    // What a clone overwrote and nobody had taken from it is gone with that phone's browser.
    farm.written.clear();
    for (const FakeDevice& device : farm.devices) {
      device.logbook.visit([&](const Logbook::Line& line) { farm.written.emplace(line.bytes); });
    }
    for (const auto& [name, bytes] : farm.depot.files) {
      Logbook in_file("north-farm");
      in_file.load(bytes);
      in_file.visit([&](const Logbook::Line& line) { farm.written.emplace(line.bytes); });
    }
    expect_all_the_same(farm, 2, 2);
  }
}

// A store as SQLite keeps it: what was synced stays; of the rest each write is kept, dropped, or garbage.
class CrashingStore {
 public:
  void append(const std::string& line) { unsynced_.push_back(line); }
  void sync() {
    synced_.insert(synced_.end(), unsynced_.begin(), unsynced_.end());
    unsynced_.clear();
  }
  void crash(Chance& chance) {
    for (std::string& line : unsynced_) {
      if (chance.one_in(3)) continue;
      if (chance.one_in(2)) chance.spoil(line);
      synced_.push_back(line);
    }
    unsynced_.clear();
  }
  // Worse than any crash may be: synced records are gone or spoilt. Gives those.
  std::vector<std::string> lose(Chance& chance) {
    std::vector<std::string> lost;
    const bool all = chance.one_in(3);
    for (std::string& line : synced_) {
      if (!all && !chance.one_in(4)) continue;
      lost.push_back(line);
      line = all || chance.one_in(2) ? "" : chance.garbage(60);
    }
    return lost;
  }
  std::string text() const {
    std::string text;
    for (const std::string& line : synced_) (text += line) += '\n';
    return text;
  }

 private:
  std::vector<std::string> synced_, unsynced_;
};

struct Phone {
  FakeDevice device;
  CrashingStore store;
  std::set<std::string> acknowledged;
  explicit Phone(const std::string& name) : device(name, "w" + name) {}
  Phone(Phone&&) = delete;

  void start_again(Chance& chance) {
    store.crash(chance);
    device.logbook = Logbook("north-farm");
    device.logbook.load(store.text());
    if (chance.one_in(3)) device.known.clear();
  }
  // False: the phone crashed, and started again.
  bool save(const std::vector<std::string>& lines, Chance& chance) {
    for (const std::string& line : lines) {
      store.append(line);
      if (chance.one_in(40)) return start_again(chance), false;
    }
    if (chance.one_in(12)) return start_again(chance), false;
    store.sync();
    if (chance.one_in(40)) return start_again(chance), false;
    for (const std::string& line : lines) {
      acknowledged.insert(line);
      device.logbook.add_line(line);
    }
    return true;
  }
  void write(Chance& chance) {
    DeviceChain chain = device.logbook.chain_of(device.name);
    save({sealed(any_draft(chance, device.logbook), chain).line}, chance);
  }
  void sync(FakeDepot& depot, Chance& chance, const OnStep& on_step) {
    DepotRun run({device.writer, device.name, device.known});
    while (true) {
      const std::optional<DepotStep> step = run.next(device.logbook);
      if (!step && !run.ready_to_put()) break;
      if (!step) {
        run.go_on();
        continue;
      }
      if (chance.one_in(2)) device.known = run.known();
      std::string bytes = step->act == Act::get ? depot.files[step->name] : step->bytes;
      const Mishap mishap = on_step(*step, bytes);
      if (step->act == Act::put && (!mishap.fault || mishap.done_all_the_same)) depot.files[step->name] = bytes;
      if (mishap.aborted) return start_again(chance);
      if (mishap.fault) {
        run.failed(*mishap.fault, "");
      } else if (step->act == Act::list) {
        run.listed(depot.list(step->name));
      } else if (step->act == Act::put) {
        run.put_done();
      } else {
        Incoming incoming = run.got(bytes, device.logbook);
        std::vector<std::string> lines = std::move(incoming.unread);
        for (const Entry& entry : incoming.entries) lines.push_back(entry.line);
        // The page remembers names when it likes, and dies when it likes.
        if (chance.one_in(3)) device.known = run.known();
        if (!lines.empty() && !save(lines, chance)) return;
      }
    }
    device.known = run.known();
  }
  void expect_holds_what_it_acknowledged() const {
    std::set<std::string> held;
    device.logbook.visit([&](const Logbook::Line& line) { held.emplace(line.bytes); });
    for (const std::string& line : acknowledged)
      ASSERT_TRUE(held.count(line) > 0) << device.name << " lost " << line;
  }
};

void expect_nothing_lost(unsigned seed, bool stores_lose_synced_records) {
  Chance chance(seed);
  FakeDepot depot;
  Phone phones[] = {Phone("a"), Phone("b"), Phone("c")};
  const auto lines_elsewhere = [&](const Phone& lost) {
    std::set<std::string> lines;
    for (const Phone& phone : phones) {
      if (&phone != &lost)
        phone.device.logbook.visit([&](const Logbook::Line& line) { lines.emplace(line.bytes); });
    }
    for (const auto& [name, bytes] : depot.files) {
      Logbook in_file("north-farm");
      in_file.load(bytes);
      in_file.visit([&](const Logbook::Line& line) { lines.emplace(line.bytes); });
    }
    return lines;
  };
  std::set<std::string> to_come_back;
  for (int act = 0; act < 40; ++act) {
    Phone& phone = phones[chance.below(3)];
    if (chance.one_in(2)) {
      phone.write(chance);
    } else if (chance.one_in(6)) {
      phone.start_again(chance);
    } else if (stores_lose_synced_records && chance.one_in(8)) {
      const std::set<std::string> elsewhere = lines_elsewhere(phone);
      for (const std::string& line : phone.store.lose(chance)) {
        if (phone.acknowledged.erase(line) > 0 && elsewhere.count(line) > 0) to_come_back.insert(line);
      }
      // The names it remembers may outlive the store.
      phone.start_again(chance);
    } else {
      phone.sync(depot, chance, storm(chance, 6));
    }
    ASSERT_NO_FATAL_FAILURE(phone.expect_holds_what_it_acknowledged());
  }
  for (int round = 0; round < 2; ++round) {
    for (Phone& phone : phones) sync(phone.device, depot);
  }
  for (Phone& phone : phones) {
    ASSERT_TRUE(phone.device.logbook.to_lines() == phones[0].device.logbook.to_lines());
    phone.acknowledged.insert(to_come_back.begin(), to_come_back.end());
    for (const Phone& other : phones)
      phone.acknowledged.insert(other.acknowledged.begin(), other.acknowledged.end());
    ASSERT_NO_FATAL_FAILURE(phone.expect_holds_what_it_acknowledged());
  }
}

TEST(DepotProperties, NoCrashOfAStoreLosesWhatWasSavedNorTheWayBackTogether) {
  for (unsigned seed = 1; seed <= seeds_of(2500) && !testing::Test::HasFatalFailure(); ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    expect_nothing_lost(seed, false);
  }
}

TEST(DepotProperties, AStoreThatLostWhatItHadSavedGetsItBackFromTheDepot) {
  for (unsigned seed = 1; seed <= seeds_of(2500) && !testing::Test::HasFatalFailure(); ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    expect_nothing_lost(seed, true);
  }
}

}  // namespace
}  // namespace tawny
