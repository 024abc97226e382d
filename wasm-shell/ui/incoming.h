// A file of entries that a person handed over, read a little in each frame: a season's logbook takes a phone
// seconds, in which the screen must show how far it is and let the reading be stopped.
//
// Nothing of it counts until the person says so; what is read is then saved in one transaction.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/bundle.h"

namespace tawny::ui {

class Incoming {
 public:
  // `have` is what is on this device already; it is copied.
  Incoming(std::string_view name, std::string_view text, const Logbook& have);

  const std::string& name() const { return name_; }
  // Reads on by whole lines, about `bytes` of them.
  void step(std::size_t bytes);
  bool is_read() const { return at_ >= text_.size(); }
  double share() const;  // read so far, 0..1
  // So far; final once it is read.
  const LoadReport& report() const { return reader_.report(); }
  // Who, when, how many, and what is missing: whole once it is read.
  const BundlePreview& preview() const { return reader_.preview(); }
  // Id of the farm that the file is of, where that is not this device's and nothing in it can be taken.
  // Known after the first line, as a rule; the rest is then not read where the file has an index.
  std::optional<std::string> other_farm() const { return reader_.other_farm(); }
  // This device held no entry: it takes the farm of the file.
  bool takes_farm() const { return takes_farm_; }
  // What it adds to `have`; of an entry of a newer format only its id, its farm and its line are filled in.
  std::vector<Entry> added_to(const Logbook& have) const;

 private:
  std::string name_, text_;
  std::size_t at_ = 0;
  bool takes_farm_;
  BundleReader reader_;
};

}  // namespace tawny::ui
