// The way of a draft, or of several that go together, from a screen to the store, as that screen shows it:
// being saved, saved, or not saved and why.
//
// A screen owns one SaveFlow. It polls App's news, so nothing of the screen is pointed at while the store
// works.
#pragma once

#include <memory>
#include <vector>

#include "ui/app.h"

namespace tawny::ui {

class SaveFlow {
 public:
  enum class State { idle, saving, saved, failed };

  // Hands the draft over; stays idle when the app cannot take it (another act is under way, no pen).
  void put(App& app, Draft draft);
  void put(App& app, std::vector<Draft> drafts);  // all of them or none
  // Where the draft is now; to be asked once a frame, before anything is drawn.
  State poll(App& app);
  // After "saved": what, and when.
  const std::vector<EntryId>& ids() const { return ids_; }
  Instant saved_at() const { return saved_at_; }
  bool holds_unsaved() const { return state_ == State::saving || state_ == State::failed; }
  void reset() { state_ = State::idle; }

  // "Being saved", or what went wrong with the ways on: again, the logbook as a file, or leave it unsaved.
  void draw_waiting(App& app, Ui& ui);

 private:
  State state_ = State::idle;
  std::shared_ptr<bool> done_;  // set when the store has answered "saved"; outlives this screen
  std::vector<EntryId> ids_;
  Instant saved_at_;
};

// Which gates the entry that was just saved has opened; nothing is drawn when it opened none.
void draw_gate_news(App& app, Ui& ui);

// An act that another screen left behind unsaved: said, with the same ways on. Nothing is drawn when there is
// none. Gives true when one is there, so that no further entry can be saved yet.
bool draw_act_left_behind(App& app, Ui& ui);

}  // namespace tawny::ui
