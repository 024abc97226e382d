#include "logbook/value_json.h"

namespace tawny {

void write_text(JsonWriter& writer, std::string_view text) {
  writer.String(text.data(), static_cast<rapidjson::SizeType>(text.size()));
}

void write_value(JsonWriter& writer, const Value& value) {
  if (const auto* number = std::get_if<double>(&value)) writer.Double(*number);
  if (const auto* flag = std::get_if<bool>(&value)) writer.Bool(*flag);
  if (const auto* text = std::get_if<std::string>(&value)) write_text(writer, *text);
  if (const auto* numbers = std::get_if<std::vector<double>>(&value)) {
    writer.StartArray();
    for (const double number : *numbers) writer.Double(number);
    writer.EndArray();
  }
  if (const auto* texts = std::get_if<std::vector<std::string>>(&value)) {
    writer.StartArray();
    for (const std::string& text : *texts) write_text(writer, text);
    writer.EndArray();
  }
}

}  // namespace tawny
