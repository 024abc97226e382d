// JSON as the commands write it: indented, keys in the order of writing, numbers to the last digit.
#pragma once

#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

#include <cmath>
#include <string>
#include <string_view>

#include "base/visible.h"

namespace tawny::cli {

class JsonOut {
 public:
  JsonOut() : writer_(buffer_) { writer_.SetIndent(' ', 2); }

  JsonOut& begin_object() { return writer_.StartObject(), *this; }
  JsonOut& end_object() { return writer_.EndObject(), *this; }
  JsonOut& begin_array() { return writer_.StartArray(), *this; }
  JsonOut& end_array() { return writer_.EndArray(), *this; }
  JsonOut& key(std::string_view key) {
    writer_.Key(key.data(), static_cast<rapidjson::SizeType>(key.size()));
    return *this;
  }
  JsonOut& text(std::string_view text) {
    writer_.String(text.data(), static_cast<rapidjson::SizeType>(text.size()));
    return *this;
  }
  JsonOut& flag(bool flag) { return writer_.Bool(flag), *this; }
  JsonOut& null() { return writer_.Null(), *this; }
  // A whole number without a decimal point; JSON has no word for what is not finite.
  JsonOut& number(double number) {
    if (!std::isfinite(number)) {
      writer_.Null();
    } else if (number == std::floor(number) && std::fabs(number) < 1e15) {
      writer_.Int64(static_cast<std::int64_t>(number));
    } else {
      writer_.Double(number);
    }
    return *this;
  }
  // What would steer a terminal or hide stands escaped.
  std::string done() const {
    return visible_json(std::string_view(buffer_.GetString(), buffer_.GetSize())) + "\n";
  }

 private:
  rapidjson::StringBuffer buffer_;
  rapidjson::PrettyWriter<rapidjson::StringBuffer> writer_;
};

}  // namespace tawny::cli
