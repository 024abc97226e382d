// Which of the contacts on the screen acts: a wet phone has drops, palms and holding thumbs on it, and the
// widgets know one pointer only. Knows no drawing and no Dear ImGui, so that a test can move fingers through
// it.
//
// The contact that came down last acts, once the others have rested without moving. Two that come down shortly
// after each other wait for what they do: when the first one lifts they were two taps; when either moves they
// pinch. Fingers that pinch press nothing, nor does the one that lifts last. A palm presses nothing; whatever
// drags may scroll. What the system takes away presses nothing.
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "ui/widgets.h"

namespace tawny::ui {

enum class PointerKind { finger, pen, mouse };

// One event of one contact, as the page tells it.
struct Contact {
  enum class Event { down, move, up, cancel };
  Event event = Event::move;
  PointerKind kind = PointerKind::finger;
  int id = 0;
  float x = 0, y = 0;        // CSS px
  float size_px = 0;         // the longer side of the contact; 0 where the phone does not tell
  double time_s = 0;         // any steady clock
  bool stops_glide = false;  // came down on a page that was gliding on
};

// What the one pointer of the widgets does, in this order. A finger that has left points at nothing.
struct PointerStep {
  enum class Act { move, press, release, leave };
  Act act = Act::move;
  PointerKind kind = PointerKind::finger;
  float x = 0, y = 0;  // of a move
};

class Fingers {
 public:
  // True when this contact has just ended a tap: it lifted where it came down, and acts.
  bool step(const Contact& contact);
  // The page was hidden, or lost its events: everything lifts and presses nothing.
  void let_all_go();

  // What came since they were last taken.
  std::vector<PointerStep> take_steps();
  std::optional<Pinch> take_pinch();
  // How fast a finger that lifted while it dragged was, upwards, px/s; 0 when it had come to rest.
  std::optional<float> take_throw();

  // Resting for this long, a contact is no finger about to act. Common practice, no source.
  static constexpr double kRestS = 0.3;
  // Longer than this (19 mm where a px is 1/160 inch), a contact is no fingertip, in a glove or out of it.
  // Common practice, no source: fingertips are told as 20 to 60 px, palms as 100 and more.
  static constexpr float kPalmPx = 120;
  // So many short taps in a row that all measure like palms: the phone measures badly, and must not go deaf.
  static constexpr int kPalmsBelieved = 3;

 private:
  struct Down {
    int id = 0;
    PointerKind kind = PointerKind::finger;
    float start_x = 0, start_y = 0, x = 0, y = 0;
    double since_s = 0;
    float still_x = 0, still_y = 0;  // where it has rested, but for its shake,
    double still_since_s = 0;        // since then
    struct Sample {
      double time_s;
      float y;
    };
    std::vector<Sample> trail = {};  // of the last moments
    bool moved = false;              // farther than a tap may, since the last other contact came down
    bool large = false;              // a palm
    bool tapping = true;             // may still end as a tap
  };

  bool mouse(const Contact& contact);
  void come_down(const Contact& contact);
  void move(const Contact& contact);
  bool lift(const Contact& contact);
  void take_away(int id);

  void act(Down& down);
  void act_next();
  void stop_acting();
  void begin_pinch(Down& a, Down& b);
  void follow_pinch();
  void end_pinch();
  void add(PointerStep::Act act, PointerKind kind, float x = 0, float y = 0);
  void erase(int id);
  Down* find(int id);
  Down* other_moved(int id);
  bool is_palm(const Contact& contact) const;
  static void rebase(Down& down);
  static void remember(Down& down, const Contact& contact);
  static float speed_of(const Down& down, double time_s);

  static constexpr int kNobody = std::numeric_limits<int>::min();
  std::vector<Down> downs_;
  int acting_ = kNobody, waiting_ = kNobody;
  int pinch_a_ = kNobody, pinch_b_ = kNobody;
  float last_middle_ = 0, last_spread_ = 1;
  Pinch pinch_;
  bool pinched_ = false;  // since last taken
  int palms_ = 0;         // short taps like palms, in a row
  std::optional<Down> mouse_;
  std::vector<PointerStep> steps_;
  std::optional<float> thrown_px_s_;
};

}  // namespace tawny::ui
