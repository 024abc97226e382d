// Core by Google Benchmark: core_bench FILE [options of Google Benchmark]. FILE holds a farm's lines in the order in
// which they were written (farm_lines); each bench takes the first thousand, ten thousand and so on of them. "_BigO" at
// the end of each is the growth with the number of entries. SQLite reads and sums up the same rows from a database of its
// own, for comparison. Target core_bench.
#include <benchmark/benchmark.h>
#include <sqlite3.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>

#include "assets.h"
#include "bench/farm_work.h"
#include "core/logbook/fake_depot.h"
#include "logbook/bundle.h"

namespace {

using namespace tawny;

std::string file;

const Protocol& protocol() {
  static const Protocol standard = *Protocol::parse(assets::find("protocol.json"));
  return standard;
}

std::string_view lines_for(const benchmark::State& state) {
  return bench::first_lines(file, static_cast<std::size_t>(state.range(0)));
}

void say_size(benchmark::State& state, std::string_view lines) {
  state.SetComplexityN(state.range(0));
  state.SetItemsProcessed(state.iterations() * state.range(0));
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(lines.size()));
}

void open(benchmark::State& state) {
  const std::string_view lines = lines_for(state);
  for (auto _ : state) benchmark::DoNotOptimize(bench::open(lines));
  say_size(state, lines);
}

// What is reckoned of a farm that was opened and folded before.
template <typename Work>
void of_a_farm(benchmark::State& state, const Work& work) {
  const std::string_view lines = lines_for(state);
  const Logbook logbook = bench::open(lines);
  const Instant now = bench::just_after(logbook);
  const Farm farm = fold_farm(logbook, protocol(), now);
  for (auto _ : state) benchmark::DoNotOptimize(work(logbook, farm, now));
  say_size(state, lines);
}

void fold(benchmark::State& state) {
  of_a_farm(state, [](const Logbook& logbook, const Farm&, Instant now) {
    return fold_farm(logbook, protocol(), now);
  });
}

void assess_ponds(benchmark::State& state) {
  of_a_farm(state, [](const Logbook&, const Farm& farm, Instant now) {
    return bench::assess_all(farm, protocol(), now);
  });
}

void rounds_of_the_day(benchmark::State& state) {
  of_a_farm(state, [](const Logbook&, const Farm& farm, Instant now) { return rounds(farm, protocol(), now); });
}

void write_a_bundle(benchmark::State& state) {
  const std::string_view lines = lines_for(state);
  const Logbook logbook = bench::open(lines);
  for (auto _ : state) benchmark::DoNotOptimize(write_bundle(logbook, bench::just_after(logbook), "bench"));
  say_size(state, lines);
}

void read_a_bundle(benchmark::State& state) {
  const std::string_view lines = lines_for(state);
  const Logbook logbook = bench::open(lines);
  const std::string bundle = write_bundle(logbook, bench::just_after(logbook), "bench");
  for (auto _ : state) benchmark::DoNotOptimize(read_bundle(bundle));
  say_size(state, lines);
}

// The office's folder in memory: what is timed is the work on the segments, not their way.
testing_depot::FakeDevice device_with(Logbook logbook) {
  testing_depot::FakeDevice device("bench", "bench");
  device.logbook = std::move(logbook);
  return device;
}

void sync_up(benchmark::State& state) {
  const std::string_view lines = lines_for(state);
  testing_depot::FakeDevice phone = device_with(bench::open(lines));
  for (auto _ : state) {
    testing_depot::FakeDepot depot;
    phone.known.clear();
    benchmark::DoNotOptimize(testing_depot::sync(phone, depot));
  }
  say_size(state, lines);
}

void sync_down(benchmark::State& state) {
  const std::string_view lines = lines_for(state);
  testing_depot::FakeDepot depot;
  testing_depot::FakeDevice phone = device_with(bench::open(lines));
  testing_depot::sync(phone, depot);
  for (auto _ : state) {
    testing_depot::FakeDevice office = device_with(Logbook());
    testing_depot::sync(office, depot);
    benchmark::DoNotOptimize(office.logbook.size());
  }
  say_size(state, lines);
}

