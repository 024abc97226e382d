// The table of words and the sources hold one another: no id without words, no words without use.
#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

#include "assets.h"

namespace tawny::ui {
namespace {

namespace fs = std::filesystem;

std::string read(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

std::set<std::string> ids_of_table() {
  rapidjson::Document document;
  const std::string_view json = assets::find("en.json");
  document.Parse(json.data(), json.size());
  std::set<std::string> ids;
  for (const auto& member : document.GetObject()) ids.insert(member.name.GetString());
  return ids;
}

struct Sources {
  std::set<std::string> texts;  // every text in quotes
  std::set<std::string> asked;  // ids that are worded as they stand: words("..."), Message("..."), Word{"..."}
};

Sources read_sources() {
  const fs::path root(TAWNY_SOURCE_DIR);
  const std::regex comment("//[^\n]*");
  const std::regex quoted("\"((?:[^\"\\\\\\n]|\\\\.)*)\"");
  const std::regex worded("(?:words|words_|Message|Word)[({]\"([a-z0-9_]+(?:\\.[a-z0-9_]+)+)\"[)},]");
  Sources sources;
  for (const char* folder : {"core", "wasm-shell", "assets"}) {
    for (const fs::directory_entry& file : fs::recursive_directory_iterator(root / folder)) {
      const std::string kind = file.path().extension().string();
      const bool data = kind == ".json" && file.path().parent_path().filename() != "languages";
      if (kind != ".cpp" && kind != ".h" && !data) continue;
      const std::string text = std::regex_replace(read(file.path()), comment, "");
      for (std::sregex_iterator at(text.begin(), text.end(), quoted), end; at != end; ++at) {
        sources.texts.insert((*at)[1]);
      }
      for (std::sregex_iterator at(text.begin(), text.end(), worded), end; at != end; ++at) {
        sources.asked.insert((*at)[1]);
      }
    }
  }
  return sources;
}

TEST(Language, EveryIdThatIsAskedForHasWords) {
  const std::set<std::string> ids = ids_of_table();
  const std::set<std::string> asked = read_sources().asked;
  ASSERT_GT(asked.size(), 200U);
  for (const std::string& id : asked) EXPECT_TRUE(ids.count(id)) << id << " has no words";
}

// "stage." + name, id + ".about", options_of(words, "key.screen", {"whole"}): words that are chosen while the
// app runs are used when the sources hold all their parts.
bool is_used(const std::string& id, const std::set<std::string>& texts) {
  if (texts.count(id)) return true;
  for (std::size_t dot = id.find('.'); dot != std::string::npos; dot = id.find('.', dot + 1)) {
    if (texts.count(id.substr(0, dot + 1))) return true;
  }
  const std::size_t last = id.rfind('.');
  if (last == std::string::npos) return false;
  const std::string group = id.substr(0, last);
  const bool grouped =
      group.find('.') != std::string::npos && texts.count(group) && texts.count(id.substr(last + 1));
  const std::size_t ending = id.find_last_of("._");
  return grouped || (texts.count(id.substr(ending)) && texts.count(id.substr(0, ending)));
}

TEST(Language, NoWordsAreLeftOver) {
  const std::set<std::string> texts = read_sources().texts;
  for (const std::string& id : ids_of_table()) EXPECT_TRUE(is_used(id, texts)) << id << " is used nowhere";
}

}  // namespace
}  // namespace tawny::ui
