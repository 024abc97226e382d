#include "logbook/later_hashes.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "core/logbook/entries.h"
#include "logbook/line_reader.h"

namespace tawny {
namespace {

using namespace testing_entries;

// Lines of three devices; of the second one number stands twice.
std::vector<std::string> many_lines() {
  std::vector<std::string> lines;
  for (const char* device : {"d1", "d2", "d3"}) {
    DeviceChain chain = chain_for(device);
    for (int i = 0; i < 70; ++i) {
      const DeviceChain before = chain;
      lines.push_back(sealed(level_draft(40 + i), chain).line);
      if (i != 35 || std::string_view(device) != "d2") continue;
      DeviceChain again = before;
      lines.push_back(sealed(level_draft(111), again).line);
    }
  }
  return lines;
}

std::string text_of(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

// The level is another, and nothing else is.
std::string changed(std::string line) {
  const std::size_t at = line.find("_cm\":") + 5;
  EXPECT_LT(at, line.size());
  line[at] = line[at] == '9' ? '8' : '9';
  return line;
}

Logbook kept(const std::vector<std::string>& lines) {
  Logbook logbook;
  logbook.load(text_of(lines), {}, Hashes::later);
  return logbook;
}

// Step by step to its end; how many there were, or nothing when a line did not fit.
std::optional<int> steps_to_the_end(const Logbook& logbook, std::size_t bytes) {
  LaterHashes hashes;
  hashes.begin();
  int steps = 0;
  for (; hashes.is_under_way(); ++steps) {
    if (steps > 1000) return -1;
    if (!hashes.go_on(logbook, bytes)) {
      EXPECT_FALSE(hashes.is_under_way());
      return std::nullopt;
    }
  }
  return steps;
}

TEST(LaterHashes, EndWithTheLastLineInStepsOfAnySize) {
  const Logbook logbook = kept(many_lines());
  ASSERT_EQ(logbook.size(), 211u);
  EXPECT_GT(steps_to_the_end(logbook, 1).value(), 3);
  EXPECT_GT(steps_to_the_end(logbook, 1).value(), steps_to_the_end(logbook, 20'000).value());
  EXPECT_EQ(steps_to_the_end(logbook, 1'000'000), 1);
  EXPECT_EQ(steps_to_the_end(Logbook(), 1), 1);
}

TEST(LaterHashes, FindAChangedLineWhereverItStands) {
  const std::vector<std::string> lines = many_lines();
  for (std::size_t at = 0; at < lines.size(); ++at) {
    std::vector<std::string> some = lines;
    some[at] = changed(some[at]);
    const Logbook logbook = kept(some);
    ASSERT_EQ(logbook.size(), lines.size()) << "not looked at yet";
    EXPECT_FALSE(steps_to_the_end(logbook, 1)) << at;
    EXPECT_FALSE(steps_to_the_end(logbook, 1'000'000)) << at;
  }
}

TEST(LaterHashes, LookAtWhatComesInBehindThemToo) {
  std::vector<std::string> lines = many_lines();
  const std::string late = changed(lines.back());
  lines.pop_back();
  Logbook logbook = kept(lines);
  LaterHashes hashes;
  hashes.begin();
  ASSERT_TRUE(hashes.go_on(logbook, 1));
  logbook.load(late, {}, Hashes::later);
  bool fits = true;
  while (fits && hashes.is_under_way()) fits = hashes.go_on(logbook, 1);
  EXPECT_FALSE(fits);
}

TEST(LaterHashes, ChangeNothingOfWhatElseALineMustBe) {
  const std::vector<std::string> lines = many_lines();
  const std::string no_hash = lines[0].substr(0, lines[0].size() - 3) + "g\"}";
  for (const std::string& wrong : {lines[0].substr(0, lines[0].size() - 1), lines[0] + lines[1], "{" + lines[0],
                                   std::string("x"), no_hash}) {
    Logbook logbook;
    const LoadReport report = logbook.load(wrong, {}, Hashes::later);
    EXPECT_EQ(logbook.size(), 0u) << wrong;
    EXPECT_EQ(report.problems.size(), 1u) << wrong;
  }
  EXPECT_EQ(kept(lines).to_lines(), [&] {
    Logbook now;
    now.load(text_of(lines));
    return now.to_lines();
  }());
}

TEST(LaterHashes, WithoutThemAChangedLineDoesNotComeIn) {
  Logbook logbook;
  EXPECT_EQ(logbook.add_line(changed(many_lines()[0])), AddOutcome::refused);
  EXPECT_FALSE(hash_fits(changed(many_lines()[0])));
  EXPECT_TRUE(hash_fits(many_lines()[0]));
}

}  // namespace
}  // namespace tawny
