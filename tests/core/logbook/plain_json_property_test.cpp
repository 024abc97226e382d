// The quick reader of plain JSON against RapidJSON, which is the reference for what JSON is.
#include "logbook/plain_json.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>
#include <rapidjson/reader.h>

#include <algorithm>
#include <string>
#include <vector>

namespace tawny {
namespace {

// Writes down what it is told, and says false at the `last` of it.
class Recorder {
 public:
  explicit Recorder(int last) : left_(last) {}
  std::string told;

  bool Null() { return note("null"); }
  bool Bool(bool is) { return note(is ? "true" : "false"); }
  bool RawNumber(const char* chars, rapidjson::SizeType length, bool) {
    return note("number " + std::string(chars, length));
  }
  bool String(const char* chars, rapidjson::SizeType length, bool) {
    return note("text " + std::string(chars, length));
  }
  bool Key(const char* chars, rapidjson::SizeType length, bool) {
    return note("key " + std::string(chars, length));
  }
  bool StartObject() { return note("{"); }
  bool EndObject(rapidjson::SizeType count) { return note("} " + std::to_string(count)); }
  bool StartArray() { return note("["); }
  bool EndArray(rapidjson::SizeType count) { return note("] " + std::to_string(count)); }
  bool Int(int) { return false; }
  bool Uint(unsigned) { return false; }
  bool Int64(std::int64_t) { return false; }
  bool Uint64(std::uint64_t) { return false; }
  bool Double(double) { return false; }

 private:
  bool note(const std::string& what) {
    told += what + "\n";
    return --left_ != 0;
  }
  int left_;
};

template <typename T>
T any_of(const std::vector<T>& choices) {
  return choices[*rc::gen::inRange<std::size_t>(0, choices.size())];
}

std::string any_text() {
  return '"' +
         any_of<std::string>({"", "a", "kind", "secchi_vanish_cm", "{", "[1,2]", "a:b", "R\u00f3 2", " "}) +
         '"';
}

std::string any_object(int depth);

std::string any_value(int depth) {
  switch (*rc::gen::inRange(0, depth > 0 ? 6 : 4)) {
    case 0:
      return any_text();
    case 1:
      return any_of<std::string>({"0", "-0", "7", "-12", "0.5", "30.25", "1000000", "-0.001"});
    case 2:
      return any_of<std::string>({"true", "false"});
    case 3:
      return any_text();
    case 4:
      return any_object(depth - 1);
    default: {
      std::string list = "[";
      for (int i = *rc::gen::inRange(0, 4); i > 0; --i) list += any_value(depth - 1) + (i > 1 ? "," : "");
      return list + "]";
    }
  }
}

std::string any_object(int depth) {
  std::string object = "{";
  for (int i = *rc::gen::inRange(0, 4); i > 0; --i) {
    object += any_text() + ":" + any_value(depth) + (i > 1 ? "," : "");
  }
  return object + "}";
}

// An object with something in it, without its closing brace.
std::string any_plain() { return "{" + any_text() + ":" + any_value(*rc::gen::inRange(0, 6)); }

// The same, or with a piece put in or taken out that mostly does not belong.
std::string any_nearly_plain() {
  std::string text = any_plain();
  for (int i = *rc::gen::inRange(0, 3); i > 0; --i) {
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size() + 1);
    const auto out = *rc::gen::inRange<std::size_t>(0, 3);
    text.replace(at, out,
                 any_of<std::string>({"",  " ", ",", ":",   "\"",   "{",    "}",   "[",  "]",  "0",   "1",
                                      ".", "-", "e", "E+2", "null", "true", "tru", "01", "1.", "\x7f"}));
  }
  return text;
}

RC_GTEST_PROP(PlainJson, WhatItReadsIsReadAlikeByRapidJson, ()) {
  const std::string text = any_nearly_plain();
  const int last = *rc::gen::inRange(1, 40);
  Recorder quick(last);
  const PlainRead read = PlainReader(text, quick).read();
  if (read == PlainRead::not_plain) return;

  Recorder slow(last);
  rapidjson::Reader reader;
  const std::string whole = text + "}";
  rapidjson::StringStream of_whole(whole.c_str());
  reader.Parse<rapidjson::kParseNumbersAsStringsFlag | rapidjson::kParseIterativeFlag>(of_whole, slow);
  RC_LOG() << text << std::endl;
  RC_ASSERT(quick.told == slow.told);
  RC_ASSERT(reader.HasParseError() == (read == PlainRead::stopped));
  if (read == PlainRead::stopped) {
    RC_ASSERT(reader.GetParseErrorCode() == rapidjson::kParseErrorTermination);
  }
}

RC_GTEST_PROP(PlainJson, NothingPlainIsLeftToRapidJson, ()) {
  Recorder quick(0);
  RC_ASSERT(PlainReader(any_plain(), quick).read() == PlainRead::done);
}

RC_GTEST_PROP(PlainJson, AGlanceSeesWhatALookAtEachByteDoes, ()) {
  const auto bytes = *rc::gen::container<std::vector<int>>(
      rc::gen::element('a', '"', '\\', ' ', 0x1f, 0x7f, 0x80, 0xff, 0, 'z'));
  const auto kinds = *rc::gen::inRange(0, 16);
  std::string text;
  for (const int byte : bytes) {
    // Mostly only some of the four sorts, so that each is also seen alone.
    const int sort = byte == '\\' ? 1 : byte < 0x20 ? 2 : byte >= 0x80 ? 4 : 8;
    if ((kinds & sort) != 0) text.push_back(static_cast<char>(byte));
  }
  const auto any = [&](auto is) {
    return std::any_of(text.begin(), text.end(), [&](char c) { return is(static_cast<unsigned char>(c)); });
  };
  const Glance glance = glance_at(text);
  RC_ASSERT(glance.beyond_ascii == any([](unsigned char c) { return c >= 0x80; }));
  RC_ASSERT(glance.control == any([](unsigned char c) { return c < 0x20; }));
  RC_ASSERT(glance.backslash == any([](unsigned char c) { return c == '\\'; }));
}

}  // namespace
}  // namespace tawny
