// Head of the record and what came of the cycle, on one page.
#include <map>
#include <set>

#include "logbook/kinds.h"
#include "report/record.h"
#include "words/protocol_words.h"

namespace tawny {
namespace {

constexpr double kHoursOfDay = 24;

void write_stages(Markup& out, const Record& record) {
  const Words& words = out.words();
  begin_table(out, "stages", {"report.stage", "report.from", "report.until", "report.days", "report.gate"});
  Instant from = record.cycle.start;
  Stage stage = Stage::bottom;
  const auto row = [&](Instant until, const GateOpened* gate) {
    out.open("tr").element("td", stage_word(words, stage));
    out.element("td", words.time(from)).element("td", gate == nullptr ? "" : words.time(until));
    out.element("td", words.number(hours_between(from, until) / kHoursOfDay, 1), "figure").open("td");
    if (gate == nullptr) {
      out.say(record.state().refused ? "report.gate.held" : "report.gate.not_open");
    } else {
      out.say(gate->by_hand ? "report.gate.by_hand" : "report.gate.by_criteria");
    }
    out.close().close();
    from = until;
  };
  for (const GateOpened& gate : record.state().gates) {
    stage = gate.stage;
    row(gate.at, &gate);
  }
  if (!record.state().finished) {
    stage = record.state().stage;
    row(record.until, nullptr);
  }
  end_table(out);
}

void write_release(Markup& out, const Record& record) {
  out.open("div").open("dt").say("report.release").close().open("dd");
  const ReleaseSigned* last = nullptr;
  for (const ReleaseSigned& one : record.history().releases) {
    if (one.at <= record.until) last = &one;
  }
  if (last == nullptr) {
    out.say("report.release.none");
  } else {
    out.say(Message("report.release.signed").with("who", Text{last->entry->who}).with("at", last->at));
  }
  out.close().close();
}

void write_nitrate(Markup& out, const Record& record, const std::vector<Product>& products) {
  const Words& words = out.words();
  const NitrateSum doses = sum_of_doses(record, products);
  const NitrateSum soil = sum_of_broadcasts(record, products);
  const auto kg = [](double value, int decimals = 1) { return Quantity{value, decimals, "kg"}; };
  fact(out, "report.doses.count", words.number(static_cast<double>(doses.count), 0));
  fact(out, "report.nitrate.water", words.quantity(kg(doses.product_kg)));
  if (soil.count > 0) fact(out, "report.nitrate.soil", words.quantity(kg(soil.product_kg)));
  if (record.pond().nominal_area_ha > 0) {
    fact(out, "report.nitrate.per_ha",
         words.quantity({doses.product_kg / record.pond().nominal_area_ha, 1, "kg_ha"}));
  }
  fact(out, "report.nitrate.n", words.quantity(kg(doses.nitrate_n_kg, 2)));
  if (const auto mg_l = nitrate_n_mg_l(record, doses.nitrate_n_kg)) {
    fact(out, "report.nitrate.mg_l", words.quantity({*mg_l, 2, "mg_l_n"}));
  }
  if (doses.unknown_product || soil.unknown_product) {
    out.open("div").open("dt").close().open("dd").say("report.nitrate.unknown").close().close();
  }
}

void write_open_matters(Markup& out, const Record& record) {
  const PondState& state = record.state();
  out.open("h3").say("report.troubles").close();
  if (state.troubles.empty() && state.questions.empty()) return no_rows(out, "report.troubles.none");
  out.open("ul");
  for (const Trouble& trouble : state.troubles) {
    out.open("li").open("strong").say("trouble." + trouble.id).close().text(". ").say(trouble.what).close();
  }
  for (const Question& question : state.questions) out.open("li").say(question.what).close();
  out.close();
}

}  // namespace

void write_summary(Markup& out, const Record& record, const std::vector<Product>& products) {
  begin_section(out, "report.summary");
  out.open("dl", "facts");
  const PondState& state = record.state();
  if (!state.unsupported) {
    fact(out, "report.stage",
         state.finished ? out.words()("pond.finished") : stage_word(out.words(), state.stage));
  }
  fact(out, "report.length",
       out.words().quantity({hours_between(record.cycle.start, record.until) / kHoursOfDay, 1, "d"}));
  write_nitrate(out, record, products);
  write_release(out, record);
  out.close();
  if (state.unsupported) {
    out.open("p").say("pond.lined").close();
  } else {
    out.open("h3").say("report.stages").close();
    write_stages(out, record);
    write_open_matters(out, record);
  }
  out.close();
}

}  // namespace tawny
