#include "logbook/later_hashes.h"

#include <algorithm>
#include <vector>

#include "logbook/line_reader.h"

namespace tawny {
namespace {

constexpr std::uint32_t kNumbersAtOnce = 32;

}  // namespace

void LaterHashes::begin() {
  is_under_way_ = true;
  device_.clear();
  last_ = 0;
}

bool LaterHashes::go_on(const Logbook& logbook, std::size_t bytes) {
  if (!is_under_way_) return true;
  const std::vector<std::string> devices = logbook.devices();
  auto device = std::lower_bound(devices.begin(), devices.end(), device_);
  std::size_t done = 0;
  for (; device != devices.end() && done < bytes; ++device) {
    if (*device != device_) {
      device_ = *device;
      last_ = 0;
    }
    const std::uint32_t end = logbook.chain_of(device_).last_number;
    while (last_ < end && done < bytes) {
      const std::uint32_t until = last_ + std::min(kNumbersAtOnce, end - last_);
      bool fits = true;
      logbook.visit(device_, last_ + 1, until, [&](const Logbook::Line& line) {
        fits = fits && hash_fits(line.bytes);
        done += line.bytes.size();
      });
      if (!fits) {
        is_under_way_ = false;
        return false;
      }
      last_ = until;
    }
    if (last_ < end) return true;
  }
  is_under_way_ = device != devices.end();
  return true;
}

}  // namespace tawny
