// The board as part of a screen: summary, filters, and all ponds as a table on a laptop, as cards on a phone.
#pragma once

#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "office/board.h"
#include "ui/app.h"

namespace tawny::ui {

class BoardPart {
 public:
  // Content and footer; the bars are the caller's. `above` draws what stands over the board.
  void draw(App& app, Ui& ui, const std::function<void()>& above = {});

 private:
  void renew(App& app);
  void draw_summary(Ui& ui) const;
  void draw_filters(App& app, Ui& ui, bool table);
  void draw_sort(App& app, Ui& ui);
  void draw_table(App& app, Ui& ui);
  void draw_cards(App& app, Ui& ui);
  void draw_footer(App& app, Ui& ui);
  void sort_by(App& app, BoardKey key);
  void tick(Ui& ui, std::size_t place);
  bool may_choose(const App& app) const;
  bool all_chosen() const;  // of what is shown
  void choose_all(bool choose);

  int folds_ = -1;
  Board board_;
  BoardAsk ask_;
  std::vector<std::size_t> shown_;  // numbers of the board's rows
  bool asked_anew_ = true;
  bool more_ = false;             // on a phone stages, name and order are asked for behind one chip
  bool choosing_ = false;         // on a phone the cards have no tick until somebody wants to choose
  std::set<std::string> chosen_;  // pond ids
  std::string last_ticked_;
  std::map<std::string, float> heights_;  // as last drawn, by pond
  float height_width_ = 0;                // of the column when they were
};

// --- board_row.cpp
// The cells of a pond's row from the second on, each opened by Ui::next_column().
void draw_board_cells(App& app, Ui& ui, const std::string& id, const BoardRow& row);
// The same as the inside of a card.
void draw_board_card(App& app, Ui& ui, const std::string& id, const BoardRow& row);
// "Pond 3, 4 Second fill": what the mirror says of the row.
std::string board_row_name(const Words& words, const BoardRow& row);

}  // namespace tawny::ui
