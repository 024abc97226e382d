// The cautions of an act, listed where it is begun and confirmed there once: what was confirmed goes on record with
// the act ("cautions"), so that an act that is taken up again later does not ask a second time.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ui/widgets.h"

namespace tawny::ui {

class CautionsPart {
 public:
  // `prefix` of the ids of its controls; `ids` are those of the messages, in the order to show them.
  void draw(Ui& ui, const std::string& prefix, std::string_view heading, const std::vector<std::string>& ids);
  // What was confirmed are these very ones: another product brings others, and they are to be read too.
  bool confirmed(const std::vector<std::string>& ids) const { return !ids.empty() && ids == confirmed_; }

 private:
  std::vector<std::string> confirmed_;
};

}  // namespace tawny::ui
