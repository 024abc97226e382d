// Prints the demo farm's logbook as its one device would have written it: demo_logbook INSTANT
#include <cstdio>
#include <string>

#include "assets.h"
#include "farm/demo.h"
#include "logbook/logbook.h"

int main(int count, char** values) {
  using namespace tawny;
  const Result<Instant> now = parse_instant(count == 2 ? values[1] : "");
  const Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"));
  if (!now || !protocol) {
    std::fputs("demo_logbook INSTANT, a time like 2026-03-21T18:00:00Z\n", stderr);
    return 2;
  }
  const auto drafts = demo_drafts(assets::find("demo-farm.json"), *protocol, *now);
  if (!drafts) return 2;
  DeviceChain chain;
  chain.farm = "demo";
  chain.device = "demo";
  Logbook logbook;
  for (const Draft& draft : *drafts) {
    auto entry = seal(draft, draft.observed, chain);
    if (!entry) return 2;
    logbook.add(*std::move(entry));
  }
  const std::string lines = logbook.to_lines();
  return std::fwrite(lines.data(), 1, lines.size(), stdout) == lines.size() ? 0 : 2;
}
