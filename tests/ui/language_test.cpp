// The table of words and the sources hold one another: no id without words, no words without use.
#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "assets.h"
#include "imgui.h"
#include "imgui_internal.h"

namespace tawny::ui {
namespace {

namespace fs = std::filesystem;

std::string read(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

using Table = std::map<std::string, std::vector<std::string>>;  // an id's texts: one, or "one" and "other"

Table table_of(const std::string& language) {
  rapidjson::Document document;
  const std::string_view json = assets::language(language);
  document.Parse(json.data(), json.size());
  Table table;
  if (!document.IsObject()) return table;
  for (const auto& member : document.GetObject()) {
    std::vector<std::string>& texts = table[member.name.GetString()];
    if (member.value.IsString()) texts.push_back(member.value.GetString());
    if (!member.value.IsObject()) continue;
    for (const char* form : {"one", "other"}) texts.push_back(member.value[form].GetString());
  }
  return table;
}

std::set<std::string> languages() {
  std::set<std::string> codes;
  for (const fs::directory_entry& file :
       fs::directory_iterator(fs::path(TAWNY_SOURCE_DIR) / "assets" / "languages")) {
    if (file.path().extension() == ".json") codes.insert(file.path().stem().string());
  }
  return codes;
}

struct Sources {
  std::set<std::string> texts;  // every text in quotes
  std::set<std::string> asked;  // ids that are worded as they stand: words("..."), Message("..."), Word{"..."}
};

Sources read_sources() {
  const fs::path root(TAWNY_SOURCE_DIR);
  const std::regex comment("//[^\n]*");
  const std::regex quoted("\"((?:[^\"\\\\\\n]|\\\\.)*)\"");
  const std::regex in_script("say\\('([a-z0-9_.]+)'\\)");
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
  for (const fs::directory_entry& file : fs::recursive_directory_iterator(root / "web" / "src")) {
    if (!file.is_regular_file()) continue;
    const std::string text = read(file.path());
    for (std::sregex_iterator at(text.begin(), text.end(), in_script), end; at != end; ++at) {
      sources.texts.insert((*at)[1]);
      sources.asked.insert((*at)[1]);
    }
  }
  return sources;
}

TEST(Language, EveryIdThatIsAskedForHasWords) {
  const Table table = table_of("en");
  const std::set<std::string> asked = read_sources().asked;
  ASSERT_GT(asked.size(), 200U);
  for (const std::string& id : asked) EXPECT_TRUE(table.count(id)) << id << " has no words";
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
  for (const auto& [id, words] : table_of("en")) EXPECT_TRUE(is_used(id, texts)) << id << " is used nowhere";
}

TEST(Language, FiveLanguagesAreSpoken) {
  EXPECT_EQ(languages(), (std::set<std::string>{"en", "es", "pt-BR", "id", "vi"}));
}

TEST(Language, EveryTableHasTheSameIds) {
  const Table english = table_of("en");
  for (const std::string& language : languages()) {
    const Table table = table_of(language);
    for (const auto& [id, texts] : english) EXPECT_TRUE(table.count(id)) << language << " lacks " << id;
    for (const auto& [id, texts] : table)
      EXPECT_TRUE(english.count(id)) << language << " has a left over " << id;
  }
}

std::set<std::string> named_values(const std::vector<std::string>& texts) {
  const std::regex hole("\\{(?:on |at )?([^}]*)\\}");
  std::set<std::string> names;
  for (const std::string& text : texts) {
    for (std::sregex_iterator at(text.begin(), text.end(), hole), end; at != end; ++at) names.insert((*at)[1]);
  }
  return names;
}

TEST(Language, EveryTextNamesTheValuesThatEnglishNames) {
  const Table english = table_of("en");
  for (const std::string& language : languages()) {
    for (const auto& [id, texts] : table_of(language)) {
      const auto found = english.find(id);
      if (found == english.end()) continue;
      EXPECT_EQ(named_values(texts), named_values(found->second)) << language << " " << id;
    }
  }
}

// Both forms where the language has them, else one text.
TEST(Language, PluralsHaveTheFormsOfTheirLanguage) {
  const Table english = table_of("en");
  for (const std::string& language : languages()) {
    const Table table = table_of(language);
    const bool has_forms = table.at("number.plural").front() != "none";
    for (const auto& [id, texts] : table) {
      EXPECT_LE(texts.size(), has_forms ? 2U : 1U) << language << " " << id;
    }
    for (const auto& [id, texts] : english) {
      const auto found = table.find(id);
      if (has_forms && texts.size() == 2 && found != table.end()) {
        EXPECT_EQ(found->second.size(), 2U) << language << " " << id;
      }
    }
  }
}

// House rules for words: no shouting, no blanks at the ends, and letters composed (NFC), since nothing here
// puts a loose tone mark over its letter.
TEST(Language, TextsKeepTheHouseRules) {
  const std::regex loose_mark("\xCC[\x80-\xBF]|\xCD[\x80-\xAF]");  // U+0300..U+036F
  for (const std::string& language : languages()) {
    for (const auto& [id, texts] : table_of(language)) {
      for (const std::string& text : texts) {
        const std::string which = language + " " + id + ": " + text;
        EXPECT_EQ(text.find('!'), std::string::npos) << which;
        EXPECT_FALSE(text.empty()) << which;
        EXPECT_FALSE(std::regex_search(text, loose_mark)) << which;
        EXPECT_TRUE(text.empty() || (text.front() != ' ' && text.back() != ' ')) << which;
      }
    }
  }
}

// The code points of a text in UTF-8.
std::vector<unsigned> letters_of(const std::string& text) {
  std::vector<unsigned> letters;
  for (std::size_t at = 0; at < text.size();) {
    unsigned code = 0;
    at += static_cast<std::size_t>(ImTextCharFromUtf8(&code, text.data() + at, text.data() + text.size()));
    letters.push_back(code);
  }
  return letters;
}

// The fonts that the app carries hold every letter of every table, and the letters of the Vietnamese names for
// the tones, which stand for what people type (the alphabet is cut whole).
TEST(Language, TheFontsHaveEveryLetter) {
  std::map<unsigned, std::string> wanted;
  for (const std::string& language : languages()) {
    for (const auto& [id, texts] : table_of(language)) {
      for (const std::string& text : texts) {
        for (const unsigned letter : letters_of(text)) wanted.emplace(letter, language + " " + id);
      }
    }
  }
  const std::string typed = "Đặng Thị Hỏi Ngã Nặng Sắc Huyền Ỷ Ữ Ưỡ ñ Ñ ç ã õ ü ¿ ± × ₃ ≥ ≤ → −";
  for (const unsigned letter : letters_of(typed)) wanted.emplace(letter, "typed");
  wanted.erase('\n');
  for (const char* file : {"tawny-regular.ttf", "tawny-bold.ttf"}) {
    const std::string_view bytes = assets::find(file);
    if (bytes.empty()) GTEST_SKIP() << "built without TAWNY_FONT_DIR";
    ImVector<ImWchar> ranges;
    for (const auto& [letter, where] : wanted) {
      ranges.push_back(static_cast<ImWchar>(letter));
      ranges.push_back(static_cast<ImWchar>(letter));
    }
    ranges.push_back(0);
    ImFontAtlas atlas;
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    ImFont* font = atlas.AddFontFromMemoryTTF(const_cast<char*>(bytes.data()), static_cast<int>(bytes.size()),
                                              16, &config, ranges.Data);
    ASSERT_TRUE(atlas.Build());
    for (const auto& [letter, where] : wanted) {
      EXPECT_NE(font->FindGlyphNoFallback(static_cast<ImWchar>(letter)), nullptr)
          << file << " lacks U+" << std::hex << letter << " of " << where;
    }
  }
}

}  // namespace
}  // namespace tawny::ui
