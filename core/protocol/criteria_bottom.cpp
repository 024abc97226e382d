// Stage 1: the bottom before any water.
#include "protocol/criteria.h"

namespace tawny {
namespace {

Criterion sludge(const Look& look) {
  Answer answer(look, "bottom.sludge");
  answer.settled_by(Act::bottom_look);
  const BottomLook* last = last_of(look.history.bottoms, look.at);
  if (last == nullptr) return answer.unknown(Message("why.bottom_none"));
  answer.cite(last->entry);
  return last->thick_sludge ? answer.unmet(Message("why.sludge_left")) : answer.met(Message("why.sludge_gone"));
}

Criterion dried(const Look& look) {
  Answer answer(look, "bottom.dried");
  answer.rests_on({"stage.bottom.dried_days"}).settled_by(Act::bottom_look);
  const double needed_days = look.number("stage.bottom.dried_days");
  const BottomLook* last = last_of(look.history.bottoms, look.at);
  if (last == nullptr) return answer.unknown(Message("why.dried_none").with("needed", in_days(needed_days)));
  answer.cite(last->entry);
  if (last->treated_wet) return answer.met(Message("why.treated_wet"));
  if (!last->dried_days) return answer.unknown(Message("why.dried_none").with("needed", in_days(needed_days)));
  Message why = Message(*last->dried_days >= needed_days ? "why.dried_enough" : "why.dried_short")
                    .with("days", in_days(*last->dried_days))
                    .with("needed", in_days(needed_days));
  if (*last->dried_days >= needed_days) return answer.met(std::move(why));
  // It takes a further look: nobody knows from here whether it has rained since.
  answer.next_chance(last->at.plus_h(24 * (needed_days - *last->dried_days)));
  return answer.unmet(std::move(why));
}

Criterion broadcast(const Look& look) {
  Answer answer(look, "bottom.broadcast");
  answer
      .rests_on(
          {"stage.bottom.broadcast_low_kg_ha", "stage.bottom.broadcast_high_kg_ha", "dose.products_allowed"})
      .settled_by(Act::soil_broadcast);
  const double low_kg_ha = look.number("stage.bottom.broadcast_low_kg_ha");
  const double high_kg_ha = look.number("stage.bottom.broadcast_high_kg_ha");
  const auto say = [&](std::string_view message) {
    return Message(message).with("low", in_kg_ha(low_kg_ha)).with("high", in_kg_ha(high_kg_ha));
  };
  const double area_ha = look.history.pond.nominal_area_ha;
  if (area_ha <= 0) return answer.unknown(Message("why.no_area"));
  const std::vector<std::string>& allowed = look.protocol.list("dose.products_allowed");
  double total_kg = 0;
  bool any = false;
  for (const SoilBroadcast& one : look.history.broadcasts) {
    if (one.at > look.at) break;
    any = true;
    answer.cite(one.entry);
    if (std::find(allowed.begin(), allowed.end(), one.product) == allowed.end()) {
      return answer.unmet(Message("why.product_not_allowed").with("product", Word{"product." + one.product}));
    }
    total_kg += one.product_kg;
  }
  if (!any) return answer.unknown(say("why.broadcast_none"));
  const double rate_kg_ha = total_kg / area_ha;
  const auto with_rate = [&](std::string_view message) {
    return say(message).with("rate", in_kg_ha(rate_kg_ha));
  };
  if (!at_least(rate_kg_ha, low_kg_ha)) return answer.unmet(with_rate("why.broadcast_low"));
  if (!at_most(rate_kg_ha, high_kg_ha)) return answer.unmet(with_rate("why.broadcast_high"));
  return answer.met(with_rate("why.broadcast_inside"));
}

const ScreenCheck* last_check(const Look& look, const std::string& inlet) {
  const ScreenCheck* last = nullptr;
  for (const ScreenCheck& one : look.history.screens) {
    if (one.at > look.at) break;
    if (one.inlet == inlet) last = &one;
  }
  return last;
}

Criterion screens(const Look& look) {
  Answer answer(look, "bottom.screens");
  answer.rests_on({"stage.bottom.mesh_high_um", "stage.bottom.screen_age_days"}).settled_by(Act::screen_check);
  const double mesh_high_um = look.number("stage.bottom.mesh_high_um");
  const double age_days = look.number("stage.bottom.screen_age_days");
  const std::vector<std::string>& inlets = look.history.pond.inlets;
  if (inlets.empty()) return answer.unknown(Message("why.no_inlets"));
  std::optional<Message> missing;
  std::optional<Message> fault;
  for (const std::string& inlet : inlets) {
    const auto say = [&](std::string_view message) { return Message(message).with("inlet", Text{inlet}); };
    const ScreenCheck* last = last_check(look, inlet);
    if (last == nullptr) {
      if (!missing) missing = say("why.screen_none");
      continue;
    }
    answer.cite(last->entry);
    if (fault) continue;
    if (!last->whole) {
      fault = say("why.screen_torn");
    } else if (last->mesh_um > mesh_high_um) {
      fault = say("why.screen_coarse")
                  .with("mesh", Quantity{last->mesh_um, 0, "um"})
                  .with("limit", Quantity{mesh_high_um, 0, "um"});
    } else if (hours_between(last->at, look.at) > 24 * age_days) {
      fault = say("why.screen_old").with("day", look.day_of(last->at)).with("limit", in_days(age_days));
    }
  }
  if (fault) return answer.unmet(std::move(*fault));
  if (missing) return answer.unknown(std::move(*missing));
  return answer.met(Message("why.screens_whole").with("count", plain(static_cast<double>(inlets.size()))));
}

Criterion source_water(const Look& look) {
  Answer answer(look, "bottom.source");
  answer.rests_on({"stage.bottom.source_colours_refused"}).settled_by(Act::source_look);
  const ColourLook* last = last_of(look.history.source_colours, look.at);
  if (last == nullptr) return answer.unknown(Message("why.source_none"));
  answer.cite(last->entry);
  const std::vector<std::string>& refused = look.protocol.list("stage.bottom.source_colours_refused");
  const std::string_view name = name_of(last->colour);
  std::string word = "colour.";
  word.append(name);
  if (std::find(refused.begin(), refused.end(), name) != refused.end()) {
    return answer.unmet(Message("why.source_dense").with("colour", Word{std::move(word)}));
  }
  return answer.met(Message("why.source_fine").with("colour", Word{std::move(word)}));
}

constexpr CriterionFunction kCriteria[] = {sludge, dried, broadcast, screens, source_water};

}  // namespace

std::span<const CriterionFunction> bottom_criteria() { return kCriteria; }

}  // namespace tawny
