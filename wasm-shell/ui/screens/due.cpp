#include "ui/screens/due.h"

#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {

void open_due(App& app, const DueItem& item) {
  switch (item.act) {
    case Act::dose:
      app.open(make_dose_walk_screen(item.pond));
      return;
    case Act::sign_release:
    case Act::decide_gate:
      app.open(make_gate_screen(item.pond));
      return;
    case Act::settle_question:
      app.open(make_questions_screen(item.pond));
      return;
    default:
      app.open(make_entry_screen(item.act, item.pond, item.detail));
      return;
  }
}

std::string due_act(const Words& words, const DueItem& item) {
  const std::string act = act_word(words, item.act);
  if (item.detail.empty()) return act;
  return words(Message("entry.act_detail").with("act", Text{act}).with("detail", Text{item.detail}));
}

std::string due_time(const Words& words, const DueItem& item) {
  switch (item.state) {
    case DueState::now:
      return item.window ? words(Message("rounds.until").with("until", item.until)) : words("rounds.today");
    case DueState::later:
      return words(Message("rounds.from").with("from", item.from).with("until", item.until));
    case DueState::overdue:
      return words("rounds.overdue");
    case DueState::missed:
      return words(Message("rounds.missed_at").with("until", item.until));
    case DueState::done:
      break;
  }
  return words("rounds.done");
}

}  // namespace tawny::ui
