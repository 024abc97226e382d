#include "ui/screen_model.h"

#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <cmath>

#include "ui/shown.h"

namespace tawny::ui {
namespace {

using Writer = rapidjson::Writer<rapidjson::StringBuffer>;

void put_string(Writer& json, std::string_view text) {
  json.String(text.data(), static_cast<rapidjson::SizeType>(text.size()));
}

void put_text(Writer& json, const char* key, std::string_view text) {
  if (text.empty()) return;
  json.Key(key);
  put_string(json, text);
}

// What a person reads, or hears: it may hold what others typed.
void put_words(Writer& json, const char* key, std::string_view text) { put_text(json, key, shown(text)); }

// Tenths of a pixel are finer than any finger, and keep a scroll from rewriting every node for nothing.
void put_length(Writer& json, float px) { json.Double(std::round(static_cast<double>(px) * 10.0) / 10.0); }

void put_node(Writer& json, const Node& node) {
  json.StartObject();
  put_text(json, "id", node.id);
  put_text(json, "role", name_of(node.role));
  put_words(json, "name", node.name);
  // In a field it is what the person goes on typing in.
  put_text(json, "value", node.role == NodeRole::textfield ? node.value : shown(node.value));
  put_text(json, "state", node.state);
  json.Key("rect");
  json.StartArray();
  for (const float px : {node.rect.x, node.rect.y, node.rect.w, node.rect.h}) put_length(json, px);
  json.EndArray();
  if (node.level != 0) {
    json.Key("level");
    json.Int(node.level);
  }
  put_words(json, "hint", node.hint);
  put_text(json, "input_kind", node.input_kind);
  if (node.max_length != 0) {
    json.Key("max_length");
    json.Int(node.max_length);
  }
  json.EndObject();
}

}  // namespace

std::string_view name_of(NodeRole role) {
  switch (role) {
    case NodeRole::heading:
      return "heading";
    case NodeRole::text:
      return "text";
    case NodeRole::status:
      return "status";
    case NodeRole::alert:
      return "alert";
    case NodeRole::image:
      return "image";
    case NodeRole::progress:
      return "progressbar";
    case NodeRole::button:
      return "button";
    case NodeRole::tab:
      return "tab";
    case NodeRole::radio:
      return "radio";
    case NodeRole::checkbox:
      return "checkbox";
    case NodeRole::textfield:
      return "textfield";
    case NodeRole::listitem:
      return "listitem";
  }
  return "text";
}

void ScreenModel::place(std::string_view id, Rect rect) {
  for (Node& node : nodes_) {
    if (node.id == id) node.rect = rect;
  }
}

const Node* ScreenModel::find(std::string_view id) const {
  for (const Node& node : nodes_) {
    if (node.id == id) return &node;
  }
  return nullptr;
}

const Node* ScreenModel::find(NodeRole role, std::string_view name) const {
  const Node* begins_so = nullptr;
  for (const Node& node : nodes_) {
    if (node.role != role) continue;
    if (node.name == name) return &node;
    if (!begins_so && std::string_view(node.name).substr(0, name.size()) == name) begins_so = &node;
  }
  return begins_so;
}

std::string ScreenModel::to_json(std::string_view title) const {
  rapidjson::StringBuffer buffer;
  Writer json(buffer);
  json.StartObject();
  json.Key("title");
  put_string(json, shown(title));
  json.Key("nodes");
  json.StartArray();
  for (const Node& node : nodes_) put_node(json, node);
  json.EndArray();
  json.EndObject();
  return {buffer.GetString(), buffer.GetSize()};
}

}  // namespace tawny::ui
