#include "ui/screens/cautions.h"

namespace tawny::ui {

void CautionsPart::draw(Ui& ui, const std::string& prefix, std::string_view heading,
                        const std::vector<std::string>& ids) {
  const Words& words = ui.words();
  ui.heading(prefix + "/cautions", words(heading));
  ui.begin_card(prefix + "/cautions/card");
  for (const std::string& id : ids) ui.point(prefix + "/" + id, words(id));
  ui.end_card();
  ui.gap(8);
  if (!ui.checkbox(prefix + "/confirm", words("dose.confirm"), confirmed(ids))) return;
  if (confirmed(ids)) {
    confirmed_.clear();
  } else {
    confirmed_ = ids;
  }
}

}  // namespace tawny::ui
