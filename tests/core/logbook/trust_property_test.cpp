// Whatever is done to the lines on their way, no line that its device did not sign ever counts; and what counts does
// not hang on the order in which the lines arrive.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <set>

#include "core/logbook/keyed_devices.h"

namespace tawny {
namespace {

using namespace testing_entries;

// An office device, a second one and two phones, with some of everything, and two more with readings only; all of it
// signed.
struct Season {
  KeyedDevice office{"office"}, second{"second"}, phone{"phone"}, stranger{"stranger"};
  KeyedDevice lost{"lost"}, hasty{"hasty"};
  const std::vector<const KeyedDevice*> devices = {&office, &second, &phone, &stranger, &lost, &hasty};

  Season() {
    for (KeyedDevice* device : {&second, &phone, &stranger, &lost, &hasty}) device->joins(office);
    for (KeyedDevice* device : {&phone, &lost, &hasty}) office.admits(*device);
    office.admits(second, true);
    for (KeyedDevice* device : {&office, &second, &phone, &stranger}) {
      for (int i = 0; i < 4; ++i) {
        const Entry reading = device->reads(i);
        if (i == 0) device->put(device_key_draft(device->public_key));  // once more
        if (i == 1) device->put(correction_of(reading, 10 + i));
        if (i == 2) device->decides();
        if (i % 2 == 1) device->signs();
      }
    }
    for (KeyedDevice* device : {&lost, &hasty}) device->reads(20);
    hasty.put(correction_of(second.decides(), 21));
    for (KeyedDevice* device : {&lost, &hasty}) device->signs();
    second.has_seen(office);
    second.revokes(phone, phone.last_number() - 2);
    second.revokes(lost, lost.last_number() - 2);
    second.signs();
  }

