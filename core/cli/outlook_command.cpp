// tawny outlook: a pond's oxygen at the coming sunrise and its Secchi depth in the next days, with the score of
// such forecasts so far.
#include "assets.h"
#include "cli/command.h"
#include "cli/json_out.h"
#include "cli/logbook_file.h"
#include "cli/pond_asked.h"
#include "office/finished_blooms.h"
#include "office/pond_outlook.h"
#include "outlook/dawn_outlook.h"

namespace tawny::cli {
namespace {

struct Line {
  std::string path, pond;
  std::optional<Instant> at;
};

// The error is the line to say.
tl::expected<Line, std::string> read_line(const Arguments& arguments, const Words& words) {
  Line line;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& argument = arguments[i];
    if (argument == "--at" || argument == "--pond") {
      const bool given = argument == "--at" ? line.at.has_value() : !line.pond.empty();
      if (given || i + 1 == arguments.size() || arguments[i + 1].empty())
        return tl::unexpected<std::string>(argument + " takes one value, once");
      const std::string& value = arguments[++i];
      if (argument == "--pond") {
        line.pond = value;
        continue;
      }
      const Result<Instant> instant = parse_instant(value);
      if (!instant) return tl::unexpected<std::string>("--at: " + words(instant.error().message));
      line.at = *instant;
    } else if (line.path.empty()) {
      line.path = argument;
    } else {
      return tl::unexpected<std::string>("\"" + argument + "\" is one too many");
    }
  }
  if (line.path.empty()) return tl::unexpected<std::string>("name a logbook");
  if (line.pond.empty()) return tl::unexpected<std::string>("say which pond: --pond, its name or its id");
  return line;
}

std::string_view name_of_way(DawnWay way) {
  switch (way) {
    case DawnWay::two_dusk:
      return "two_dusk";
    case DawnWay::own_nights:
      return "own_nights";
    case DawnWay::last_pair:
      break;
  }
  return "last_pair";
}

class OutlookOut {
 public:
  OutlookOut(JsonOut& json, const Words& words) : json_(json), words_(words) {}

  void dawn(const Result<DawnOutlook>& dawn) {
    json_.key("dawn").begin_object();
    if (dawn) {
      json_.key("way").text(name_of_way(dawn->way)).key("sunrise").text(to_iso(dawn->dawn));
      number("low_mg_l", dawn->low_mg_l);
      number("middle_mg_l", dawn->middle_mg_l);
      number("high_mg_l", dawn->high_mg_l);
      number("floor_mg_l", dawn->floor_mg_l);
      number("under_floor", dawn->under_floor);
      number("nights", static_cast<double>(dawn->nights));
      json_.key("evidence").begin_array();
      for (const EntryId& id : dawn->evidence) json_.text(to_reference(id));
      json_.end_array();
    } else {
      not_told(dawn.error());
    }
    json_.end_object();
  }

  void bloom(const Outlook& outlook, const OutlookRules& rules) {
    json_.key("from").text(to_iso(outlook.from));
    json_.key("band_cm").begin_array().number(rules.band_low_cm).number(rules.band_high_cm).end_array();
    number("floor_cm", rules.floor_cm);
    json_.key("enough_readings").flag(outlook.enough_readings);
    number("learned", outlook.learned);
    json_.key("advice").flag(outlook.advice);
    if (!outlook.advice)
      json_.key("no_advice").text(outlook.enough_readings ? "little_learned" : "few_readings");
    json_.key("doses").begin_array();
    for (const DoseOutlook& each : outlook.doses) dose(each);
    json_.end_array();
    json_.key("suggested_kg_ha");
    outlook.suggested ? json_.number(outlook.doses[*outlook.suggested].rate_kg_ha) : json_.null();
    if (outlook.helps_most) {
      json_.key("helps_most").text(*outlook.helps_most == HelpfulReading::secchi ? "secchi" : "oxygen_pair");
      number("helps_share", outlook.helps_share);
    }
    score(outlook.score);
  }

