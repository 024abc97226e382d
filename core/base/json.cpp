#include "base/json.h"

namespace tawny {

rapidjson::Document parse_json(std::string_view text) {
  rapidjson::Document document;
  document.Parse<rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag>(text.data(), text.size());
  return document;
}

}  // namespace tawny
