#include "protocol/look.h"

#include <cmath>
#include <cstdint>
#include <cstdlib>

namespace tawny {

std::string Look::stage_path(std::string_view value) const {
  std::string path = "stage.";
  path.append(name_of(stage)).append(".").append(value);
  return path;
}

std::optional<Instant> Look::next_in(WindowName window, Instant from) const {
  const CivilDay first = day_of(from);
  for (int ahead = 0; ahead < 2; ++ahead) {
    const DayWindows* windows = usable.windows(first.plus(ahead), at);
    if (windows == nullptr) return std::nullopt;
    const Window& one = windows->of(window);
    if (one.from <= one.until && one.until >= from) return std::max(one.from, from);
  }
  return std::nullopt;
}

namespace {

// The question names the later dose of a pair ("second") and the other one. Entries that do not name the other
// mean the dose of the same product that lies closest in time. Where one of both is out already, by an answer
// from another phone, nothing more is taken out: the careful side.
void drop_settled(std::vector<const DoseRecord*>& doses, const Entry& settled, const std::string& question,
                  bool keep_first) {
  const auto find_named = [&](const std::string& reference) {
    return std::find_if(doses.begin(), doses.end(),
                        [&](const DoseRecord* dose) { return to_reference(dose->entry->id) == reference; });
  };
  const auto named = find_named(question);
  if (named == doses.end()) return;
  auto other = doses.end();
  if (const std::string* reference = settled.text("other")) {
    other = find_named(*reference);
  } else {
    const auto apart_s = [&](auto it) { return std::abs((*it)->at.unix_s - (*named)->at.unix_s); };
    for (auto it = doses.begin(); it != doses.end(); ++it) {
      if (it == named || (*it)->product != (*named)->product) continue;
      if (other == doses.end() || apart_s(it) < apart_s(other)) other = it;
    }
  }
  if (other != doses.end()) doses.erase(keep_first ? named : other);
}

}  // namespace

std::vector<const DoseRecord*> doses_at(const PondHistory& history, Instant at) {
  std::vector<const DoseRecord*> doses;
  for (const DoseRecord& dose : history.doses) {
    if (dose.at <= at) doses.push_back(&dose);
  }
  for (const Entry* settled : history.settled) {
    if (settled->observed > at) continue;
    const std::string* question = settled->text("question");
    const std::string* keep = settled->text("keep");
    if (question == nullptr || keep == nullptr || *keep == "both") continue;
    drop_settled(doses, *settled, *question, *keep == "first");
  }
  return doses;
}

bool at_least(double value, double limit) { return value >= limit - 1e-9; }
bool at_most(double value, double limit) { return value <= limit + 1e-9; }

Quantity in_cm(double value) { return Quantity{value, 0, "cm"}; }
Quantity in_mg_l(double value) { return Quantity{value, value < 1 && value > -1 ? 2 : 1, "mg_l"}; }
Quantity in_ph(double value) { return Quantity{value, 1, ""}; }
Quantity in_kg_ha(double value) { return Quantity{value, value == std::floor(value) ? 0 : 1, "kg_ha"}; }
Quantity in_percent_of_one(double share) { return Quantity{100 * share, 0, "percent"}; }
Quantity in_days(double value) { return Quantity{value, 0, "d"}; }
Quantity plain(double value, int decimals) { return Quantity{value, decimals, ""}; }

Answer& Answer::rests_on(std::initializer_list<std::string_view> paths) {
  if (look_.explain) {
    for (const std::string_view path : paths) criterion_.paths.emplace_back(path);
  }
  return *this;
}

Answer& Answer::rests_on_stage(std::initializer_list<std::string_view> values) {
  if (look_.explain) {
    for (const std::string_view value : values) criterion_.paths.push_back(look_.stage_path(value));
  }
  return *this;
}

Answer& Answer::cite(const Entry* entry) {
  if (look_.explain && entry != nullptr &&
      std::find(criterion_.evidence.begin(), criterion_.evidence.end(), entry->id) ==
          criterion_.evidence.end()) {
    criterion_.evidence.push_back(entry->id);
  }
  return *this;
}

Answer& Answer::cite(const std::vector<const Entry*>& entries) {
  for (const Entry* entry : entries) cite(entry);
  return *this;
}

Answer& Answer::settled_by(Act act) {
  criterion_.settles = act;
  return *this;
}

Answer& Answer::settled_by(Act act, WindowName window, Instant not_before) {
  criterion_.settles = act;
  criterion_.window = window;
  if (look_.explain) criterion_.next_chance = look_.next_in(window, std::max(not_before, look_.at));
  return *this;
}

Answer& Answer::next_chance(Instant instant) {
  criterion_.next_chance = instant;
  return *this;
}

Answer& Answer::recheck(Instant instant) {
  if (instant > look_.at) criterion_.recheck_at = instant;
  return *this;
}

Criterion Answer::give(Verdict verdict, Message why) {
  criterion_.verdict = verdict;
  criterion_.why = std::move(why);
  return std::move(criterion_);
}

}  // namespace tawny
