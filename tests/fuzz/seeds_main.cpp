// Writes what the fuzzers begin with: fuzz_seeds FOLDER, one folder in it for each fuzzer.
#include <cstdio>
#include <filesystem>
#include <string>
#include <vector>

#include "assets.h"
#include "farm/demo.h"
#include "logbook/bundle.h"
#include "reckon/reckon.h"

namespace {

using namespace tawny;

constexpr Instant kNow{1795700000};

bool write(const std::filesystem::path& folder, const std::string& name, const std::string& bytes) {
  std::filesystem::create_directories(folder);
  std::FILE* file = std::fopen((folder / name).c_str(), "wb");
  if (file == nullptr) return false;
  const bool written = std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size();
  return std::fclose(file) == 0 && written;
}

// The farm's own entries and those of one pond, the latest `most` of them, written by two devices.
Logbook logbook_of(const std::vector<Draft>& drafts, const std::string& pond, std::size_t most) {
  std::vector<Draft> chosen;
  for (const Draft& draft : drafts) {
    if (draft.pond.empty() && draft.kind != "sky") chosen.push_back(draft);
  }
  std::vector<Draft> own;
  for (const Draft& draft : drafts) {
    if (draft.pond == pond) own.push_back(draft);
  }
  // Set-up and start of the cycle come first.
  for (std::size_t i = 0; i < own.size(); ++i) {
    if (i < 8 || i + most >= own.size()) chosen.push_back(own[i]);
  }
  DeviceChain chains[2];
  Logbook logbook;
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    DeviceChain& chain = chains[i % 2];
    chain.farm = "demo";
    chain.device = i % 2 == 0 ? "phone-1" : "phone-2";
    if (auto entry = seal(chosen[i], chosen[i].observed, chain)) logbook.add(*std::move(entry));
  }
  return logbook;
}

std::string arguments_of(std::string_view example, std::string_view name) {
  std::string text = "reckon\n" + std::string(name) + "\n";
  bool quoted = false;
  for (const char c : example) {
    if (c == '"' || c == '\'') {
      quoted = !quoted;
    } else {
      text += c == ' ' && !quoted ? '\n' : c;
    }
  }
  return text + "\n";
}

}  // namespace

int main(int count, char** values) {
  if (count != 2) {
    std::fputs("fuzz_seeds FOLDER\n", stderr);
    return 2;
  }
  const std::filesystem::path folder = values[1];
  const Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"));
  if (!protocol) return 2;
  const auto drafts = demo_drafts(assets::find("demo-farm.json"), *protocol, kNow);
  if (!drafts) return 2;
  bool written = true;
  for (int pond = 1; pond <= 8; ++pond) {
    const std::string id = "p" + std::to_string(pond);
    const Logbook few = logbook_of(*drafts, id, 10);
    const Logbook more = logbook_of(*drafts, id, 60);
    written = write(folder / "lines", id, few.to_lines()) && written;
    written = write(folder / "bundle", id, "xy" + write_bundle(few, kNow, "phone-1")) && written;
    written = write(folder / "farm", id, "now=" + to_iso(kNow) + "\n" + few.to_lines()) && written;
    written = write(folder / "farm", id + "-more", more.to_lines()) && written;
  }
  const char* kTables[] = {"protocol.json", "products.json", "outlook.json", "", "demo-farm.json"};
  for (int i = 0; i < 5; ++i) {
    const std::string_view table = i == 3 ? assets::language("en") : assets::find(kTables[i]);
    written = write(folder / "tables", std::to_string(i),
                    std::string(1, static_cast<char>(i)) + std::string(table)) &&
              written;
  }
  for (const Reckoning& reckoning : reckonings()) {
    written = write(folder / "command", std::string(reckoning.name),
                    arguments_of(reckoning.example, reckoning.name)) &&
              written;
  }
  written = write(folder / "command", "assess", "assess\n-\n--at\n2026-11-25T06:12:00Z\n") && written;
  written = write(folder / "depot", "one", "phone-1/phone-1/0/1-1-b446d466d97e860d.jsonl\n") && written;
  return written ? 0 : 1;
}
