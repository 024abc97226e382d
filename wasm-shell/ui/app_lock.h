// The lock of this device: a PIN that is asked for when the app starts, and after a while in the background. Who does
// not know it sees nothing of the farm: neither on the canvas nor in the mirror nor said by a screen reader.
//
// It keeps off a curious hand. It does not keep off somebody who has the phone and knows browsers: the entries are not
// encrypted, and the clock can be set ahead to shorten a wait.
//
// Kept in this device's settings: "lock.salt" (32 hex digits, random), "lock.iterations", "lock.hash" (64 hex digits:
// PBKDF2-HMAC-SHA-256 of the PIN, RFC 8018), "lock.after" (minutes in the background; 0: at a start only), and of wrong
// tries "lock.wrong" (how many in a row) and "lock.from" (seconds since 1970, of the last one). The PIN itself is kept
// nowhere. A try counts as wrong from the moment it is made until it proves right, so that a page that is closed
// meanwhile wins nothing.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/time.h"

namespace tawny::ui {

class App;

// Whether both are the same, in a time that does not tell where they differ.
bool same_secret(std::string_view one, std::string_view other);

class AppLock {
 public:
  static constexpr std::size_t kLeastDigits = 4, kMostDigits = 12;
  // As many as OWASP's Password Storage Cheat Sheet asks for with PBKDF2-HMAC-SHA-256 (since 2023).
  static constexpr int kIterations = 600000;

  explicit AppLock(App& app) : app_(app) {}

  // A PIN can be chosen: the page is secure, so that the browser reckons hashes.
  bool can_be_set() const;
  bool is_set() const;
  bool locked() const { return locked_; }
  // Seconds until the next try; 0: now. None for the first three wrong tries, then 1, 5, 15 and 60 minutes; a clock
  // that was set back begins the wait anew.
  std::int64_t wait_s();
  std::optional<Instant> next_try_at() const;  // while there is a wait

  enum class News { none, checking, wrong, waiting, unavailable, opened, chosen, taken_off };
  News news() const { return news_; }
  void clear_news() { news_ = News::none; }

  // At the app's start, once the settings are known.
  void start();
  void on_seen(bool seen);
  // A try, which opens the lock or counts. Does nothing while one is checked or has to wait.
  void offer(std::string_view pin);
  // The same, then takes the PIN off or puts another in its place; `next` empty: off.
  void change(std::string_view pin, std::string_view next);
  // A first PIN: kLeastDigits to kMostDigits digits.
  void choose(std::string_view pin);
  std::string after() const;  // "5", "30" or "0"
  void set_after(std::string_view minutes);
  // The answer to Platform::derive_pin; empty when the browser could not.
  void on_derived(int ticket, std::string_view hash);

  // A text that the page accepts while locked comes once it is open.
  void hold(std::string_view field, std::string_view text) { held_.emplace_back(field, text); }

 private:
  void begin_try(std::string_view pin);
  void lock();
  void open();
  int wrong() const;
  void keep_chosen(std::string_view hash);

  App& app_;
  bool locked_ = false;
  News news_ = News::none;
  std::optional<Instant> hidden_at_;
  int ticket_ = 0;
  enum class Step { none, trying, choosing } step_ = Step::none;
  std::string new_salt_;
  std::optional<std::string> next_pin_;  // of a change under way
  std::vector<std::pair<std::string, std::string>> held_;
};

}  // namespace tawny::ui