// A database as one would make it of the same lines: a row an entry, keyed as entries are, the values as JSON.
sqlite3* database_of(std::string_view lines) {
  sqlite3* db = nullptr;
  sqlite3_open(":memory:", &db);
  sqlite3_exec(
      db,
      "CREATE TABLE entry(device TEXT, number INTEGER, lamport INTEGER, observed TEXT, pond TEXT, kind TEXT, "
      "line TEXT, PRIMARY KEY(device, number)) WITHOUT ROWID; BEGIN",
      nullptr, nullptr, nullptr);
  sqlite3_stmt* insert = nullptr;
  sqlite3_prepare_v2(db, "INSERT INTO entry VALUES(?,?,?,?,?,?,?)", -1, &insert, nullptr);
  const Logbook logbook = bench::open(lines);
  const auto text = [insert](int at, std::string_view value) {
    sqlite3_bind_text(insert, at, value.data(), static_cast<int>(value.size()), SQLITE_TRANSIENT);
  };
  logbook.visit([&](const Logbook::Line& line) {
    text(1, line.device);
    sqlite3_bind_int64(insert, 2, line.number);
    sqlite3_bind_int64(insert, 3, static_cast<sqlite3_int64>(line.entry->lamport));
    text(4, to_iso(line.entry->observed));
    text(5, line.entry->pond);
    text(6, line.entry->kind);
    text(7, line.bytes);
    sqlite3_step(insert);
    sqlite3_reset(insert);
  });
  sqlite3_finalize(insert);
  sqlite3_exec(db, "COMMIT", nullptr, nullptr, nullptr);
  return db;
}

// Every row read with its line taken apart, counted and averaged by pond and kind: less than a fold does.
void sqlite_reads_and_sums_up(benchmark::State& state) {
  const std::string_view lines = lines_for(state);
  sqlite3* db = database_of(lines);
  sqlite3_stmt* query = nullptr;
  sqlite3_prepare_v2(
      db,
      "SELECT pond, kind, count(*), max(observed), avg(json_extract(line, '$.values.secchi_vanish_cm')), "
      "avg(json_extract(line, '$.values.do_mg_l')), sum(length(json_extract(line, '$.hash'))) FROM entry "
      "GROUP BY pond, kind",
      -1, &query, nullptr);
  std::int64_t rows = 0;
  for (auto _ : state) {
    while (sqlite3_step(query) == SQLITE_ROW) ++rows;
    sqlite3_reset(query);
  }
  benchmark::DoNotOptimize(rows);
  sqlite3_finalize(query);
  sqlite3_close(db);
  say_size(state, lines);
}

}  // namespace

int main(int count, char** words) {
  if (count < 2) {
    std::fputs("core_bench FILE [--benchmark_...]\n", stderr);
    return 2;
  }
  std::ifstream in(words[1], std::ios::binary);
  file.assign(std::istreambuf_iterator<char>(in), {});
  const auto entries = static_cast<std::int64_t>(std::count(file.begin(), file.end(), '\n'));
  words[1] = words[0];
  ++words;
  --count;
  const std::pair<const char*, void (*)(benchmark::State&)> benches[] = {
      {"open", open},
      {"fold", fold},
      {"assess", assess_ponds},
      {"rounds", rounds_of_the_day},
      {"write_bundle", write_a_bundle},
      {"read_bundle", read_a_bundle},
      {"sync_up", sync_up},
      {"sync_down", sync_down},
      {"sqlite", sqlite_reads_and_sums_up},
  };
  for (const auto& [name, run] : benches) {
    auto* bench = benchmark::RegisterBenchmark(name, run)->Unit(benchmark::kMillisecond)->Complexity();
    for (std::int64_t size = 1000; size <= entries; size *= 10) bench->Arg(size);
  }
  benchmark::Initialize(&count, words);
  benchmark::RunSpecifiedBenchmarks();
}
