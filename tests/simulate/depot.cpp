#include "simulate/depot.h"

#include <algorithm>

#include "base/decimal.h"
#include "logbook/segment.h"

namespace tawny::simulate {
namespace {

constexpr std::uint32_t kLinesPerFile = 200;
// Every so manieth put was made again, its answer having been lost.
constexpr std::size_t kAgainEvery = 17;

}  // namespace

std::vector<DepotFile> depot_files(const SimulatedFarm& farm) {
  std::vector<DepotFile> files;
  const auto put = [&](const Phone& phone, std::uint32_t first, std::uint32_t last) {
    SegmentName name;
    name.writer = phone.writer;
    name.device = phone.chain.device;
    name.first = first;
    name.last = last;
    std::string bytes = segment_bytes(farm.logbook, name.device, first, last);
    name.hash = segment_hash(bytes);
    files.push_back({to_string(name), std::move(bytes)});
  };
  for (const Phone& phone : farm.phones) {
    for (std::size_t i = 0; i < phone.puts.size(); ++i) {
      auto [first, last] = phone.puts[i];
      if (i % kAgainEvery == kAgainEvery - 1) first = phone.puts[i - 1].first;
      while (first <= last) {
        const std::uint32_t end_of_thousand = (thousand_of(first) + 1) * kNumbersPerThousand;
        const std::uint32_t until = std::min({last, first + kLinesPerFile - 1, end_of_thousand});
        put(phone, first, until);
        first = until + 1;
      }
    }
    if (!phone.networked) continue;
    const std::uint32_t whole = phone.chain.last_number / kNumbersPerThousand;
    for (std::uint32_t thousand = 0; thousand < whole; ++thousand) {
      put(phone, thousand * kNumbersPerThousand + 1, (thousand + 1) * kNumbersPerThousand);
    }
  }
  return files;
}

std::string truth_csv(const SimulatedFarm& farm) {
  std::string csv =
      "farm,pond,torn,at,level_cm,volume_m3,do_mg_l,ph,temperature_c,salinity,chlorophyll_ug_l,others_share,"
      "secchi_cm,nitrate_n_mg_l,ammonia_n_mg_l,copepods_lee_per_l,copepods_wind_per_l,bivalves_g_m2,worms_g_m2,"
      "colour\n";
  for (const PondTruth& pond : farm.ponds) {
    for (const Water& water : pond.hours) {
      csv += farm.id + "," + pond.pond + "," + (pond.torn ? "true" : "false") + "," + to_iso(water.at);
      const auto cell = [&](double value, int decimals) { csv += "," + format_decimal(value, decimals); };
      cell(water.level_cm, 2);
      cell(water.volume_m3, 1);
      cell(water.do_mg_l, 3);
      cell(water.ph, 3);
      cell(water.temperature_c, 2);
      cell(water.salinity, 2);
      cell(water.chlorophyll_ug_l, 2);
      cell(water.others_share, 3);
      cell(water.secchi_cm, 1);
      cell(water.nitrate_n_mg_l, 4);
      cell(water.ammonia_n_mg_l, 4);
      cell(water.copepods_per_l[0], 1);
      cell(water.copepods_per_l[1], 1);
      cell(water.bivalves_g_m2, 4);
      cell(water.worms_g_m2, 4);
      csv += "," + std::string(name_of(water.colour)) + "\n";
    }
  }
  return csv;
}

}  // namespace tawny::simulate
