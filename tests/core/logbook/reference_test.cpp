#include "logbook/reference.h"

#include <gtest/gtest.h>

#include "logbook/entry.h"

namespace tawny {
namespace {

TEST(Reference, NamesDeviceNumberAndTheStartOfTheHash) {
  const EntryId id{"d1", 4294967295u, std::string(32, 'a') + std::string(32, 'b')};
  const std::string text = to_reference(id);
  EXPECT_EQ(text, "d1/4294967295/aaaaaaaaaaaaaaaa");
  const auto parts = parse_reference(text);
  ASSERT_TRUE(parts);
  EXPECT_EQ(parts->device, "d1");
  EXPECT_EQ(parts->number, 4294967295u);
  EXPECT_EQ(parts->hash_start, "aaaaaaaaaaaaaaaa");
}

TEST(Reference, AnythingElseIsNone) {
  const char* rows[] = {"",
                        "d1",
                        "d1/1",
                        "d1/1/",
                        "/1/aaaaaaaaaaaaaaaa",
                        "d1//aaaaaaaaaaaaaaaa",
                        "d1/0/aaaaaaaaaaaaaaaa",
                        "d1/01/aaaaaaaaaaaaaaaa",
                        "d1/-1/aaaaaaaaaaaaaaaa",
                        "d1/4294967296/aaaaaaaaaaaaaaaa",
                        "d1/99999999999999999999/aaaaaaaaaaaaaaaa",
                        "d1/1/aaaaaaaaaaaaaaa",
                        "d1/1/aaaaaaaaaaaaaaaaa",
                        "d1/1/AAAAAAAAAAAAAAAA",
                        "d1/1/aaaaaaaaaaaaaaag",
                        "d 1/1/aaaaaaaaaaaaaaaa",
                        "d1/1/aaaaaaaaaaaaaaaa/"};
  for (const char* row : rows) EXPECT_FALSE(parse_reference(row)) << row;
}

TEST(Reference, ADeviceIdIsFitToNameAFolder) {
  EXPECT_TRUE(is_device_id("Phone_2-b"));
  EXPECT_TRUE(is_device_id(std::string(64, 'x')));
  for (const char* row : {"", ".", "..", "a.b", "a/b", "a b", "\xc3\xa9", "a\n"})
    EXPECT_FALSE(is_device_id(row)) << row;
  EXPECT_FALSE(is_device_id(std::string(65, 'x')));
}

}  // namespace
}  // namespace tawny
