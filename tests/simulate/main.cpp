// simulate --farms N --ponds P --days D --seed S --out DIR [--truth DIR] [--first YYYY-MM-DD] [--care SHARE]
//
// Writes each farm's depot into DIR/<farm>/<writer>/<device>/<thousand>/<first>-<last>-<hash>.jsonl, and with
// --truth the hidden state, hour by hour, into DIR/<farm>.csv. --care 0 has people who never slip.
#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>
#include <vector>

#include "assets.h"
#include "base/decimal.h"
#include "simulate/depot.h"

namespace {

namespace files = std::filesystem;
using tawny::simulate::Options;
using tawny::simulate::SimulatedFarm;

struct Asked {
  int farms = 1;
  Options options;
  std::string out, truth;
};

int refuse(const std::string& why) {
  std::fprintf(stderr,
               "simulate: %s\nUse: simulate --farms N --ponds P --days D --seed S --out DIR [--truth DIR] "
               "[--first YYYY-MM-DD] [--care SHARE]\n",
               why.c_str());
  return 2;
}

bool read_number(const std::string& text, double low, double high, double& number) {
  const tawny::Result<double> read = tawny::parse_decimal(text);
  if (!read || *read < low || *read > high) return false;
  number = *read;
  return true;
}

bool write_file(const files::path& path, const std::string& bytes) {
  std::error_code error;
  files::create_directories(path.parent_path(), error);
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  return !error && !file.fail();
}

bool write_farm(const Asked& asked, const SimulatedFarm& farm) {
  for (const auto& file : tawny::simulate::depot_files(farm)) {
    if (!write_file(files::path(asked.out) / farm.id / file.name, file.bytes)) return false;
  }
  return asked.truth.empty() ||
         write_file(files::path(asked.truth) / (farm.id + ".csv"), tawny::simulate::truth_csv(farm));
}

}  // namespace

int main(int count, char** words) {
  Asked asked;
  double farms = 1, ponds = 6, days = 60, seed = 1;
  for (int i = 1; i < count; i += 2) {
    const std::string option = words[i];
    if (i + 1 == count) return refuse(option + " takes a value");
    const std::string value = words[i + 1];
    bool fine = true;
    if (option == "--farms") {
      fine = read_number(value, 1, 9999, farms);
    } else if (option == "--ponds") {
      fine = read_number(value, 1, 500, ponds);
    } else if (option == "--days") {
      fine = read_number(value, 1, 1000, days);
    } else if (option == "--seed") {
      fine = read_number(value, 0, 999999999999, seed);
    } else if (option == "--care") {
      fine = read_number(value, 0, 5, asked.options.carelessness);
    } else if (option == "--first") {
      const auto day = tawny::parse_civil_day(value);
      fine = day.has_value();
      if (fine) asked.options.first_day = *day;
    } else if (option == "--out") {
      asked.out = value;
    } else if (option == "--truth") {
      asked.truth = value;
    } else {
      return refuse("there is no option " + option);
    }
    if (!fine) return refuse(option + " cannot be " + value);
  }
  if (asked.out.empty()) return refuse("say --out DIR");
  asked.farms = static_cast<int>(farms);
  asked.options.ponds = static_cast<int>(ponds);
  asked.options.days = static_cast<int>(days);
  asked.options.seed = static_cast<std::uint64_t>(seed);
  asked.options.keep_truth = !asked.truth.empty();

  const auto protocol = tawny::Protocol::parse(tawny::assets::find("protocol.json"));
  if (!protocol) return refuse("the protocol cannot be read");
  std::atomic<int> next{1};
  std::atomic<bool> failed{false};
  std::atomic<std::size_t> entries{0};
  const auto work = [&] {
    for (int number = next++; number <= asked.farms && !failed; number = next++) {
      Options options = asked.options;
      options.number = number;
      const SimulatedFarm farm = tawny::simulate::simulate_farm(options, *protocol);
      entries += farm.logbook.size();
      if (!write_farm(asked, farm)) failed = true;
    }
  };
  std::vector<std::thread> threads;
  for (unsigned i = 1; i < std::thread::hardware_concurrency(); ++i) threads.emplace_back(work);
  work();
  for (std::thread& thread : threads) thread.join();
  if (failed) {
    std::fprintf(stderr, "simulate: %s could not be written\n", asked.out.c_str());
    return 1;
  }
  std::printf("%d farms, %zu entries\n", asked.farms, entries.load());
  return 0;
}
