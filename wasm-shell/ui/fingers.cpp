#include "ui/fingers.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "ui/touch_scroll.h"

namespace tawny::ui {
namespace {

constexpr float kLeastSpreadPx = 40;  // nearer than this, the fingers' own shake would zoom
constexpr double kMemoryS = 0.1;      // how far back the speed of a finger is taken
constexpr float kShakePx = 4;         // of a contact that rests

}  // namespace

bool Fingers::step(const Contact& contact) {
  if (contact.kind == PointerKind::mouse) return mouse(contact);
  switch (contact.event) {
    case Contact::Event::down:
      come_down(contact);
      return false;
    case Contact::Event::move:
      move(contact);
      return false;
    case Contact::Event::up:
      return lift(contact);
    case Contact::Event::cancel:
      take_away(contact.id);
      return false;
  }
  return false;
}

bool Fingers::mouse(const Contact& contact) {
  if (acting_ != kNobody) return false;
  const bool was_down = mouse_.has_value();
  if (contact.event == Contact::Event::cancel) {
    mouse_.reset();
    add(PointerStep::Act::leave, contact.kind);
    if (was_down) add(PointerStep::Act::release, contact.kind);
    return false;
  }
  add(PointerStep::Act::move, contact.kind, contact.x, contact.y);
  if (contact.event == Contact::Event::down) {
    mouse_ = Down{contact.id, contact.kind, contact.x, contact.y, contact.x, contact.y};
    mouse_->tapping = !contact.stops_glide;
    if (!was_down) add(PointerStep::Act::press, contact.kind);
    return false;
  }
  if (!was_down) return false;
  const float way = std::hypot(contact.x - mouse_->start_x, contact.y - mouse_->start_y);
  if (way > TouchScroll::threshold_px(false)) mouse_->tapping = false;
  if (contact.event != Contact::Event::up) return false;
  const bool tapped = mouse_->tapping;
  mouse_.reset();
  add(PointerStep::Act::release, contact.kind);
  return tapped;
}

void Fingers::come_down(const Contact& contact) {
  take_away(contact.id);  // its end was lost
  if (mouse_) {
    mouse_.reset();
    add(PointerStep::Act::leave, PointerKind::mouse);
    add(PointerStep::Act::release, PointerKind::mouse);
  }
  for (Down& other : downs_) {
    if (other.id != acting_) rebase(other);
  }
  Down fresh{contact.id, contact.kind, contact.x, contact.y, contact.x, contact.y, contact.time_s};
  fresh.still_x = contact.x;
  fresh.still_y = contact.y;
  fresh.still_since_s = contact.time_s;
  fresh.large = is_palm(contact);
  fresh.tapping = !fresh.large && !contact.stops_glide;
  if (contact.size_px <= kPalmPx) palms_ = 0;
  remember(fresh, contact);  // a quick finger may say no more than where it came down and where it left
  downs_.push_back(fresh);
  Down& down = downs_.back();
  if (pinch_a_ != kNobody) {
    down.tapping = false;
    return;
  }
  if (down.large) return;
  Down* before = find(acting_);
  if (before && !before->large && contact.time_s - before->still_since_s < kRestS) {
    if (before->moved) {
      down.tapping = false;  // the other one goes on with its drag
      return;
    }
    if (Down* third = find(waiting_)) third->tapping = false;
    waiting_ = down.id;
    return;
  }
  stop_acting();
  waiting_ = kNobody;
  act(down);
}

void Fingers::move(const Contact& contact) {
  Down* down = find(contact.id);
  if (!down) return;
  down->x = contact.x;
  down->y = contact.y;
  remember(*down, contact);
  if (std::hypot(down->x - down->still_x, down->y - down->still_y) > kShakePx) {
    down->still_x = down->x;
    down->still_y = down->y;
    down->still_since_s = contact.time_s;
  }
  if (down->id == pinch_a_ || down->id == pinch_b_) {
    follow_pinch();
    return;
  }
  const float way = std::hypot(down->x - down->start_x, down->y - down->start_y);
  if (way > TouchScroll::threshold_px(down->kind == PointerKind::finger)) {
    down->moved = true;
    down->tapping = false;
  }
  if (!down->moved && !down->large && is_palm(contact)) {
    // A palm comes down with its edge first.
    down->large = true;
    down->tapping = false;
    if (down->id == waiting_) waiting_ = kNobody;
    if (down->id == acting_) {
      stop_acting();
      act_next();
    }
    return;
  }
  if (pinch_a_ != kNobody) return;
  if (down->id == acting_) {
    add(PointerStep::Act::move, down->kind, down->x, down->y);
    if (!down->moved || down->large) return;
    Down* second = waiting_ != kNobody ? find(waiting_) : other_moved(down->id);
    if (second) begin_pinch(*down, *second);
    return;
  }
  if (!down->moved) return;
  Down* acting = find(acting_);
  if (!acting) {
    act(*down);
  } else if (!down->large && !acting->large && (acting->moved || down->id == waiting_)) {
    begin_pinch(*acting, *down);
  }
}

bool Fingers::lift(const Contact& contact) {
  Down* down = find(contact.id);
  if (!down) return false;
  const bool tapped = down->tapping;
  if (down->large && !down->moved && contact.time_s - down->since_s < kRestS) ++palms_;
  if (down->id == pinch_a_ || down->id == pinch_b_) {
    end_pinch();
    erase(contact.id);
    return false;
  }
  if (down->id == waiting_) {
    waiting_ = kNobody;
    stop_acting();
    act(*down);
  }
  if (down->id != acting_) {
    erase(contact.id);
    return false;
  }
  if (contact.x != down->x || contact.y != down->y) {
    add(PointerStep::Act::move, down->kind, contact.x, contact.y);
  }
  thrown_px_s_ = speed_of(*down, contact.time_s);
  add(PointerStep::Act::release, down->kind);
  add(PointerStep::Act::leave, down->kind);
  acting_ = kNobody;
  erase(contact.id);
  act_next();
  return tapped;
}

void Fingers::take_away(int id) {
  if (!find(id)) return;
  if (id == pinch_a_ || id == pinch_b_) end_pinch();
  if (id == acting_) stop_acting();
  if (id == waiting_) waiting_ = kNobody;
  erase(id);
  if (acting_ == kNobody) act_next();
}

void Fingers::let_all_go() {
  if (mouse_) {
    mouse_.reset();
    add(PointerStep::Act::leave, PointerKind::mouse);
    add(PointerStep::Act::release, PointerKind::mouse);
  }
  stop_acting();
  downs_.clear();
  waiting_ = pinch_a_ = pinch_b_ = kNobody;
}

std::vector<PointerStep> Fingers::take_steps() { return std::exchange(steps_, {}); }

std::optional<Pinch> Fingers::take_pinch() {
  if (!pinched_) return std::nullopt;
  pinched_ = false;
  const Pinch taken = pinch_;
  pinch_.moved_px = 0;
  pinch_.zoom = 1;
  return taken;
}

std::optional<float> Fingers::take_throw() { return std::exchange(thrown_px_s_, std::nullopt); }

void Fingers::remember(Down& down, const Contact& contact) {
  down.trail.push_back({contact.time_s, contact.y});
  const auto fresh = [&](const Down::Sample& sample) { return contact.time_s - sample.time_s <= kMemoryS; };
  down.trail.erase(down.trail.begin(), std::find_if(down.trail.begin(), down.trail.end(), fresh));
}

float Fingers::speed_of(const Down& down, double time_s) {
  if (down.trail.size() < 2) return 0;
  const Down::Sample& first = down.trail.front();
  const Down::Sample& last = down.trail.back();
  if (time_s - last.time_s > kMemoryS || last.time_s <= first.time_s) return 0;
  return static_cast<float>(static_cast<double>(first.y - last.y) / (last.time_s - first.time_s));
}

void Fingers::act(Down& down) {
  acting_ = down.id;
  // From where it came down: what has moved since is a drag from its first frame on.
  add(PointerStep::Act::move, down.kind, down.start_x, down.start_y);
  add(PointerStep::Act::press, down.kind);
  if (down.x != down.start_x || down.y != down.start_y) {
    add(PointerStep::Act::move, down.kind, down.x, down.y);
  }
}

void Fingers::act_next() {
  // What moved while another acted does not jump when its own turn comes.
  for (Down& down : downs_) rebase(down);
  if (Down* next = find(std::exchange(waiting_, kNobody))) act(*next);
}

void Fingers::stop_acting() {
  Down* down = find(acting_);
  acting_ = kNobody;
  if (!down) return;
  down->tapping = false;
  rebase(*down);
  // Moved away first, the pointer lets go over nothing.
  add(PointerStep::Act::leave, down->kind);
  add(PointerStep::Act::release, down->kind);
}

void Fingers::begin_pinch(Down& a, Down& b) {
  stop_acting();
  waiting_ = kNobody;
  for (Down& down : downs_) down.tapping = false;
  pinch_a_ = a.id;
  pinch_b_ = b.id;
  last_middle_ = (a.x + b.x) / 2;
  last_spread_ = std::max(kLeastSpreadPx, std::hypot(a.x - b.x, a.y - b.y));
  pinch_ = Pinch{last_middle_, (a.y + b.y) / 2, last_middle_};
}

void Fingers::follow_pinch() {
  const Down* a = find(pinch_a_);
  const Down* b = find(pinch_b_);
  if (!a || !b) return;
  const float spread = std::max(kLeastSpreadPx, std::hypot(a->x - b->x, a->y - b->y));
  pinch_.x = (a->x + b->x) / 2;
  pinch_.moved_px += pinch_.x - last_middle_;
  pinch_.zoom *= spread / last_spread_;
  last_middle_ = pinch_.x;
  last_spread_ = spread;
  pinched_ = true;
}

void Fingers::end_pinch() {
  pinch_a_ = pinch_b_ = kNobody;
  for (Down& down : downs_) rebase(down);
}

void Fingers::add(PointerStep::Act act, PointerKind kind, float x, float y) {
  steps_.push_back({act, kind, x, y});
}

void Fingers::erase(int id) {
  downs_.erase(std::remove_if(downs_.begin(), downs_.end(), [&](const Down& down) { return down.id == id; }),
               downs_.end());
}

Fingers::Down* Fingers::find(int id) {
  const auto found =
      std::find_if(downs_.begin(), downs_.end(), [&](const Down& down) { return down.id == id; });
  return found == downs_.end() ? nullptr : &*found;
}

Fingers::Down* Fingers::other_moved(int id) {
  const auto found = std::find_if(downs_.begin(), downs_.end(),
                                  [&](const Down& down) { return down.id != id && down.moved && !down.large; });
  return found == downs_.end() ? nullptr : &*found;
}

bool Fingers::is_palm(const Contact& contact) const {
  return contact.kind == PointerKind::finger && contact.size_px > kPalmPx && palms_ < kPalmsBelieved;
}

void Fingers::rebase(Down& down) {
  down.start_x = down.x;
  down.start_y = down.y;
  down.moved = false;
}

}  // namespace tawny::ui
