#include "ui/screen_model.h"

#include <gtest/gtest.h>

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

}  // namespace
}  // namespace tawny::ui
