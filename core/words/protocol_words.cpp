#include "words/protocol_words.h"

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

std::string protocol_value(const Words& words, const ProtocolValue& value) {
  if (const double* number = std::get_if<double>(&value.value)) {
    if (value.unit == "share") return words.quantity(Quantity{*number * 100, 0, "percent"});
    const bool whole = *number == static_cast<double>(static_cast<long long>(*number));
    return words.quantity(Quantity{*number, whole ? 0 : 2, value.unit});
  }
  if (const bool* flag = std::get_if<bool>(&value.value)) return words(*flag ? "key.yes" : "key.no");
  if (const std::string* text = std::get_if<std::string>(&value.value)) {
    const std::string word = "key.area_counted." + *text;
    return words.has(word) ? words(word) : *text;
  }
  std::string list;
  for (const std::string& name : std::get<std::vector<std::string>>(value.value)) {
    const std::string colour = "colour." + name;
    const std::string product = "product." + name;
    if (!list.empty()) list += ", ";
    list += words.has(colour) ? words(colour) : (words.has(product) ? words(product) : name);
  }
  return list;
}

}  // namespace tawny