  void not_told(const Problem& problem) {
    json_.key("not_told").begin_object().key("id").text(problem.message.id);
    json_.key("says").text(words_(problem.message)).end_object();
  }

 private:
  void number(std::string_view key, double number) { json_.key(key).number(number); }

  void dose(const DoseOutlook& dose) {
    json_.begin_object();
    number("rate_kg_ha", dose.rate_kg_ha);
    number("nitrogen_mg_l", dose.nitrogen_mg_l);
    number("mean_in_band", dose.mean_in_band);
    number("most_under_floor", dose.most_under_floor);
    json_.key("days").begin_array();
    for (const SecchiForecast& day : dose.days) {
      json_.begin_object().key("day").text(to_iso(day.day));
      number("low_cm", day.low_cm);
      number("median_cm", day.median_cm);
      number("high_cm", day.high_cm);
      number("in_band", day.in_band);
      number("under_floor", day.under_floor);
      json_.end_object();
    }
    json_.end_array().end_object();
  }

  void score(const OutlookScore& score) {
    json_.key("score").begin_object();
    number("judged", score.judged);
    if (const std::optional<double> skill = score.skill()) {
      number("crps_cm", score.crps_cm);
      number("persistence_crps_cm", score.persistence_crps_cm);
      number("trend_crps_cm", score.trend_crps_cm);
      number("skill", *skill);
      number("covered", score.covered);
      number("brier", score.brier);
      number("persistence_brier", score.persistence_brier);
    }
    json_.end_object();
  }

  JsonOut& json_;
  const Words& words_;
};

}  // namespace

Outcome run_outlook(const Arguments& arguments, Outside& outside, Words words) {
  const auto line = read_line(arguments, words);
  if (!line) return refused("outlook", line.error());
  const Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"));
  if (!protocol) return refused("outlook", words(protocol.error().message));
  const Result<std::vector<Product>> products = parse_products(assets::find("products.json"));
  if (!products) return refused("outlook", words(products.error().message));
  const Result<OutlookPriors> published = parse_outlook_priors(assets::find("outlook.json"));
  if (!published) return refused("outlook", words(published.error().message));
  const Result<LogbookFile> file = read_logbook(line->path, outside);
  if (!file) return refused("outlook", words(file.error().message));

  const Instant now = line->at.value_or(outside.now());
  const Farm farm = fold_farm(file->logbook, *protocol, now);
  words.set_clock(farm.place.offset, now);
  const auto id = pond_id(farm, line->pond);
  if (!id) return refused("outlook", id.error());
  const FarmPond& pond = *farm.pond(*id);

  std::vector<CycleLesson> lessons;
  for (const BloomRecord& finished :
       finished_blooms(all_cycles(file->logbook, farm, *protocol, now), farm.place, *products, *published)) {
    lessons.push_back(lesson_of(finished, *published));
  }
  const OutlookPriors priors = priors_of_farm(*published, lessons);

  JsonOut json;
  OutlookOut out(json, words);
  json.begin_object().key("farm").text(farm.name).key("pond").text(*id);
  json.key("name").text(pond.history.pond.name).key("at").text(to_iso(now));
  out.dawn(dawn_outlook(pond.history, pond.state, protocol_of(pond, *protocol, now), farm.place, priors, now));
  json.key("finished_cycles").number(static_cast<double>(lessons.size()));
  json.key("bloom").begin_object();
  Result<PondOutlook> asked = pond_outlook(farm, pond, *protocol, *products, priors, {}, now);
  if (asked) {
    const OutlookRules rules = asked->rules;
    OutlookRun run(std::move(asked->record), rules, priors, farm.place, {});
    while (!run.step()) continue;
    out.bloom(run.outlook(), rules);
  } else {
    out.not_told(asked.error());
  }
  json.end_object().end_object();

  Outcome outcome{0, json.done(), ""};
  say_left_out("outlook", line->path, *file, words, outcome);
  return outcome;
}

}  // namespace tawny::cli
