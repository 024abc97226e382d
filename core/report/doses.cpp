// Every dose: product and lot, kilograms and bins, rate and area, begin and end, sky, person, manager's word.
#include <algorithm>

#include "dose/dose.h"
#include "logbook/kinds.h"
#include "protocol/look.h"
#include "report/record.h"
#include "words/entry_words.h"

namespace tawny {
namespace {

class Doses {
 public:
  Doses(Markup& out, const Record& record, const std::vector<Product>& products)
      : out_(out), record_(record), products_(products) {
    for (const DoseRecord* dose : doses_at(record)) counted_.push_back(dose->entry);
  }

  void write() {
    bool any = false;
    for (const Entry* entry : record_.entries) {
      const bool dose = entry->kind == kind::kDose, soil = entry->kind == kind::kSoilBroadcast;
      if (!dose && !soil) continue;
      if (!any) {
        begin_table(out_, "doses",
                    {"report.dose.when", "report.dose.what", "report.dose.how_much", "report.dose.how",
                     "report.dose.who"});
      }
      any = true;
      row(*entry, soil);
    }
    any ? end_table(out_) : no_rows(out_, "report.doses.none");
    broken_off();
  }

 private:
  static std::vector<const DoseRecord*> doses_at(const Record& record) {
    return tawny::doses_at(record.history(), record.until);
  }

  // A line of its own where the entry has this value.
  void line(const Entry& entry, std::string_view key) {
    const auto found = entry.values.find(key);
    if (found == entry.values.end()) return;
    out_.open("div").text(key_word(out_.words(), key) + ": ");
    out_.typed(value_word(out_.words(), key, found->second)).close();
  }

  void bare(const Entry& entry, std::string_view key) {
    const auto found = entry.values.find(key);
    if (found == entry.values.end()) return;
    out_.open("div", "value").typed(value_word(out_.words(), key, found->second)).close();
  }

  void row(const Entry& entry, bool soil) {
    const bool fallen = !record_.stands(entry);
    out_.open("tr", fallen ? "fallen" : "");
    const auto cell = [&](auto&& content) {
      out_.open("td");
      if (fallen) out_.open("s");
      content();
      if (fallen) out_.close();
      out_.close();
    };
    cell([&] {
      const bool timed = entry.text("started") != nullptr;
      if (timed) line(entry, "started");
      if (timed) line(entry, "ended");
      if (!timed) out_.open("div").text(out_.words().time(entry.observed)).close();
      if (soil) out_.open("div").say("kind.soil_broadcast").close();
    });
    cell([&] {
      bare(entry, "product");
      if (entry.text("lot") != nullptr) {
        line(entry, "lot");
      } else {
        out_.open("div", "quiet").say("report.dose.no_lot").close();
      }
    });
    cell([&] {
      bare(entry, "product_kg");
      for (const std::string_view key : {"bins", "rate_kg_ha", "area_ha"}) line(entry, key);
      nitrate(entry, soil);
    });
    cell([&] {
      for (const std::string_view key : {"coverage", "dissolved", "sky"}) line(entry, key);
    });
    out_.open("td").open("div");
    write_who(out_, entry);
    out_.close().open("div");
    write_number(out_, entry);
    out_.close();
    if (const bool* word = entry.flag("manager_override"); word != nullptr && *word) {
      out_.open("div", "by_hand").say("key.manager_override").text(": ");
      const std::string* reason = entry.text("reason");
      out_.typed(reason == nullptr ? std::string_view() : std::string_view(*reason)).close();
    }
    standing(entry, soil);
    out_.close().close();
  }

  // As written down; else by the level last read before it.
  void nitrate(const Entry& entry, bool soil) {
    if (entry.number("nitrate_n_mg_l") != nullptr) return line(entry, "nitrate_n_mg_l");
    const double* kg = entry.number("product_kg");
    const std::string* id = entry.text("product");
    if (soil || kg == nullptr || id == nullptr || !record_.pond().curve) return;
    const Product* product = find_product(products_, *id);
    const LevelReading* level = nullptr;
    for (const LevelReading& reading : record_.history().levels) {
      if (reading.at <= entry.observed) level = &reading;
    }
    if (product == nullptr || level == nullptr) return;
    const Result<double> volume_m3 = record_.pond().curve->volume_m3(level->level_cm);
    if (!volume_m3) return;
    const Result<double> added = nitrate_n_added_mg_l(*product, *kg, *volume_m3);
    if (!added) return;
    out_.open("div").text(key_word(out_.words(), "nitrate_n_mg_l") + ": ");
    out_.text(measured(out_.words(), "nitrate_n_mg_l", *added)).close();
  }

  void standing(const Entry& entry, bool soil) {
    const Logbook::Standing standing = record_.logbook.standing(entry.id);
    if (standing == Logbook::Standing::corrected) out_.open("div", "state").say("standing.corrected").close();
    if (standing == Logbook::Standing::voided) out_.open("div", "state").say("standing.voided").close();
    if (standing == Logbook::Standing::not_counted)
      out_.open("div", "state").say("standing.not_counted").close();
    if (soil || standing != Logbook::Standing::stands) return;
    const bool counted = std::find(counted_.begin(), counted_.end(), &entry) != counted_.end();
    if (!counted) out_.open("div", "state").say("report.dose.not_counted").close();
  }

  // A walk that was stopped and never recorded as a dose: what was spread by then.
  void broken_off() {
    bool any = false;
    for (const DoseWalk& walk : record_.history().walks) {
      if (!walk.stopped || walk.recorded) continue;
      if (!any) out_.open("h3").say("report.walks_stopped").close().open("ul");
      any = true;
      out_.open("li").say(Message("report.walk_stopped")
                              .with("at", walk.start->observed)
                              .with("kg", Quantity{walk.product_kg, 1, "kg"})
                              .with("spread", tawny::bare(walk.spread.size()))
                              .with("bins", tawny::bare(walk.bins)));
      out_.text(" ");
      write_who(out_, *walk.start);
      out_.close();
    }
    if (any) out_.close();
  }

  Markup& out_;
  const Record& record_;
  const std::vector<Product>& products_;
  std::vector<const Entry*> counted_;
};

}  // namespace

void write_doses(Markup& out, const Record& record, const std::vector<Product>& products) {
  begin_section(out, "report.doses");
  Doses(out, record, products).write();
  out.close();
}

}  // namespace tawny
