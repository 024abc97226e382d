// A file of entries that a person handed over, read a little in each frame: a season's logbook takes a phone
// seconds, in which the screen must show how far it is and let the reading be stopped.
//
// Nothing of it counts until the person says so; what is read is then saved in one transaction.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "logbook/logbook.h"

namespace tawny::ui {

class Incoming {
 public:
  // `have` is what is on this device already; it is copied.
  Incoming(std::string_view name, std::string_view text, const Logbook& have)
      : name_(name), text_(text), grown_(have) {}

  const std::string& name() const { return name_; }
  // Reads on by whole lines, about `bytes` of them.
  void step(std::size_t bytes);
  bool is_read() const { return at_ >= text_.size(); }
  double share() const;  // read so far, 0..1
  // So far; final once it is read.
  const LoadReport& report() const { return report_; }
  // What it adds to `have`.
  std::vector<Entry> added_to(const Logbook& have) const;

 private:
  std::string name_, text_;
  std::size_t at_ = 0;
  Logbook grown_;
  LoadReport report_;
};

}  // namespace tawny::ui
