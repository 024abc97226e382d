// The manager's changes of the protocol: shown as a difference, from a date on, for farm or pond, refused or on
// record, taken back; and what the assessment makes of them.
#include "office/protocol_edit.h"

#include <gtest/gtest.h>

#include "assets.h"
#include "core/office/book.h"
#include "words/words.h"

namespace tawny {
namespace {

using test::at;
using test::Book;
using test::protocol;

constexpr const char* kLow = "stage.hold_band.secchi_low_cm";
constexpr const char* kHigh = "stage.hold_band.secchi_high_cm";
constexpr const char* kDried = "stage.bottom.dried_days";

struct Office : Book {
  Office() { pond(-20, "p1").pond(-20, "p2").start(-1, "one", "p1").start(-1, "one", "p2"); }

  Result<Draft> ask(int day, ProtocolAsk asked) const {
    const Instant now = at(day, "12:00");
    if (asked.from == Instant{}) asked.from = now;
    return change_protocol(read_protocol_changes(logbook(), protocol()), fold(now), protocol(), asked, now);
  }
  // Puts it on record.
  Office& change(int day, std::string path, double value, std::string pond_id = {}, Instant from = {}) {
    ProtocolAsk asked;
    asked.path = std::move(path);
    asked.value = value;
    asked.pond = std::move(pond_id);
    asked.from = from;
    asked.reason = "our clay";
    auto draft = ask(day, asked);
    EXPECT_TRUE(draft) << asked.path << ": " << draft.error().message.id;
    if (draft) put(*draft);
    return *this;
  }
  std::string refused(int day, std::string path, std::variant<double, bool, std::string> value,
                      std::string pond_id = {}) const {
    ProtocolAsk asked;
    asked.path = std::move(path);
    asked.value = std::move(value);
    asked.pond = std::move(pond_id);
    asked.reason = "our clay";
    const auto draft = ask(day, asked);
    return draft ? std::string() : draft.error().message.id;
  }
  Office& back(int day, std::string path, std::string pond_id = {}) {
    ProtocolAsk asked;
    asked.path = std::move(path);
    asked.pond = std::move(pond_id);
    asked.to_default = true;
    asked.reason = "as before";
    auto draft = ask(day, asked);
    EXPECT_TRUE(draft) << asked.path;
    if (draft) put(*draft);
    return *this;
  }
  ProtocolRow row(int day, std::string_view path, std::string_view pond_id = {}) {
    book_ = read_protocol_changes(logbook(), protocol());
    for (ProtocolRow& each : protocol_rows(book_, protocol(), pond_id, at(day, "13:00"))) {
      if (each.path == path) return each;
    }
    return {};
  }
  double number(int day, std::string_view path, std::string_view pond_id = {}) {
    return std::get<double>(row(day, path, pond_id).counts.value);
  }
  double folded(int day, std::string_view path, std::string_view pond_id) const {
    const Instant now = at(day, "13:00");
    const Farm farm = fold(now);
    return protocol_of(*farm.pond(pond_id), protocol(), now).number(path);
  }

