// The screen model: every control and every text of the present frame as {id, role, name, value, state,
// rectangle}.
//
// Written by the widget layer only. The page mirrors it into real DOM nodes over the canvas, so that screen
// readers, keyboards and browser tests find each control by role and name; a click on a mirror node comes back
// as an activation of the same id.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace tawny::ui {

struct Rect {
  float x = 0, y = 0, w = 0, h = 0;  // CSS px, from the top left of the canvas
  bool operator==(const Rect&) const = default;
};

enum class NodeRole {
  heading,
  text,
  status,
  alert,
  image,
  progress,
  button,
  tab,
  radio,
  checkbox,
  textfield,
  listitem
};
std::string_view name_of(NodeRole role);

struct Node {
  std::string id;  // unique in a frame; stable from frame to frame
  NodeRole role = NodeRole::text;
  std::string name;  // what a screen reader says
  std::string value;
  // "", or of: disabled selected checked expanded collapsed pressed busy - separated by blanks
  std::string state;
  Rect rect;
  int level = 0;  // of a heading
  // of a textfield, for the entry bar:
  std::string hint;
  std::string input_kind;  // "text", "name", "note", "decimal"
  int max_length = 0;
  bool operator==(const Node&) const = default;
};

class ScreenModel {
 public:
  void clear() { nodes_.clear(); }
  void add(Node node) { nodes_.push_back(std::move(node)); }
  // Gives a node its rectangle where that is known only after what stands inside it was drawn.
  void place(std::string_view id, Rect rect);
  const std::vector<Node>& nodes() const { return nodes_; }
  const Node* find(std::string_view id) const;
  // First node with that role whose name is, or starts with, `name`.
  const Node* find(NodeRole role, std::string_view name) const;
  // {"title":..., "nodes":[{...}]}; absent members are empty ones.
  std::string to_json(std::string_view title) const;

 private:
  std::vector<Node> nodes_;
};

}  // namespace tawny::ui
