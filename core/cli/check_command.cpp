// tawny check: what is wrong in a logbook file. Lines, chains, set-up that cannot be read, observations that
// lack what their kind demands.
#include <set>

#include "assets.h"
#include "cli/command.h"
#include "cli/json_out.h"
#include "cli/logbook_file.h"
#include "farm/farm.h"
#include "logbook/device_key.h"

namespace tawny::cli {
namespace {

std::string_view name_of(AddOutcome outcome) {
  switch (outcome) {
    case AddOutcome::added:
      return "added";
    case AddOutcome::already_there:
      return "already_there";
    case AddOutcome::kept_unread:
      return "kept_unread";
    case AddOutcome::conflict:
      return "conflict";
    case AddOutcome::other_farm:
      return "other_farm";
    case AddOutcome::refused:
      break;
  }
  return "refused";
}

// Every device: who it is, and what of it counts.
void write_devices(JsonOut& json, const Trust& trust) {
  json.key("signed_farm").flag(trust.enforced);
  json.key("devices").begin_array();
  for (const auto& [id, device] : trust.devices) {
    json.begin_object().key("device").text(id);
    if (const auto words = fingerprint_words(id)) {
      std::string read_aloud;
      for (const std::string& word : *words) read_aloud += (read_aloud.empty() ? "" : " ") + word;
      json.key("words").text(read_aloud);
    }
    json.key("entries_to").number(device.last_held).key("signed_to").number(device.signed_to);
    if (trust.enforced) {
      json.key("admitted").flag(device.admitted).key("office").flag(device.office);
      if (device.founder) json.key("founder").flag(true);
      if (device.revoked) json.key("counts_to").number(device.last_number);
      json.key("left_out").number(static_cast<double>(device.left_out));
    }
    json.end_object();
  }
  json.end_array();
}

}  // namespace

Outcome run_check(const Arguments& arguments, Outside& outside, Words words) {
  if (arguments.size() != 1) return refused("check", "name one logbook");
  const Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"));
  if (!protocol) return refused("check", words(protocol.error().message));
  const Result<LogbookFile> file = read_logbook(arguments.front(), outside);
  if (!file) return refused("check", words(file.error().message));
  const Logbook& logbook = file->logbook;
  const Instant now = outside.now();
  const Farm farm = fold_farm(logbook, *protocol, now);
  words.set_clock(farm.place.offset, now);

  std::size_t found = file->report.problems_not_listed;
  JsonOut json;
  json.begin_object().key("file").text(arguments.front()).key("farm").text(logbook.farm());
  json.key("lines").number(static_cast<double>(file->report.lines));
  json.key("entries").number(static_cast<double>(logbook.size()));
  write_devices(json, file->trust);
  json.key("left_out").begin_array();
  logbook.visit([&](const Logbook::Line& line) {
    const auto reason = file->trust.left_out.find(std::string(line.hash));
    if (line.entry == nullptr || reason == file->trust.left_out.end()) return;
    json.begin_object().key("entry").text(to_reference(line.entry->id)).key("kind").text(line.entry->kind);
    json.key("why").text(tawny::name_of(reason->second)).end_object();
  });
  json.end_array();
  json.key("problems").begin_array();
  for (const LineProblem& problem : file->report.problems) {
    ++found;
    json.begin_object().key("line").number(static_cast<double>(problem.line));
    json.key("outcome").text(name_of(problem.outcome)).key("id").text(problem.message.id);
    json.key("says").text(words(problem.message)).key("excerpt").text(problem.excerpt).end_object();
  }
  for (const Message& problem : file->preview.problems) {
    ++found;
    json.begin_object().key("id").text(problem.id).key("says").text(words(problem)).end_object();
  }
  for (const NumberSpan& missing : file->preview.missing) {
    ++found;
    const Message message = missing_message(missing);
    json.begin_object().key("device").text(missing.device).key("first").number(missing.first);
    json.key("last").number(missing.last).key("id").text(message.id);
    json.key("says").text(words(message)).end_object();
  }
  std::vector<ChainProblem> of_chains = logbook.check_chains();
  of_chains.insert(of_chains.end(), file->trust.problems.begin(), file->trust.problems.end());
  for (const ChainProblem& problem : of_chains) {
    ++found;
    json.begin_object().key("device").text(problem.device).key("number").number(problem.number);
    json.key("id").text(problem.message.id).key("says").text(words(problem.message)).end_object();
  }
  for (const Message& problem : farm.problems) {
    ++found;
    json.begin_object().key("id").text(problem.id).key("says").text(words(problem)).end_object();
  }
  // What was seen on the whole farm stands in every pond's history.
  std::set<EntryId> said;
  for (const FarmPond& pond : farm.ponds) {
    for (const Entry* entry : pond.history.unreadable) {
      if (!said.insert(entry->id).second) continue;
      ++found;
      const Message message = Message("problem.observation_unreadable").with("kind", Text{entry->kind});
      json.begin_object().key("entry").text(to_reference(entry->id)).key("pond").text(entry->pond);
      json.key("id").text(message.id).key("says").text(words(message)).end_object();
    }
  }
  json.end_array();
  json.key("problems_not_listed").number(static_cast<double>(file->report.problems_not_listed));
  json.end_object();
  Outcome outcome{found == 0 ? 0 : 1, json.done(), ""};
  if (found > 0) {
    outcome.err = "tawny check: " + std::to_string(found) + (found == 1 ? " problem" : " problems") +
                  " found in " + arguments.front() + "\n";
  }
  return outcome;
}

}  // namespace tawny::cli
