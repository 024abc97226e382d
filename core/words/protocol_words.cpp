#include "words/protocol_words.h"

#include "protocol/protocol_range.h"

namespace tawny {

std::string stage_word(const Words& words, Stage stage) {
  return words(Message("screen.stage")
                   .with("number", Quantity{static_cast<double>(stage), 0, ""})
                   .with("stage", Word{"stage." + std::string(name_of(stage))}));
}

std::string verdict_word(const Words& words, Verdict verdict) {
  switch (verdict) {
    case Verdict::met:
      return words("verdict.met");
    case Verdict::unmet:
      return words("verdict.unmet");
    case Verdict::unknown:
      break;
  }
  return words("verdict.unknown");
}

std::string limit_word(const Words& words, std::string_view path) {
  const std::string label = "limit." + std::string(path.substr(path.rfind('.') + 1));
  return words.has(label) ? words(label) : words("pond.limit");
}

std::string protocol_item(const Words& words, std::string_view item) {
  for (const char* group : {"colour.", "product.", "key.area_counted.", "key."}) {
    const std::string id = group + std::string(item);
    if (words.has(id)) return words(id);
  }
  return std::string(item);
}

std::string protocol_value(const Words& words, const ProtocolValue& value) {
  if (const double* number = std::get_if<double>(&value.value)) {
    // A moment at no offset, of which only the time of day is told.
    if (value.unit == "min_of_day") {
      return to_hh_mm(Instant{static_cast<std::int64_t>(*number) * 60}, UtcOffset{0});
    }
    return words.quantity(quantity_of(value));
  }
  if (const bool* flag = std::get_if<bool>(&value.value)) return words(*flag ? "key.yes" : "key.no");
  if (const std::string* text = std::get_if<std::string>(&value.value)) return protocol_item(words, *text);
  std::string list;
  for (const std::string& item : std::get<std::vector<std::string>>(value.value)) {
    list += (list.empty() ? "" : ", ") + protocol_item(words, item);
  }
  return list;
}

std::string protocol_name(const Words& words, std::string_view path) {
  return words("protocol." + std::string(path));
}

std::string protocol_source(const Words& words, const ProtocolValue& value) {
  std::string source = words("pond.mark." + value.mark);
  if (!value.source.empty()) source += " " + words(value.source);
  return source;
}

}  // namespace tawny
