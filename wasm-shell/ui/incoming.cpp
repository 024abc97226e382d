#include "ui/incoming.h"

#include <algorithm>
#include <utility>

#include "logbook/line_reader.h"

namespace tawny::ui {

Incoming::Incoming(std::string_view name, std::string_view text, const Logbook& have)
    : name_(name), text_(text), takes_farm_(have.farm().empty()), reader_(have) {}

void Incoming::step(std::size_t bytes) {
  if (is_read()) return;
  const std::size_t wanted = std::min(text_.size(), at_ + std::max<std::size_t>(bytes, 1));
  const std::size_t line_end = text_.find('\n', wanted - 1);
  const std::size_t end = line_end == std::string::npos ? text_.size() : line_end + 1;
  reader_.take(std::string_view(text_).substr(at_, end - at_));
  at_ = reader_.is_refused() ? text_.size() : end;
  if (is_read()) reader_.finish();
}

double Incoming::share() const {
  return text_.empty() ? 1 : static_cast<double>(at_) / static_cast<double>(text_.size());
}

std::vector<Entry> Incoming::added_to(const Logbook& have) const {
  std::vector<Entry> entries;
  for (const Entry* entry : reader_.grown().all()) {
    if (!have.has(entry->id)) entries.push_back(*entry);
  }
  if (reader_.grown().unread_count() == 0) return entries;
  reader_.grown().visit([&](const Logbook::Line& line) {
    if (line.entry != nullptr) return;
    Result<LineHead> head = read_line_head(line.bytes);
    if (!head || have.has(head->id)) return;
    Entry entry;
    entry.id = std::move(head->id);
    entry.format = head->format;
    entry.farm_apart = std::move(head->farm);
    entry.line = std::string(line.bytes);
    entries.push_back(std::move(entry));
  });
  return entries;
}

}  // namespace tawny::ui
