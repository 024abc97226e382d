// Whose pond it is, and what is shown to whom. Common practice, no source: a crew shares out its ponds, and
// danger is everybody's.
#include "farm/own_ponds.h"

#include <gmock/gmock.h>

#include "core/farm/parts.h"
#include "core/office/book.h"

namespace tawny {
namespace {

using farm_test::clock;
using farm_test::farm_of;
using farm_test::pond_in;
using test::at;
using test::Book;
using testing::ElementsAre;
using testing::IsEmpty;

Values given(std::string role, std::string person) {
  return {{"role", std::move(role)}, {"person", std::move(person)}};
}

Book two_ponds() {
  Book book;
  book.pond(0, "p1").pond(0, "p2");
  return book;
}

std::string holder(const Farm& farm, std::string_view pond, Role role) {
  const std::string* person = person_of(*farm.pond(pond), role);
  return person == nullptr ? "nobody" : *person;
}

TEST(OwnPonds, TheLatestOfAPondAndPartCounts) {
  Book book = two_ponds();
  book.tell(1, "09:00", kind::kPondPerson, given("technician", "Ines"))
      .tell(1, "09:10", kind::kPondPerson, given("worker", "Tomas"))
      .tell(2, "09:00", kind::kPondPerson, given("technician", "Bea"));
  const Farm farm = book.fold(at(3, "08:00"));
  EXPECT_EQ(holder(farm, "p1", Role::technician), "Bea");
  EXPECT_EQ(holder(farm, "p1", Role::worker), "Tomas");
  EXPECT_EQ(holder(farm, "p1", Role::manager), "nobody");
  EXPECT_EQ(holder(farm, "p2", Role::technician), "nobody") << "another pond";
}

TEST(OwnPonds, NobodyTakesThePondBackForThatPartAlone) {
  Book book = two_ponds();
  book.tell(1, "09:00", kind::kPondPerson, given("technician", "Ines"))
      .tell(1, "09:10", kind::kPondPerson, given("worker", "Ines"))
      .tell(2, "09:00", kind::kPondPerson, given("technician", ""));
  const Farm farm = book.fold(at(3, "08:00"));
  EXPECT_EQ(holder(farm, "p1", Role::technician), "nobody");
  EXPECT_EQ(holder(farm, "p1", Role::worker), "Ines");
  EXPECT_TRUE(has_ponds(farm, "Ines"));
}

TEST(OwnPonds, AnEntryTakenBackLeavesTheOneBefore) {
  Book book = two_ponds();
  book.tell(1, "09:00", kind::kPondPerson, given("technician", "Ines"))
      .tell(2, "09:00", kind::kPondPerson, given("technician", "Bea"));
  book.take_back(2, "10:00", book.last());
  EXPECT_EQ(holder(book.fold(at(3, "08:00")), "p1", Role::technician), "Ines");
}

TEST(OwnPonds, WhatCannotBeReadIsSaidAndCountsForNothing) {
  for (const Values& values :
       {given("captain", "Ines"), Values{{"role", std::string("worker")}},
        Values{{"person", std::string("Ines")}}, Values{{"role", 3.0}, {"person", true}}}) {
    Book book = two_ponds();
    book.tell(1, "09:00", kind::kPondPerson, values);
    const Farm farm = book.fold(at(3, "08:00"));
    EXPECT_FALSE(has_ponds(farm, "Ines"));
    ASSERT_EQ(farm.problems.size(), 1U);
    EXPECT_EQ(farm.problems[0].id, "problem.setup_missing");
  }
  Book book = two_ponds();
  book.tell(1, "09:00", kind::kPondPerson, given("worker", "Ines"), "");
  EXPECT_EQ(book.fold(at(3, "08:00")).problems.size(), 1U) << "without a pond";
}

TEST(OwnPonds, AnEntryReadsBackAsItWasWritten) {
  Entry entry;
  entry.pond = "p1";
  entry.values = pond_person_values({Role::worker, "Tomas"});
  const auto read = read_pond_person(entry);
  ASSERT_TRUE(read);
  EXPECT_EQ(read->role, Role::worker);
  EXPECT_EQ(read->person, "Tomas");
}

DueItem due_at(std::string pond, Role role) {
  DueItem item;
  item.pond = std::move(pond);
  item.role = role;
  return item;
}

Farm shared_out() {
  Farm farm = farm_of({pond_in(Stage::bloom, "p1", 1), pond_in(Stage::bloom, "p2", 2)}, clock("08:00"));
  farm.ponds[0].persons[Role::technician] = "Ines";
  farm.ponds[1].persons[Role::technician] = "Bea";
  return farm;
}

TEST(OwnPonds, ThePondsOfOthersAreLeftOut) {
  const Farm farm = shared_out();
  EXPECT_TRUE(is_for(farm, due_at("p1", Role::technician), "Ines"));
  EXPECT_FALSE(is_for(farm, due_at("p2", Role::technician), "Ines"));
}

TEST(OwnPonds, WhatNobodyHasAndWhatIsTheFarmsIsShownToAll) {
  const Farm farm = shared_out();
  EXPECT_TRUE(is_for(farm, due_at("p2", Role::worker), "Ines")) << "no worker has p2";
  EXPECT_TRUE(is_for(farm, due_at("", Role::technician), "Ines")) << "the sky";
}

TEST(OwnPonds, DangerIsShownToAll) {
  Farm farm = shared_out();
  Trouble trouble;
  trouble.id = "crash";
  trouble.severity = Trouble::Severity::warn;
  farm.ponds[1].state.troubles = {trouble};
  EXPECT_FALSE(is_for(farm, due_at("p2", Role::technician), "Ines"));
  farm.ponds[1].state.troubles[0].severity = Trouble::Severity::alarm;
  EXPECT_TRUE(is_for(farm, due_at("p2", Role::technician), "Ines"));
}

TEST(OwnPonds, TheCrewIsWhoHoldsADeviceEachPartOnce) {
  Farm farm;
  farm.people = {{"d1", {"Ines", "technician"}}, {"d2", {"Ines", "technician"}}, {"d3", {"Tomas", "worker"}},
                 {"d4", {"", "worker"}},         {"d5", {"Bea", "captain"}},     {"d6", {"Ines", "worker"}}};
  EXPECT_THAT(crew_of(farm), ElementsAre(CrewMember{"Ines", Role::worker}, CrewMember{"Tomas", Role::worker},
                                         CrewMember{"Ines", Role::technician}));
  EXPECT_THAT(crew_of(Farm()), IsEmpty());
}

}  // namespace
}  // namespace tawny
