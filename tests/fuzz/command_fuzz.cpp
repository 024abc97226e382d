// What is typed behind `tawny`: an argument a line. Reckonings above all, whose values are lists, tide tables, days
// and numbers of any kind; the answer is JSON whatever was given.
#include <algorithm>

#include "base/json.h"
#include "cli/command.h"
#include "fuzz/lines.h"

namespace tawny::fuzz {
namespace {

// There are no files, and nothing is written.
class Nowhere : public cli::Outside {
 public:
  Result<std::string> read(const std::string& path) override {
    return refuse(ProblemKind::missing, "", Message("problem.file_unreadable").with("file", Text{path}));
  }
  Instant now() override { return Instant{1795700000}; }
  // By chance, so that what is believed and what is not are both tried.
  bool is_good(const SignatureCheck& check) override { return check.hash.front() % 2 == 0; }
  cli::Carried<std::vector<std::string>> list(const std::string&) override {
    return no<std::vector<std::string>>();
  }
  cli::Carried<std::string> get(const std::string&) override { return no<std::string>(); }
  cli::Carried<void> put(const std::string&, const std::string&) override { return no<void>(); }
  cli::Carried<void> make_folder(const std::string&) override { return no<void>(); }

 private:
  template <typename T>
  static cli::Carried<T> no() {
    return tl::unexpected<CarryFault>(CarryFault::not_there);
  }
};

void try_command(Bytes bytes) {
  std::vector<std::string> arguments;
  while (!bytes.empty() && arguments.size() < 40) arguments.emplace_back(bytes.line());
  Nowhere outside;
  const cli::Outcome outcome = cli::run(arguments, outside);
  expect(outcome.exit_code >= 0 && outcome.exit_code <= 2, "an exit code that is told of");
  if (outcome.exit_code == 2) expect(outcome.out.empty() && !outcome.err.empty(), "not done, and said why");
  if (outcome.exit_code != 0 || arguments.size() < 3 || arguments[0] != "reckon" || arguments[2] == "--help" ||
      arguments[2] == "-h") {
    return;
  }
  expect(!parse_json(outcome.out).HasParseError(), "an answer is JSON");
}

// Changes one value of one argument.
std::string changed(std::string text, std::size_t limit, unsigned seed) {
  static const std::string kValues[] = {"0",
                                        "-0",
                                        "1e308",
                                        "-1e308",
                                        "1e-320",
                                        "nan",
                                        "inf",
                                        "0x10",
                                        "1,5",
                                        "40",
                                        "0.05",
                                        "2026-11-25",
                                        "2200-12-31",
                                        "1900-01-01",
                                        "total",
                                        "sodium_nitrate",
                                        "",
                                        "05:42 120, 11:50 30",
                                        "100:5000, 150:6000",
                                        "1:1,1:1",
                                        "99999999999999999999"};
  Dice dice(seed);
  std::vector<std::size_t> equals;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '=') equals.push_back(at);
  }
  if (equals.empty()) return text;
  const std::size_t from = dice.of(equals) + 1;
  const std::size_t end = std::min(text.find('\n', from), text.size());
  const std::string value = text.substr(from, end - from);
  std::string other = dice.of(kValues);
  if (dice.one_in(2)) {
    std::vector<std::uint8_t> bytes(value.begin(), value.end());
    bytes.resize(value.size() + 32);
    bytes.resize(LLVMFuzzerMutate(bytes.data(), value.size(), bytes.size()));
    other.assign(bytes.begin(), bytes.end());
  } else if (dice.one_in(2)) {
    other = value + (dice.one_in(2) ? "0" : ", ") + value;
  }
  text.replace(from, end - from, other);
  if (text.size() > limit) text.resize(limit);
  return text;
}

}  // namespace
}  // namespace tawny::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  tawny::fuzz::try_command(tawny::fuzz::Bytes(data, size));
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t limit,
                                               unsigned seed) {
  if (seed % 4 == 0) return LLVMFuzzerMutate(data, size, limit);
  return tawny::fuzz::put(tawny::fuzz::changed(std::string(tawny::fuzz::text_of(data, size)), limit, seed),
                          data, limit);
}
