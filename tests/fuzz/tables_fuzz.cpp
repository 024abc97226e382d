// JSON tables from anywhere: the protocol, products, priors of the forecasts, words of a language, a demo farm. The
// first byte says which.
#include "assets.h"
#include "base/decimal.h"
#include "base/json.h"
#include "dose/product.h"
#include "farm/demo.h"
#include "fuzz/fuzz.h"
#include "outlook/priors.h"
#include "protocol/protocol.h"
#include "words/protocol_words.h"
#include "words/words.h"

namespace tawny::fuzz {
namespace {

void try_words(std::string_view json) {
  Result<Words> words = Words::parse(json);
  if (!words) return;
  words->set_clock(UtcOffset{-300}, Instant{1795700000});
  for (const std::string_view id :
       {"import.line_problem", "problem.out_of_range", "day.on", "age.days", "x", ""}) {
    (*words)(Message(id)
                 .with("line", bare(3))
                 .with("count", Quantity{1.0, 1, "day"})
                 .with("problem", Text{"{x}%s"})
                 .with("name", Text{"{name}"})
                 .with("value", Quantity{1e300, 2, "cm"})
                 .with("parameter", Word{"day.on"})
                 .with("day", CivilDay{20000})
                 .with("time", Instant{1795000000}));
  }
  words->time(Instant{1700000000});
  words->at_time(Instant{1700000000});
  words->on_day(CivilDay{20787});
  words->age(Instant{1795600000});
}

void try_protocol(std::string_view json) {
  const Result<Protocol> protocol = Protocol::parse(json);
  if (!protocol) return;
  static const Words kWords = *Words::parse(assets::language("en"));
  for (const auto& [path, value] : protocol->values()) {
    protocol_value(kWords, value);
    (void)protocol->with(path, 7.5);
    (void)protocol->with(path, std::string("p1, p2,,"));
    (void)protocol->with(path, true);
  }
}

void try_one(Bytes bytes) {
  switch (bytes.byte() % 6) {
    case 0:
      return try_protocol(bytes.rest());
    case 1:
      (void)parse_products(bytes.rest());
      return;
    case 2:
      (void)parse_outlook_priors(bytes.rest());
      return;
    case 3:
      return try_words(bytes.rest());
    case 4: {
      static const Protocol kProtocol = *Protocol::parse(assets::find("protocol.json"));
      (void)demo_drafts(bytes.rest(), kProtocol, Instant{1795700000});
      return;
    }
    default:
      (void)parse_json(bytes.rest());
      (void)parse_decimal(bytes.rest());
      (void)parse_instant(bytes.rest());
      (void)parse_civil_day(bytes.rest());
  }
}

}  // namespace
}  // namespace tawny::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  tawny::fuzz::try_one(tawny::fuzz::Bytes(data, size));
  return 0;
}
