// Names that are markup, formulae, formats, or turn what stands around them: every screen shows them, and nothing more.
#include <gtest/gtest.h>

#include <regex>

#include "base/visible.h"
#include "farm/demo.h"
#include "ui/app_bench.h"
#include "ui/layout_walk.h"
#include "ui/shown.h"

namespace tawny::ui {
namespace {

const Instant kMorning = *parse_instant("2026-11-25T11:20:00Z");
constexpr const char* kHarm = " \u202E<img src=x onerror=alert(1)>\u2066%s%n{name}\u200B\x1b[31m";

// The demo farm with such a piece behind every name, person and note, and one note without end.
std::string hostile_lines() {
  const Protocol protocol = *Protocol::parse(assets::find("protocol.json"));
  std::string lines;
  DeviceChain chain;
  chain.farm = "demo";
  chain.device = "demo-device";
  const auto write = [&](const Draft& draft) {
    const Result<Entry> entry = seal(draft, draft.observed, chain);
    ASSERT_TRUE(entry.has_value());
    (lines += entry->line) += '\n';
  };
  const auto drafts = demo_drafts(assets::find("demo-farm.json"), protocol, kMorning);
  for (Draft draft : *drafts) {
    if (!draft.who.empty()) draft.who += kHarm;
    for (const char* key : {"name", "person", "note", "reason", "text", "lot", "cycle"}) {
      const auto value = draft.values.find(key);
      if (value == draft.values.end()) continue;
      if (auto* text = std::get_if<std::string>(&value->second)) *text += kHarm;
    }
    write(draft);
  }
  Draft note;
  note.kind = "note";
  note.pond = "p1";
  note.who = std::string(3000, 'W');
  note.observed = kMorning.plus_min(-5);
  note.values["text"] = std::string(50000, 'x');
  write(note);
  return lines;
}

void open_hostile(AppBench& bench) {
  Boot boot;
  boot.store = "demo";
  boot.device = "demo-device";
  boot.languages = {"en"};
  bench.app->start(boot);
  bench.app->load_lines(hostile_lines());
  bench.app->ready();
  bench.frames(2);
}

TEST(HostileNames, EveryScreenShowsThemAndTellsThePageNothingThatHidesOrTurnsText) {
  AppBench bench(kMorning);
  open_hostile(bench);
  ASSERT_TRUE(bench.shows("<img src=x"));
  int screens = 0, with_names = 0;
  walk_all_screens(bench, [&](const std::string& name) {
    bench.frames(1);
    // A field gives what stands in it as it is, since a person goes on writing it.
    static const std::regex kInField("\"role\":\"textfield\",\"name\":\"[^\"]*\",\"value\":\"[^\"]*\"");
    const std::string told = std::regex_replace(bench.model().to_json("title"), kInField, "");
    EXPECT_EQ(visible(told), told) << name;
    EXPECT_LT(told.size(), 400000U) << name;
    ++screens;
    with_names += told.find("[U+202E]<img src=x") != std::string::npos ? 1 : 0;
    // Formats and placeholders are letters like any other.
    if (told.find("<img") != std::string::npos) {
      EXPECT_NE(told.find("%s%n{name}"), std::string::npos) << name;
    }
  });
  EXPECT_GT(screens, 40);
  EXPECT_GT(with_names, 10);
}

// Dear ImGui puts letters one behind another, so no mark turns anything there; each is seen as the sign that stands for
// a letter which the font lacks.
TEST(HostileNames, WhatHidesInATextIsSeenOnTheCanvas) {
  const ImFont* font = bench_fonts_at(1).fonts.body;
  for (const ImWchar code :
       {0x01, 0x1b, 0x7f, 0x9b, 0x061c, 0x200b, 0x200f, 0x202a, 0x202e, 0x2066, 0x2069, 0xfeff}) {
    const ImFontGlyph* glyph = font->FindGlyph(code);
    EXPECT_EQ(glyph, font->FallbackGlyph) << std::hex << code;
  }
  ASSERT_NE(font->FallbackGlyph, nullptr);
  EXPECT_TRUE(font->FallbackGlyph->Visible);
  EXPECT_GT(font->FallbackGlyph->AdvanceX, 0);
}

TEST(HostileNames, FilesAreNamedWithPlainLettersOnly) {
  AppBench bench(kMorning);
  open_hostile(bench);
  bench.app->open_tab(Tab::office);
  bench.frames(2);
  ASSERT_TRUE(bench.press("office/out/share"));
  const std::string& name = bench.platform.shared_name;
  EXPECT_EQ(name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-."), std::string::npos) << name;
  EXPECT_LT(name.size(), 100U);
}

}  // namespace
}  // namespace tawny::ui
