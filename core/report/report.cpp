#include "report/report.h"

#include <set>

#include "base/visible.h"
#include "logbook/export.h"
#include "report/record.h"

namespace tawny {
namespace {

// Before any entry: so that every date is written in full, and none as "yesterday".
constexpr std::int32_t kLongAgo_days = -60000;

Words words_in_full(Words words, UtcOffset offset) {
  words.set_clock(offset, instant_at(CivilDay{kLongAgo_days}, 0, offset));
  return words;
}

std::string offset_text(UtcOffset offset) {
  const int minutes = offset.minutes < 0 ? -offset.minutes : offset.minutes;
  const auto two = [](int number) { return (number < 10 ? "0" : "") + std::to_string(number); };
  return std::string("UTC") + (offset.minutes < 0 ? "\u2212" : "+") + two(minutes / 60) + ":" +
         two(minutes % 60);
}

// A text of a style sheet: everything but letters and digits as its number, so that none of it can end the
// text or the sheet.
std::string style_text(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || byte >= 0x80;
    if (plain) {
      out += c;
    } else {
      constexpr std::string_view kDigits = "0123456789abcdef";
      out += '\\';
      out += kDigits[byte >> 4];
      out += kDigits[byte & 0xf];
      out += ' ';
    }
  }
  return out;
}

std::string running_head(const Record& record) {
  return record.farm.name + " \u00b7 " + record.pond().name + " \u00b7 " + record.cycle.label;
}

// The same, each name isolated from the direction of the others.
std::string running_head_style(const Record& record) {
  std::string out = "\"";
  for (const std::string& name : {record.farm.name, record.pond().name, record.cycle.label}) {
    if (out.size() > 1) out += style_text(" \u00b7 ");
    out += "\\2068 " + style_text(visible(name)) + "\\2069 ";
  }
  return out + "\"";
}

void write_head(Markup& out, const Record& record, Instant now) {
  const Words& words = out.words();
  out.open("header").open("p", "what").say("report.title").close();
  out.open("h1").typed(record.pond().name).text(" \u00b7 ").typed(record.cycle.label).close();
  if (record.farm.demo) out.open("p", "demo").say("demo.about").close();
  out.open("dl", "facts");
  fact(out, "report.farm", record.farm.name);
  fact(out, "logbook.pond", record.pond().name);
  fact(out, "key.cycle", record.cycle.label);
  fact(out, "key.nominal_area_ha", words.quantity({record.pond().nominal_area_ha, 2, "ha"}));
  fact(out, "report.started", words.time(record.cycle.start));
  if (record.cycle.end) {
    fact(out, "report.ended", words.time(*record.cycle.end));
  } else {
    fact(out, "report.running", words.time(record.until));
  }
  fact(out, "report.made", words.time(now));
  fact(out, "report.clock", offset_text(record.offset()));
  out.open("div").open("dt").say("report.written_by").close().open("dd");
  std::set<std::string> people;
  for (const Entry* entry : record.entries) {
    if (!entry->who.empty()) people.insert(entry->who);
  }
  bool first = true;
  for (const std::string& person : people) {
    if (!first) out.text(", ");
    first = false;
    out.typed(person);
  }
  if (people.empty()) out.say("person.unknown");
  out.close().close().close();
  out.open("p", "release").say("gate.qualified").close().close();
}

}  // namespace

Result<std::string> report_html(const Logbook& logbook, const Farm& farm, const ReportAsk& ask,
                                const Protocol& protocol, const std::vector<Product>& products,
                                const Words& words, std::string_view style_sheet, Instant now) {
  const Result<Record> record = read_record(logbook, farm, ask, protocol, now);
  if (!record) return tl::unexpected<Problem>(record.error());
  const Words in_full = words_in_full(words, farm.place.offset);
  const std::string head = running_head(*record);
  Markup out(in_full);
  out.raw("<!DOCTYPE html>\n").open("html").attribute("xmlns", "http://www.w3.org/1999/xhtml");
  if (!ask.language.empty()) out.attribute("lang", ask.language).attribute("xml:lang", ask.language);
  out.open("head").empty_element("meta").attribute("charset", "utf-8");
  out.empty_element("meta")
      .attribute("name", "viewport")
      .attribute("content", "width=device-width, initial-scale=1");
  out.element("title", head).open("style").raw("\n").raw(style_sheet);
  out.raw("body { margin: 0; }\n@page { @top-left { content: " + running_head_style(*record) + "; } }\n")
      .close()
      .close();
  out.open("body").open("main").attribute("id", "report").attribute("data-running-head", head);
  write_head(out, *record, now);
  write_summary(out, *record, products);
  write_charts(out, *record);
  write_gates(out, *record);
  write_doses(out, *record, products);
  write_decisions(out, *record);
  write_protocol(out, *record);
  write_corrections(out, *record);
  write_chains(out, *record);
  write_cautions(out);
  write_entries(out, *record);
  out.close().close().close().raw("\n");
  return out.done();
}

Result<std::string> report_csv(const Logbook& logbook, const Farm& farm, const ReportAsk& ask,
                               const Protocol& protocol, Instant now) {
  const Result<Record> record = read_record(logbook, farm, ask, protocol, now);
  if (!record) return tl::unexpected<Problem>(record.error());
  return to_csv(logbook, record->entries);
}

}  // namespace tawny
