// Every screen on every phone: four widths, three text sizes, each language.
#include <gtest/gtest.h>
#include <rapidjson/document.h>
#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <map>

#include "assets.h"
#include "ui/app_bench.h"
#include "ui/layout_rules.h"
#include "ui/layout_walk.h"
#include "watched.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795605000};  // 2026-11-25 06:10 at the demo farm: time of the first dose

// English, each text longer by two fifths and its vowels under accents: what a language that is still to come
// may need.
constexpr std::string_view kStretched = "stretched";

std::string stretched(std::string_view text) {
  static const std::map<char, std::string> kAccented = {{'a', "ậ"}, {'e', "ễ"}, {'i', "ị"}, {'o', "ộ"},
                                                        {'u', "ự"}, {'d', "đ"}, {'A', "Ă"}, {'O', "Ơ"}};
  std::string longer;
  bool value = false;
  std::size_t letters = 0;
  for (const char c : text) {
    value = value ? c != '}' : c == '{';
    const auto found = kAccented.find(c);
    longer += value || found == kAccented.end() ? std::string(1, c) : found->second;
    letters += value ? 0 : 1;
  }
  const std::size_t more = letters * 2 / 5;
  // Words of their own where there is room for them, else a longer word.
  for (std::size_t i = 0; i < more; ++i) longer += more > 4 && i % 7 == 0 ? " " : i % 2 == 0 ? "ạ" : "n";
  while (!longer.empty() && longer.back() == ' ') longer.pop_back();
  return longer;
}

std::string stretched_table() {
  rapidjson::Document table;
  const std::string_view json = assets::language("en");
  table.Parse(json.data(), json.size());
  const auto stretch = [&](rapidjson::Value& text) {
    const std::string longer = stretched(text.GetString());
    text.SetString(longer.c_str(), static_cast<rapidjson::SizeType>(longer.size()), table.GetAllocator());
  };
  for (auto& member : table.GetObject()) {
    const std::string_view id = member.name.GetString();
    if (id == "number.decimal_mark" || id == "number.plural" || id.substr(0, 5) == "unit.") continue;
    if (member.value.IsString()) stretch(member.value);
    if (!member.value.IsObject()) continue;
    for (auto& form : member.value.GetObject()) stretch(form.value);
  }
  rapidjson::StringBuffer buffer;
  rapidjson::Writer<rapidjson::StringBuffer> writer(buffer);
  table.Accept(writer);
  return {buffer.GetString(), buffer.GetSize()};
}

std::string table_of(std::string_view language) {
  return language == kStretched ? stretched_table() : std::string(assets::language(language));
}

std::vector<std::string> languages() {
  std::vector<std::string> names;
  const std::filesystem::path folder = std::filesystem::path(TAWNY_SOURCE_DIR) / "assets" / "languages";
  for (const auto& file : std::filesystem::directory_iterator(folder)) {
    if (file.path().extension() == ".json") names.push_back(file.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  names.emplace_back(kStretched);
  return names;
}

struct Phone {
  float width, height;
};

// The sanitizers make each frame many times slower; the narrowest and the widest phone stand for all there.
std::vector<Phone> phones() {
  const std::vector<Phone> all = {{320, 640}, {360, 640}, {390, 844}, {430, 932}};
  if (!testing_watched::is_watched()) return all;
  std::cout << "under sanitizers: 320 and 430 px only\n";
  return {all.front(), all.back()};
}

class Layout : public ::testing::TestWithParam<std::string> {
 protected:
  // The screen as it stands, on each phone at each text size.
  void look(AppBench& bench, const std::string& name) {
    for (const float scale : {1.0f, 1.5f, 2.0f}) {
      bench.set_text_scale(scale);
      for (const Phone& phone : phones_) {
        bench.set_size(phone.width, phone.height);
        bench.frames(4);  // a footer takes its height in the second, and moves what is typed
        bench.app->ui().note_frames(&notes_);
        bench.frames(1);
        bench.app->ui().note_frames(nullptr);
        ++looks_;
        if (hides_typed(bench, name)) {
          ++faults_;
          ADD_FAILURE() << name << " at " << phone.width << " px x " << scale * 100
                        << " %: what is typed is hidden";
        }
        for (const std::string& fault : layout_faults(notes_, phone.width, phone.height)) {
          if (++faults_ > kMostTold) continue;
          ADD_FAILURE() << name << " at " << phone.width << " px x " << scale * 100 << " %: " << fault;
        }
      }
    }
    bench.set_text_scale(1);
    bench.set_size(390, 844);
    bench.frames(2);
  }

  // A number being typed, at the foot of its node, is under the keys or the bar. Screens on which the person
  // went on to something else, or was refused, show that instead.
  bool hides_typed(const AppBench& bench, const std::string& name) const {
    for (const char* elsewhere : {", refused", ", more", ", when"}) {
      if (name.find(elsewhere) != std::string::npos) return false;
    }
    for (const char* id : {"entry/value", "number/value", "moment/value"}) {
      const Node* node = bench.find(id);
      if (node == nullptr) continue;
      const float bottom = node->rect.y + node->rect.h;
      if (bottom > notes_.view.y + notes_.view.h + 1 || bottom - kDigitsPx < notes_.view.y - 1) return true;
    }
    return false;
  }

  static constexpr float kDigitsPx = 56;
  static constexpr int kMostTold = 40000;
  const std::vector<Phone> phones_ = phones();
  FrameNotes notes_;
  int faults_ = 0, looks_ = 0;
};

TEST_P(Layout, NothingIsCutOffOrCrowdedOnAnyScreen) {
  {
    AppBench bench(kMorning);
    bench.app->speak(GetParam(), table_of(GetParam()));
    bench.open_demo();
    walk_all_screens(bench, [&](const std::string& name) { look(bench, name); });
  }
  {
    AppBench bench(kMorning);
    bench.app->speak(GetParam(), table_of(GetParam()));
    bench.open_new(-300);
    walk_first_run(bench, [&](const std::string& name) { look(bench, name); });
  }
  EXPECT_GT(looks_, 1000);
  EXPECT_EQ(faults_, 0) << "of " << looks_ << " looks";
}

INSTANTIATE_TEST_SUITE_P(EachLanguage, Layout, ::testing::ValuesIn(languages()),
                         [](const ::testing::TestParamInfo<std::string>& info) {
                           std::string name = info.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

// What is drawn is asked, not what was meant to be drawn.
TEST(Reading, EveryLineOfEveryScreenIsSevenToOneOnItsGround) {
  for (const char* light : {"day", "night"}) {
    AppBench bench(kMorning);
    bench.open_demo();
    bench.app->set_setting("theme", light);
    FrameNotes notes;
    double least = 21, least_large = 21;
    std::string worst, worst_large;
    walk_all_screens(bench, [&](const std::string& name) {
      bench.app->ui().note_frames(&notes);
      bench.frames(1);
      bench.app->ui().note_frames(nullptr);
      for (const InkOnGround& pair : inks_on_grounds(notes)) {
        const double ratio = contrast_ratio(pair.ink, pair.ground);
        const bool large = pair.em_px >= 44;
        double& lowest = large ? least_large : least;
        if (ratio >= lowest) continue;
        lowest = ratio;
        (large ? worst_large : worst) = name + ": " + pair.text;
      }
    });
    EXPECT_GE(least, 7.0) << light << ", " << worst;
    EXPECT_GE(least_large, 4.5) << light << ", " << worst_large;
    RecordProperty(std::string(light) + "_least", std::to_string(least));
  }
}

}  // namespace
}  // namespace tawny::ui
