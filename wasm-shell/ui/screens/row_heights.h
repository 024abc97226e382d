// What a screen remembers of a long list, of which it draws only what is near the view.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <utility>

#include "ui/widgets.h"

namespace tawny::ui {

class RowHeights {
 public:
  // A list of so many rows stands whole in the screen model, where a screen reader goes through it; of a longer one
  // only what is near the view does.
  static constexpr std::size_t kWholeList = 120;

  // Before the rows are drawn: heights at another width or with other letters are forgotten. Gives whether they were.
  bool begin(const Ui& ui) {
    const std::pair<float, float> now(ui.width(), ui.text_scale());
    if (of_ == now) return false;
    heights_.clear();
    of_ = now;
    return true;
  }

  // For Ui::skip_unseen() and what then draws the row: its height as last drawn, 0 for one that never was. Stays where it
  // is until it is forgotten.
  float& of(const std::string& id) { return heights_[id]; }

 private:
  std::map<std::string, float> heights_;
  std::pair<float, float> of_;
};

}  // namespace tawny::ui
