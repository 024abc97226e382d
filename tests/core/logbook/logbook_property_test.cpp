// What must hold for every logbook, tried on many that chance made up.
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <random>

#include "core/logbook/entries.h"
#include "logbook/logbook.h"

namespace tawny {
namespace {

using namespace testing_entries;

std::string any_text() {
  std::string text;
  for (const int c : *rc::gen::container<std::vector<int>>(rc::gen::inRange(0, 0x110000))) {
    const auto point = static_cast<unsigned>(c % 3 == 0 ? c % 0x80 : c);
    const auto put = [&text](unsigned byte) { text.push_back(static_cast<char>(byte)); };
    if (point >= 0xd800 && point <= 0xdfff) continue;
    if (point < 0x80) {
      put(point);
    } else if (point < 0x800) {
      put(0xc0 | point >> 6), put(0x80 | (point & 0x3f));
    } else if (point < 0x10000) {
      put(0xe0 | point >> 12), put(0x80 | (point >> 6 & 0x3f)), put(0x80 | (point & 0x3f));
    } else {
      put(0xf0 | point >> 18), put(0x80 | (point >> 12 & 0x3f)), put(0x80 | (point >> 6 & 0x3f));
      put(0x80 | (point & 0x3f));
    }
  }
  return text;
}

// Every bit pattern that is a finite number, not only the handy ones.
double any_number() {
  const auto bits = *rc::gen::arbitrary<std::uint64_t>();
  const auto stretched = bits * 0x9e3779b97f4a7c15u;
  double number = 0;
  std::memcpy(&number, *rc::gen::arbitrary<bool>() ? &bits : &stretched, sizeof number);
  return std::isfinite(number) ? number : static_cast<double>(bits) / 1000;
}

Value any_value() {
  switch (*rc::gen::inRange(0, 5)) {
    case 0:
      return any_number();
    case 1:
      return *rc::gen::arbitrary<bool>();
    case 2:
      return any_text();
    case 3: {
      std::vector<double> numbers(static_cast<std::size_t>(*rc::gen::inRange(1, 5)));
      for (double& number : numbers) number = any_number();
      return numbers;
    }
    default: {
      std::vector<std::string> texts(static_cast<std::size_t>(*rc::gen::inRange(1, 5)));
      for (std::string& text : texts) text = any_text();
      return texts;
    }
  }
}

RC_GTEST_PROP(LogbookProperties, WhatIsSealedIsReadBackWhole, ()) {
  Draft draft;
  draft.kind = "k" + any_text();
  draft.pond = any_text();
  draft.who = any_text();
  draft.observed = Instant{*rc::gen::inRange<std::int64_t>(-2208988800, 7289654400)};
  const Instant recorded{*rc::gen::inRange<std::int64_t>(-2208988800, 7289654400)};
  for (int i = *rc::gen::inRange(0, 6); i > 0; --i) draft.values[any_text()] = any_value();
  DeviceChain chain = chain_for("d1", "f" + any_text());
  chain.lamport = *rc::gen::inRange<std::uint64_t>(0, 9007199254740991);
  chain.last_number = *rc::gen::inRange<std::uint32_t>(0, 4294967295u);
  const DeviceChain before = chain;
  const Result<Entry> entry = seal(draft, recorded, chain);
  RC_ASSERT(entry.has_value());
  const Result<Entry> read = parse_entry(entry->line);
  RC_ASSERT(read.has_value());
  RC_ASSERT(read->id == entry->id);
  RC_ASSERT(read->farm() == before.farm);
  RC_ASSERT(read->id.number == before.last_number + 1);
  RC_ASSERT(read->lamport == before.lamport + 1);
  RC_ASSERT(read->kind == draft.kind);
  RC_ASSERT(read->pond == draft.pond);
  RC_ASSERT(read->who == draft.who);
  RC_ASSERT(read->observed == draft.observed);
  RC_ASSERT(read->recorded == recorded);
  RC_ASSERT(read->values == draft.values);
  RC_ASSERT(entry->line.find('\n') == std::string::npos);
}

// Lines of a few devices that correct and void each other's entries, one of them cloned, some of a newer
// format.
std::vector<std::string> any_lines() {
  Logbook everything("north-farm");
  std::vector<Entry> entries;
  std::vector<std::string> lines;
  const int count = *rc::gen::inRange(1, 25);
  for (int i = 0; i < count; ++i) {
    const std::string device(1, static_cast<char>('a' + *rc::gen::inRange(0, 3)));
    DeviceChain chain = everything.chain_of(device);
    const bool cloned = *rc::gen::inRange(0, 8) == 0;
    if (cloned) chain = chain_for(device);
    Draft draft = level_draft(i, kMorning.plus_min(*rc::gen::inRange(0, 4)));
    if (!entries.empty()) {
      const Entry& other = entries[*rc::gen::inRange<std::size_t>(0, entries.size())];
      const int what = *rc::gen::inRange(0, 4);
      if (what == 1) draft = void_of(other);
      if (what == 2) draft.corrects = to_reference(other.id);
    }
    entries.push_back(sealed(draft, chain));
    everything.add(entries.back());
    lines.push_back(entries.back().line);
    if (*rc::gen::inRange(0, 8) == 0) {
      lines.push_back(line_of(R"({"v":2,"farm":"north-farm","device":"c","number":)" + std::to_string(i + 1)));
    }
  }
  return lines;
}

std::vector<std::string> shuffled(std::vector<std::string> lines) {
  std::shuffle(lines.begin(), lines.end(), std::mt19937(*rc::gen::arbitrary<unsigned>()));
  return lines;
}

Logbook logbook_of(const std::vector<std::string>& lines) {
  Logbook logbook("north-farm");
  for (const std::string& line : lines) logbook.add_line(line);
  return logbook;
}

// Some of the lines, in any order.
Logbook some_of(const std::vector<std::string>& lines) {
  std::vector<std::string> some;
  for (const std::string& line : shuffled(lines)) {
    if (*rc::gen::arbitrary<bool>()) some.push_back(line);
  }
  return logbook_of(some);
}

std::vector<std::string> effective_lines(const Logbook& logbook) {
  std::vector<std::string> lines;
  for (const Entry* entry : logbook.effective()) lines.push_back(entry->line);
  return lines;
}

Logbook united(const Logbook& a, const Logbook& b) {
  Logbook both = a;
  both.merge(b);
  return both;
}

void assert_same(const Logbook& a, const Logbook& b) {
  RC_ASSERT(a.to_lines() == b.to_lines());
  RC_ASSERT(effective_lines(a) == effective_lines(b));
  RC_ASSERT(a.size() == b.size());
  RC_ASSERT(a.unread_count() == b.unread_count());
  RC_ASSERT(a.check_chains().size() == b.check_chains().size());
  for (const std::string& device : a.devices()) {
    RC_ASSERT(a.chain_of(device).last_hash == b.chain_of(device).last_hash);
    RC_ASSERT(a.chain_of(device).lamport == b.chain_of(device).lamport);
  }
}

RC_GTEST_PROP(LogbookProperties, AnyOrderAnyNumberOfTimesGivesTheSameLogbook, ()) {
  const std::vector<std::string> lines = any_lines();
  std::vector<std::string> again = lines;
  for (const std::string& line : lines) {
    if (*rc::gen::arbitrary<bool>()) again.push_back(line);
  }
  assert_same(logbook_of(lines), logbook_of(shuffled(again)));
}

RC_GTEST_PROP(LogbookProperties, MergingIsCommutative, ()) {
  const std::vector<std::string> lines = any_lines();
  const Logbook a = some_of(lines);
  const Logbook b = some_of(lines);
  assert_same(united(a, b), united(b, a));
}

RC_GTEST_PROP(LogbookProperties, MergingIsAssociative, ()) {
  const std::vector<std::string> lines = any_lines();
  const Logbook a = some_of(lines);
  const Logbook b = some_of(lines);
  const Logbook c = some_of(lines);
  assert_same(united(united(a, b), c), united(a, united(b, c)));
}

RC_GTEST_PROP(LogbookProperties, MergingTwiceIsMergingOnce, ()) {
  const std::vector<std::string> lines = any_lines();
  const Logbook a = some_of(lines);
  const Logbook b = some_of(lines);
  assert_same(united(a, b), united(united(a, b), b));
  assert_same(a, united(a, a));
}

RC_GTEST_PROP(LogbookProperties, SavingAndLoadingChangesNothing, ()) {
  const Logbook saved = logbook_of(any_lines());
  Logbook loaded("north-farm");
  const LoadReport report = loaded.load(saved.to_lines());
  RC_ASSERT(report.added == saved.size());
  RC_ASSERT(report.already_there == 0u);
  assert_same(saved, loaded);
}

// Of one thing there is never more than one word in force, and never none without a void.
RC_GTEST_PROP(LogbookProperties, OneEntryStandsForEachThingThatWasNotVoided, ()) {
  const Logbook logbook = logbook_of(any_lines());
  std::map<std::string, int> standing_for;
  std::map<std::string, bool> voided_any;
  for (const Entry* entry : logbook.all()) {
    std::string root = to_reference(entry->id);
    for (const Entry* at = entry; at != nullptr && !at->corrects.empty(); at = logbook.find(root))
      root = at->corrects;
    const Logbook::Standing standing = logbook.standing(entry->id);
    standing_for[root] += standing == Logbook::Standing::stands ? 1 : 0;
    voided_any[root] = voided_any[root] || standing == Logbook::Standing::voided;
  }
  for (const auto& [root, count] : standing_for) {
    RC_ASSERT(count <= 1);
    RC_ASSERT(count == 1 || voided_any[root]);
  }
}

RC_GTEST_PROP(LogbookProperties, CuttingAFileOffLosesNoEarlierLine, ()) {
  const std::string text = logbook_of(any_lines()).to_lines();
  const auto length = *rc::gen::inRange<std::size_t>(0, text.size() + 1);
  const std::string cut = text.substr(0, length);
  Logbook loaded("north-farm");
  loaded.load(cut);
  const std::size_t last_feed = cut.rfind('\n');
  const std::string whole = last_feed == std::string::npos ? "" : cut.substr(0, last_feed + 1);
  RC_ASSERT(loaded.to_lines().substr(0, whole.size()) == whole);
}

RC_GTEST_PROP(LogbookProperties, RandomBytesInTheMiddleCostOnlyTheLinesTheyTouch, ()) {
  const std::vector<std::string> lines = any_lines();
  const Logbook whole = logbook_of(lines);
  std::string text = whole.to_lines();
  const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
  const std::string bytes = *rc::gen::container<std::string>(rc::gen::arbitrary<char>());
  const std::size_t covered = std::min(bytes.size(), text.size() - at);
  text.replace(at, covered, bytes.substr(0, covered));
  Logbook loaded("north-farm");
  loaded.load(text);
  std::string expected_start = text.substr(0, at);
  const std::size_t feed = expected_start.rfind('\n');
  expected_start = feed == std::string::npos ? "" : expected_start.substr(0, feed + 1);
  RC_ASSERT(loaded.to_lines().substr(0, expected_start.size()) == expected_start);
  const std::size_t next_feed = whole.to_lines().find('\n', at + covered);
  const std::string expected_end = next_feed == std::string::npos ? "" : whole.to_lines().substr(next_feed + 1);
  const std::string got = loaded.to_lines();
  RC_ASSERT(got.size() >= expected_end.size());
  RC_ASSERT(got.substr(got.size() - expected_end.size()) == expected_end);
}

}  // namespace
}  // namespace tawny