  std::vector<std::string> lines() const {
    std::vector<std::string> lines;
    for (const KeyedDevice* device : devices) {
      for (const Entry& entry : device->entries) lines.push_back(entry.line);
    }
    return lines;
  }
};

std::string body_of(const std::string& line) { return line.substr(0, line.find(",\"hash\"")); }

// Somebody's change to a line, with a hash that fits.
std::string changed(const std::string& line) {
  std::string body = body_of(line);
  const int what = *rc::gen::inRange(0, 4);
  const auto digits = [&](std::string_view key) {
    const std::size_t at = body.find(key);
    if (at == std::string::npos) return;
    body[at + key.size()] = static_cast<char>('1' + *rc::gen::inRange(0, 8));
  };
  if (what == 0) digits("\"level_cm\":");
  if (what == 1) digits("\"number\":");
  if (what == 2) digits("\"lamport\":");
  if (what == 3) digits("\"stage\":");
  return line_of(body);
}

Logbook loaded(const std::vector<std::string>& lines) {
  Logbook logbook;
  for (const std::string& line : lines) logbook.add_line(line);
  return logbook;
}

RC_GTEST_PROP(TrustProperty, WhatNobodySignedNeverCounts, ()) {
  const Season season;
  const std::vector<std::string> real = season.lines();
  const std::set<std::string> known(real.begin(), real.end());
  std::vector<std::string> lines = real;
  const int times = *rc::gen::inRange(1, 6);
  for (int i = 0; i < times; ++i) {
    const std::size_t at = *rc::gen::inRange<std::size_t>(0, lines.size());
    switch (*rc::gen::inRange(0, 3)) {
      case 0:
        lines[at] = changed(lines[at]);
        break;
      case 1:
        lines.push_back(changed(lines[at]));
        break;
      default:
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
    }
  }
  Logbook logbook = loaded(lines);
  const Trust trust = judged(logbook);
  logbook.leave_out(trust.left_out_hashes());
  for (const Entry* entry : logbook.effective()) {
    if (!kind::is_of_chain(entry->kind)) RC_ASSERT(known.count(entry->line) == 1);
  }
}

RC_GTEST_PROP(TrustProperty, TheOrderOfArrivalMakesNoDifference, ()) {
  const Season season;
  const std::vector<std::string> real = season.lines();
  const std::vector<std::string> mixed = *rc::gen::apply(
      [&real](std::vector<std::string> extra) {
        extra.insert(extra.end(), real.begin(), real.end());
        return extra;
      },
      rc::gen::container<std::vector<std::string>>(rc::gen::elementOf(real)));
  std::vector<std::string> shuffled = mixed;
  for (std::size_t i = shuffled.size(); i > 1; --i) {
    std::swap(shuffled[i - 1], shuffled[*rc::gen::inRange<std::size_t>(0, i)]);
  }
  const Trust one = judged(loaded(real));
  const Trust other = judged(loaded(shuffled));
  RC_ASSERT(one.left_out == other.left_out);
  RC_ASSERT(one.problems.size() == other.problems.size());
}

RC_GTEST_PROP(TrustProperty, WaitsAsLongAsThereIsASignatureToCheck, ()) {
  const Season season;
  std::vector<std::string> lines = season.lines();
  if (*rc::gen::arbitrary<bool>()) lines.push_back(changed(*rc::gen::elementOf(lines)));
  const Logbook logbook = loaded(lines);
  const std::string own_device =
      *rc::gen::element(std::string(), season.office.id(), season.phone.id(), season.stranger.id());
  Verdicts verdicts;
  bool checks_left = true;
  while (checks_left) {
    const std::vector<SignatureCheck> checks = signatures_to_check(logbook, verdicts);
    checks_left = !checks.empty();
    RC_ASSERT(trust_of(logbook, verdicts, own_device).waits == checks_left);
    for (const SignatureCheck& check : checks) verdicts[check.hash] = *rc::gen::arbitrary<bool>();
  }
}

void expect_alike(const Trust& kept, const Trust& anew) {
  RC_ASSERT(kept.enforced == anew.enforced);
  RC_ASSERT(kept.waits == anew.waits);
  RC_ASSERT(kept.left_out == anew.left_out);
  RC_ASSERT(kept.devices == anew.devices);
  RC_ASSERT(kept.problems.size() == anew.problems.size());
  for (std::size_t i = 0; i < kept.problems.size(); ++i) {
    RC_ASSERT(kept.problems[i].device == anew.problems[i].device);
    RC_ASSERT(kept.problems[i].number == anew.problems[i].number);
    RC_ASSERT(kept.problems[i].message == anew.problems[i].message);
  }
}

// Lines come in nearly in their order, some of them changed, twice, late, of a newer format or never.
RC_GTEST_PROP(TrustProperty, WhatIsKeptOfAChainTellsTheSameAsGoingThroughItAnew, ()) {
  const Season season;
  std::vector<std::string> lines;
  std::vector<const KeyedDevice*> devices = season.devices;
  while (!devices.empty()) {
    const auto next = devices.begin() + *rc::gen::inRange<std::ptrdiff_t>(0, std::ssize(devices));
    for (const Entry& entry : (*next)->entries) lines.push_back(entry.line);
    // Sometimes the first lines of it come last of all.
    if (*rc::gen::inRange(0, 4) == 0) {
      const auto first = lines.end() - std::ssize((*next)->entries);
      std::rotate(first, first + *rc::gen::inRange(0, 3), lines.end());
    }
    devices.erase(next);
  }
  const int times = *rc::gen::inRange(0, 4);
  for (int i = 0; i < times; ++i) {
    const std::size_t at = *rc::gen::inRange<std::size_t>(0, lines.size());
    const std::size_t other = *rc::gen::inRange<std::size_t>(0, lines.size());
    switch (*rc::gen::inRange(0, 5)) {
      case 0:
        lines[at] = changed(lines[at]);
        break;
      case 1:
        lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(other), changed(lines[at]));
        break;
      case 2:
        std::swap(lines[at], lines[other]);
        break;
      case 3: {
        std::string newer = body_of(lines[at]);
        if (const std::size_t version = newer.find("\"v\":1"); version != std::string::npos)
          newer[version + 4] = '9';
        lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(other), line_of(newer));
        break;
      }
      default:
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
    }
  }
  const std::string own_device =
      *rc::gen::element(std::string(), season.office.id(), season.phone.id(), season.stranger.id());
  const int rarely = *rc::gen::inRange(1, 6);
  Logbook logbook;
  Verdicts verdicts;
  KeptWalks kept;
  for (const std::string& line : lines) {
    logbook.add_line(line);
    if (*rc::gen::inRange(0, rarely) != 0) continue;
    expect_alike(trust_of(logbook, verdicts, own_device, &kept), trust_of(logbook, verdicts, own_device));
    const std::vector<SignatureCheck> checks = signatures_to_check(logbook, verdicts, &kept);
    const std::vector<SignatureCheck> anew = signatures_to_check(logbook, verdicts);
    RC_ASSERT(checks.size() == anew.size());
    for (std::size_t i = 0; i < checks.size(); ++i) RC_ASSERT(checks[i].hash == anew[i].hash);
    if (*rc::gen::inRange(0, 2) != 0) continue;
    for (const SignatureCheck& check : checks) {
      verdicts[check.hash] = check.signature == pretended_signature(check.public_key, check.text);
    }
  }
  RC_CLASSIFY(kept.empty());
}

}  // namespace
}  // namespace tawny