 private:
  ProtocolBook book_;
};

TEST(ProtocolEdit, AChangeIsADifferenceFromTheStandard) {
  Office office;
  EXPECT_FALSE(office.row(0, kLow).differs());
  office.change(0, kLow, 42);
  const ProtocolRow row = office.row(1, kLow);
  EXPECT_TRUE(row.differs());
  EXPECT_EQ(std::get<double>(row.standard->value), 45);
  EXPECT_EQ(std::get<double>(row.farm->value), 42);
  ASSERT_NE(row.since, nullptr);
  EXPECT_EQ(row.since->entry->who, "Maren");
  EXPECT_EQ(*row.since->entry->text("reason"), "our clay");
}

TEST(ProtocolEdit, CountsFromItsDateOnAndComesBeforeThat) {
  Office office;
  office.change(0, kLow, 42, {}, at(3, "06:00"));
  EXPECT_EQ(office.number(2, kLow), 45);
  EXPECT_EQ(office.row(2, kLow).coming.size(), 1U);
  EXPECT_EQ(office.number(3, kLow), 42);
  EXPECT_TRUE(office.row(3, kLow).coming.empty());
  EXPECT_EQ(office.folded(2, kLow, "p1"), 45);
  EXPECT_EQ(office.folded(3, kLow, "p1"), 42);
}

TEST(ProtocolEdit, APondsOwnValueCountsForThatPondAlone) {
  Office office;
  office.change(0, kLow, 42).change(0, kLow, 40, "p2");
  EXPECT_EQ(office.number(1, kLow, "p1"), 42);
  EXPECT_EQ(office.number(1, kLow, "p2"), 40);
  EXPECT_EQ(office.number(1, kLow), 42);
  EXPECT_EQ(office.folded(1, kLow, "p1"), 42);
  EXPECT_EQ(office.folded(1, kLow, "p2"), 40);
}

TEST(ProtocolEdit, TakenBackThePondFollowsTheFarmAgainAndTheFarmTheStandard) {
  Office office;
  office.change(0, kLow, 42).change(0, kLow, 40, "p2").back(1, kLow, "p2");
  EXPECT_EQ(office.folded(1, kLow, "p2"), 42);
  EXPECT_FALSE(office.row(1, kLow, "p2").pond);
  office.change(2, kLow, 43);
  EXPECT_EQ(office.folded(2, kLow, "p2"), 43) << "it follows what the farm sets later";
  office.back(3, kLow);
  EXPECT_EQ(office.folded(3, kLow, "p1"), 45);
  const ProtocolRow row = office.row(3, kLow);
  EXPECT_FALSE(row.differs());
  EXPECT_EQ(row.counts.mark, "P");
  EXPECT_EQ(row.counts.source, "source.secchi_band") << "not the farm's any more";
  EXPECT_EQ(office.number(2, kLow), 43) << "what counted then still did";
}

TEST(ProtocolEdit, RefusesWhatCannotBe) {
  const Office office;
  EXPECT_EQ(office.refused(0, kLow, -1.0), "protocol.refused.range");
  EXPECT_EQ(office.refused(0, "bin.fill_share", 1.2), "protocol.refused.range");
  EXPECT_EQ(office.refused(0, "stage.release.ph_high", 15.0), "protocol.refused.range");
  EXPECT_EQ(office.refused(0, kDried, 6.5), "protocol.refused.whole");
  EXPECT_EQ(office.refused(0, "stage.bloom.colours", std::string("purple")), "protocol.refused.choice");
  EXPECT_EQ(office.refused(0, "stage.bloom.colours", std::string()), "protocol.refused.empty");
  EXPECT_EQ(office.refused(0, kLow, std::string("40")), "problem.protocol_type");
  EXPECT_EQ(office.refused(0, "stage.bloom.nothing", 1.0), "problem.protocol_unknown_path");
  EXPECT_EQ(office.refused(0, kLow, 45.0), "protocol.refused.same");
  EXPECT_EQ(office.refused(0, "stage.bloom.colours", std::string("golden")), "");
}

TEST(ProtocolEdit, RefusesWithoutReasonAndForThePast) {
  const Office office;
  ProtocolAsk asked;
  asked.path = kLow;
  asked.value = 42.0;
  EXPECT_EQ(office.ask(0, asked).error().message.id, "protocol.refused.reason");
  asked.reason = "our clay";
  asked.from = at(-1, "12:00");
  EXPECT_EQ(office.ask(0, asked).error().message.id, "protocol.refused.past");
}

TEST(ProtocolEdit, RefusesALowLimitOverItsHighByName) {
  const Office office;
  ProtocolAsk asked;
  asked.path = kLow;
  asked.value = 58.0;
  asked.reason = "our clay";
  const auto draft = office.ask(0, asked);
  ASSERT_FALSE(draft);
  EXPECT_EQ(draft.error().kind, ProblemKind::conflict);
  EXPECT_EQ(draft.error().message.id, "protocol.refused.order");
  EXPECT_EQ(std::get<Word>(*draft.error().message.find("what")).id, "protocol." + std::string(kLow));
  EXPECT_EQ(std::get<Word>(*draft.error().message.find("other")).id, "protocol." + std::string(kHigh));
}

TEST(ProtocolEdit, RefusesWhatWouldCrossAPondsOwnValueOrOneThatIsComing) {
  Office office;
  office.change(0, kHigh, 48, "p2");
  EXPECT_EQ(office.refused(1, kLow, 50.0), "protocol.refused.order_at") << "p2 ends at 48";
  EXPECT_EQ(office.refused(1, kLow, 47.0), "");
  office.change(1, kHigh, 52, {}, at(9, "06:00"));
  EXPECT_EQ(office.refused(2, kLow, 54.0, "p1"), "protocol.refused.order") << "from day 9 on";
}

TEST(ProtocolEdit, ChangesMadeApartThatCrossAreTold) {
  Office office;
  const auto raw = [&](const char* path, double value) {
    office.tell(1, "09:00", kind::kProtocolChange,
                {{"path", std::string(path)},
                 {"value", value},
                 {"from", to_iso(at(1, "09:00"))},
                 {"reason", std::string("apart")}},
                "");
  };
  raw(kLow, 54);
  raw(kHigh, 50);
  raw("stage.bloom.nothing", 50);
  raw("bin.fill_share", 7);
  const Instant now = at(2, "12:00");
  const ProtocolBook book = read_protocol_changes(office.logbook(), protocol());
  EXPECT_EQ(standing_contradictions(book, office.fold(now), protocol(), now).size(), 1U);
  EXPECT_EQ(book.problems.size(), 2U);
  EXPECT_EQ(office.number(2, "bin.fill_share"), 0.85) << "what cannot be does not count";
}

// Ten days of drying are enough by the standard's seven, and not by twelve.
TEST(ProtocolEdit, AnOwnLimitDecidesTheCriterion) {
  Office office;
  for (const char* pond_id : {"p1", "p2"}) {
    office.tell(0, "09:00", kind::kBottomLook, {{"thick_sludge", std::string("none")}, {"dried_days", 10.0}},
                pond_id);
  }
  office.change(1, kDried, 12, "p2");
  const Farm farm = office.fold(at(2, "12:00"));
  const auto verdict = [&](const char* pond_id) {
    return test::find(farm.pond(pond_id)->state.criteria, "bottom.dried")->verdict;
  };
  EXPECT_EQ(verdict("p1"), Verdict::met);
  EXPECT_EQ(verdict("p2"), Verdict::unmet);
}

TEST(ProtocolEdit, TheStandardKeepsToItsOwnRangesAndCrossesNowhere) {
  for (const auto& [path, value] : protocol().values()) EXPECT_FALSE(outside_protocol(path, value)) << path;
  EXPECT_TRUE(contradictions(protocol()).empty());
}

TEST(ProtocolEdit, EveryValueAndEveryGroupHasItsWords) {
  const auto words = Words::parse(assets::language("en"));
  ASSERT_TRUE(words);
  std::size_t shown = 0;
  for (const std::string& group : protocol_groups(protocol()))
    EXPECT_TRUE(words->has("protocol.group." + group)) << group;
  for (const auto& [path, value] : protocol().values()) {
    EXPECT_TRUE(words->has("protocol." + path)) << path;
    ++shown;
  }
  const ProtocolBook none;
  EXPECT_EQ(protocol_rows(none, protocol(), {}, at(0, "12:00")).size(), shown);
}

}  // namespace
}  // namespace tawny
