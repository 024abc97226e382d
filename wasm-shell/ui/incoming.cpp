#include "ui/incoming.h"

#include <algorithm>
#include <utility>

namespace tawny::ui {

void Incoming::step(std::size_t bytes) {
  if (is_read()) return;
  const std::size_t wanted = std::min(text_.size(), at_ + std::max<std::size_t>(bytes, 1));
  const std::size_t line_end = text_.find('\n', wanted - 1);
  const std::size_t end = line_end == std::string::npos ? text_.size() : line_end + 1;
  add_report(report_, grown_.load(std::string_view(text_).substr(at_, end - at_)));
  at_ = end;
}

double Incoming::share() const {
  return text_.empty() ? 1 : static_cast<double>(at_) / static_cast<double>(text_.size());
}

std::vector<Entry> Incoming::added_to(const Logbook& have) const {
  std::vector<Entry> entries;
  for (const Entry* entry : grown_.all()) {
    if (have.find(to_reference(entry->id)) == nullptr) entries.push_back(*entry);
  }
  return entries;
}

}  // namespace tawny::ui
