#include "ui/screen_model.h"

#include <gtest/gtest.h>

#include "ui/shown.h"

namespace tawny::ui {
namespace {

TEST(ScreenModel, JsonLeavesOutWhatIsEmpty) {
  ScreenModel model;
  Node title;
  title.id = "title";
  title.role = NodeRole::heading;
  title.name = "Pond \"3\"";
  title.level = 1;
  title.rect = {16, 8.25f, 100, 38};
  model.add(title);
  EXPECT_EQ(model.to_json("Farm"),
            R"({"title":"Farm","nodes":[{"id":"title","role":"heading","name":"Pond \"3\"",)"
            R"("rect":[16.0,8.3,100.0,38.0],"level":1}]})");
}

TEST(ScreenModel, JsonOfAFieldTellsTheEntryBarWhatToAskFor) {
  ScreenModel model;
  Node field;
  field.id = "note";
  field.role = NodeRole::textfield;
  field.name = "Note";
  field.value = "shells";
  field.state = "disabled";
  field.hint = "Anything to add";
  field.input_kind = "note";
  field.max_length = 200;
  model.add(field);
  EXPECT_EQ(
      model.to_json(""),
      R"({"title":"","nodes":[{"id":"note","role":"textfield","name":"Note","value":"shells","state":"disabled",)"
      R"("rect":[0.0,0.0,0.0,0.0],"hint":"Anything to add","input_kind":"note","max_length":200}]})");
}

TEST(ScreenModel, AWholeNameIsFoundBeforeABeginning) {
  ScreenModel model;
  for (const char* name : {"Save and go on", "Save"}) {
    Node node;
    node.id = name;
    node.role = NodeRole::button;
    node.name = name;
    model.add(node);
  }
  EXPECT_EQ(model.find(NodeRole::button, "Save")->id, "Save");
  EXPECT_EQ(model.find(NodeRole::button, "Save a")->id, "Save and go on");
  EXPECT_EQ(model.find(NodeRole::text, "Save"), nullptr);
  EXPECT_EQ(model.find("nothing"), nullptr);
}

// What the page is told goes into textContent and aria-label; see also the test of a farm with hostile names.
TEST(ScreenModel, NamesThatHideOrTurnTextAreToldWithNumbers) {
  ScreenModel model;
  Node pond;
  pond.id = "pond";
  pond.role = NodeRole::button;
  pond.name = "North\u202Ehtron";
  pond.value = "\u200B3";
  pond.hint = "\u2066x";
  model.add(pond);
  EXPECT_EQ(model.to_json("\u202Eeltit"),
            R"({"title":"[U+202E]eltit","nodes":[{"id":"pond","role":"button","name":"North[U+202E]htron",)"
            R"("value":"[U+200B]3","rect":[0.0,0.0,0.0,0.0],"hint":"[U+2066]x"}]})");
}

TEST(ScreenModel, WhatAPersonGoesOnTypingInStaysAsItWasTyped) {
  ScreenModel model;
  Node field;
  field.id = "note";
  field.role = NodeRole::textfield;
  field.value = "a\u200Fb";
  model.add(field);
  EXPECT_NE(model.to_json("").find("a\u200Fb"), std::string::npos);
}

TEST(ScreenModel, ATextWithoutEndIsCutAtALetter) {
  std::string endless;
  while (endless.size() < 60000) endless += "ế";
  const std::string text = shown(endless);
  EXPECT_LE(text.size(), kMostShownBytes + 3);
  EXPECT_EQ(text.substr(text.size() - 6), "ế…");
  EXPECT_EQ(shown("short"), "short");
}

}  // namespace
}  // namespace tawny::ui
