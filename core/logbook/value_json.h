// Values as JSON, written in one way wherever they are written.
#pragma once

#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <string_view>

#include "logbook/entry.h"

namespace tawny {

using JsonWriter = rapidjson::Writer<rapidjson::StringBuffer>;

void write_text(JsonWriter& writer, std::string_view text);
void write_value(JsonWriter& writer, const Value& value);

}  // namespace tawny
