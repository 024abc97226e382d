// A look at drafts before they are saved, for screens that put more on record than one form: what cannot be is
// said and stops the save, what is unlikely is asked about once.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "protocol/check_entry.h"
#include "ui/app.h"

namespace tawny::ui {

class FindingsPart {
 public:
  enum class Outcome { clear, questioned, refused };
  // What was found before is forgotten.
  Outcome look(App& app, const FarmPond& pond, const std::vector<Draft>& drafts);
  // What a form has found out by itself.
  Outcome take(const std::vector<Finding>& found);
  bool refused() const { return !refusals_.empty(); }
  bool asking() const { return asking_; }
  void forget();
  // Among the texts of the screen; nothing where nothing was refused.
  void draw_refusals(Ui& ui) const;
  // A page of its own while asking(): false for "change it", true for "go on", nothing until answered.
  std::optional<bool> draw_question(const App& app, Ui& ui, const std::string& what, const std::string& go_on);

 private:
  std::vector<Message> refusals_, questions_;
  bool asking_ = false;
};

}  // namespace tawny::ui
