// When something was seen: now, some minutes ago, or at a time of day that is typed.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "ui/app.h"

namespace tawny::ui {

class When {
 public:
  // The moment as of now; "now" moves on with the clock until the entry is saved.
  Instant at(const App& app) const;
  void fix(Instant at) { fixed_ = at; }
  // The line with the moment, under that word; unfolds the ways to change it.
  void draw(App& app, Ui& ui, std::string_view word = "when.seen");

 private:
  void choose(App& app, const std::string& choice);
  void draw_windows(const App& app, Ui& ui) const;
  void ask_moment(App& app);
  std::optional<Instant> fixed_;
  int minutes_ago_ = 0;
  bool unfolded_ = false;
};

}  // namespace tawny::ui
