#include "ui/app_lock.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>

#include "ui/app.h"

namespace tawny::ui {
namespace {

constexpr int kSaltDigits = 32;
// By the number of wrong tries in a row; the last counts for all after it.
constexpr std::int64_t kWaitS[] = {0, 0, 0, 60, 300, 900, 3600};

bool is_pin(std::string_view pin) {
  return pin.size() >= AppLock::kLeastDigits && pin.size() <= AppLock::kMostDigits &&
         std::all_of(pin.begin(), pin.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::int64_t whole(const std::string& text) { return std::strtoll(text.c_str(), nullptr, 10); }

}  // namespace

bool same_secret(std::string_view one, std::string_view other) {
  if (one.size() != other.size()) return false;
  unsigned differences = 0;
  for (std::size_t i = 0; i < one.size(); ++i) {
    differences |= static_cast<unsigned char>(one[i]) ^ static_cast<unsigned char>(other[i]);
  }
  return differences == 0;
}

bool AppLock::can_be_set() const { return app_.boot().can_lock; }

bool AppLock::is_set() const { return !app_.demo() && !app_.setting("lock.hash").empty(); }

int AppLock::wrong() const {
  return static_cast<int>(std::max<std::int64_t>(0, whole(app_.setting("lock.wrong"))));
}

std::int64_t AppLock::wait_s() {
  const auto tries = static_cast<std::size_t>(wrong());
  const std::int64_t wait = kWaitS[std::min(tries, std::size(kWaitS) - 1)];
  if (wait == 0) return 0;
  const std::int64_t now = app_.now().unix_s;
  if (now < whole(app_.setting("lock.from"))) app_.set_setting("lock.from", std::to_string(now));
  return std::max<std::int64_t>(0, whole(app_.setting("lock.from")) + wait - now);
}

std::optional<Instant> AppLock::next_try_at() const {
  const std::int64_t wait = kWaitS[std::min(static_cast<std::size_t>(wrong()), std::size(kWaitS) - 1)];
  const Instant at{whole(app_.setting("lock.from")) + wait};
  return wait > 0 && at > app_.now() ? std::optional(at) : std::nullopt;
}

void AppLock::start() {
  if (is_set()) lock();
}

void AppLock::on_seen(bool seen) {
  if (!seen) {
    hidden_at_ = app_.now();
    return;
  }
  if (!hidden_at_) return;
  const std::int64_t away_s = app_.now().unix_s - hidden_at_->unix_s;
  hidden_at_.reset();
  const std::int64_t after_s = 60 * whole(after());
  // A clock that was set back says nothing of how long it was.
  if (is_set() && !locked_ && after_s > 0 && (away_s >= after_s || away_s < 0)) lock();
}

void AppLock::lock() {
  locked_ = true;
  news_ = News::none;
  app_.platform().show_locked(true);
}

void AppLock::open() {
  locked_ = false;
  news_ = News::opened;
  app_.platform().show_locked(false);
  for (const auto& [field, text] : std::exchange(held_, {})) app_.on_text(field, text);
}

void AppLock::begin_try(std::string_view pin) {
  if (step_ != Step::none) return;
  if (wait_s() > 0) {
    news_ = News::waiting;
    return;
  }
  app_.set_setting("lock.wrong", std::to_string(wrong() + 1));
  app_.set_setting("lock.from", std::to_string(app_.now().unix_s));
  step_ = Step::trying;
  news_ = News::checking;
  app_.platform().derive_pin(++ticket_, pin, app_.setting("lock.salt"),
                             static_cast<int>(whole(app_.setting("lock.iterations"))));
}

void AppLock::offer(std::string_view pin) {
  next_pin_.reset();
  begin_try(pin);
}

void AppLock::change(std::string_view pin, std::string_view next) {
  if (step_ != Step::none) return;
  next_pin_ = next;
  begin_try(pin);
}

void AppLock::choose(std::string_view pin) {
  if (step_ != Step::none || !can_be_set() || !is_pin(pin)) return;
  new_salt_ = app_.platform().random_hex(kSaltDigits);
  step_ = Step::choosing;
  news_ = News::checking;
  app_.platform().derive_pin(++ticket_, pin, new_salt_, kIterations);
}

std::string AppLock::after() const { return app_.setting("lock.after", "5"); }

void AppLock::set_after(std::string_view minutes) { app_.set_setting("lock.after", minutes); }

void AppLock::keep_chosen(std::string_view hash) {
  app_.set_setting("lock.salt", new_salt_);
  app_.set_setting("lock.iterations", std::to_string(kIterations));
  app_.set_setting("lock.hash", hash);
  app_.set_setting("lock.wrong", "0");
  news_ = News::chosen;
}

void AppLock::on_derived(int ticket, std::string_view hash) {
  if (ticket != ticket_ || step_ == Step::none) return;
  const Step step = std::exchange(step_, Step::none);
  if (hash.empty()) {
    news_ = News::unavailable;
    return;
  }
  if (step == Step::choosing) {
    keep_chosen(hash);
    return;
  }
  const std::optional<std::string> next = std::exchange(next_pin_, std::nullopt);
  if (!same_secret(hash, app_.setting("lock.hash"))) {
    news_ = wait_s() > 0 ? News::waiting : News::wrong;
    return;
  }
  app_.set_setting("lock.wrong", "0");
  if (locked_) {
    open();
  } else if (next && !next->empty()) {
    choose(*next);
  } else if (next) {
    for (const char* key : {"lock.hash", "lock.salt", "lock.iterations"}) app_.set_setting(key, "");
    news_ = News::taken_off;
  }
}

}  // namespace tawny::ui
