// tawny reckon: one reckoning by hand, or the list of them.
#include <algorithm>

#include "assets.h"
#include "base/decimal.h"
#include "cli/command.h"
#include "cli/json_out.h"
#include "reckon/reckon.h"

namespace tawny::cli {
namespace {

std::string joined(std::span<const std::string_view> parts, std::string_view between) {
  std::string text;
  for (const std::string_view part : parts) {
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

// As short as it can be told: 0.30 is 0.3.
std::string plain(double value, int decimals) {
  std::string text = format_decimal(value, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

// "0 to 40 °C", "a date like 2026-11-25", "nbs or total".
std::string form_of(const ReckonInput& input, const Words& words) {
  switch (input.kind) {
    case ReckonInput::Kind::number: {
      const Range& range = input.range;
      const std::string limits = plain(range.low, range.decimals) + " to " + plain(range.high, range.decimals);
      return range.unit.empty() ? limits : limits + " " + words.unit(range.unit);
    }
    case ReckonInput::Kind::day:
      return "a date like 2026-11-25";
    case ReckonInput::Kind::product:
      return "a product's id, like sodium_nitrate";
    case ReckonInput::Kind::choice:
      return joined(input.choices, " or ");
    case ReckonInput::Kind::text:
      return words("reckon.form." + std::string(input.key));
  }
  return {};
}

std::string stands_in(const ReckonInput& input, const Protocol& protocol) {
  if (!input.path.empty()) {
    return plain(protocol.number(input.path), input.range.decimals) +
           ", from the protocol: " + std::string(input.path);
  }
  if (input.otherwise) return plain(*input.otherwise, input.range.decimals);
  if (!input.choices.empty()) return std::string(input.choices.front());
  return {};
}

std::string others_of(const Reckoning& reckoning, const ReckonInput& input) {
  std::string others;
  for (const ReckonInput& other : reckoning.inputs) {
    if (other.either != input.either || &other == &input) continue;
    if (!others.empty()) others += " or ";
    others += other.key;
  }
  return others;
}

std::string described(const Reckoning& reckoning, const Words& words, const Protocol& protocol) {
  const std::string id = "reckon." + std::string(reckoning.name);
  std::string text = std::string(reckoning.name) + "\n  " + words(id + ".about") + "\n";
  std::size_t widest = 0;
  for (const ReckonInput& input : reckoning.inputs) widest = std::max(widest, input.key.size());
  for (const ReckonResult& result : reckoning.results) widest = std::max(widest, result.key.size());
  const auto line = [&](std::string_view sign, std::string_view key, const std::string& rest) {
    text.append("  ").append(sign).append(" ").append(key);
    if (!rest.empty()) text.append(widest - key.size() + 2, ' ').append(rest);
    text.append("\n");
  };
  for (const ReckonInput& input : reckoning.inputs) {
    std::string rest = form_of(input, words);
    if (!input.either.empty()) {
      rest += (input.required ? "; this or " : "; or ") + others_of(reckoning, input);
    } else if (const std::string standing = stands_in(input, protocol); !standing.empty()) {
      rest += "; else " + standing;
    } else if (!input.required) {
      rest += "; may be left out";
    }
    line("<", input.key, rest);
  }
  for (const ReckonResult& result : reckoning.results) {
    line(">", result.key, result.unit.empty() ? std::string() : words.unit(result.unit));
  }
  text += "  source: " + std::string(reckoning.source) + "\n";
  return text + "  $ tawny reckon " + std::string(reckoning.name) + " " + std::string(reckoning.example) + "\n";
}

// One object a row.
void write(JsonOut& json, const ReckonSeries& series) {
  json.begin_array();
  for (const std::vector<double>& row : series.rows) {
    json.begin_object();
    for (std::size_t i = 0; i < row.size(); ++i) json.key(series.columns[i]).number(row[i]);
    json.end_object();
  }
  json.end_array();
}

void write(JsonOut& json, const ReckonValues& values) {
  json.begin_object();
  for (const auto& [key, value] : values) {
    json.key(key);
    if (const double* number = std::get_if<double>(&value)) {
      json.number(*number);
    } else if (const bool* flag = std::get_if<bool>(&value)) {
      json.flag(*flag);
    } else if (const std::string* text = std::get_if<std::string>(&value)) {
      json.text(*text);
    } else {
      write(json, std::get<ReckonSeries>(value));
    }
  }
  json.end_object();
}

}  // namespace

Outcome run_reckon(const Arguments& arguments, const Words& words) {
  const Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"));
  const Result<std::vector<Product>> products = parse_products(assets::find("products.json"));
  if (!protocol) return refused("reckon", words(protocol.error().message));
  if (!products) return refused("reckon", words(products.error().message));

  if (arguments.empty()) {
    Outcome outcome;
    for (const Reckoning& reckoning : reckonings()) {
      outcome.out += described(reckoning, words, *protocol) + "\n";
    }
    return outcome;
  }
  const Reckoning* reckoning = find_reckoning(arguments.front());
  if (!reckoning) {
    return refused("reckon", "there is no reckoning \"" + arguments.front() + "\"; tawny reckon lists them");
  }
  const std::string what = "reckon " + arguments.front();
  if (arguments.size() == 2 && (arguments[1] == "--help" || arguments[1] == "-h")) {
    return Outcome{0, described(*reckoning, words, *protocol), ""};
  }
  std::vector<std::pair<std::string, std::variant<double, std::string>>> given;
  for (auto argument = arguments.begin() + 1; argument != arguments.end(); ++argument) {
    const std::size_t equals = argument->find('=');
    if (equals == std::string::npos || equals == 0) {
      return refused(what, "\"" + *argument + "\" is not of the form key=value");
    }
    given.emplace_back(argument->substr(0, equals), argument->substr(equals + 1));
  }
  const Result<ReckonAnswer> answer = reckon(*reckoning, given, ReckonContext{*protocol, *products});
  if (!answer) {
    const Problem& problem = answer.error();
    const std::string key = problem.parameter.empty() ? "" : problem.parameter + ": ";
    return refused(what, key + words(problem.message));
  }
  JsonOut json;
  json.begin_object().key("reckoning").text(reckoning->name).key("inputs");
  write(json, answer->inputs);
  json.key("results");
  write(json, answer->results);
  json.key("source").text(reckoning->source);
  if (!answer->notes.empty()) {
    json.key("notes").begin_array();
    for (const Message& note : answer->notes) json.text(words(note));
    json.end_array();
  }
  json.end_object();
  return Outcome{0, json.done(), ""};
}

}  // namespace tawny::cli
