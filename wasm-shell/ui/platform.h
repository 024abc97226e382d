// What the screens ask of the world outside. The browser's answer is in platform/; tests give their own.
//
// Everything that takes time answers later through App (on_saved, on_file, ...): no screen ever waits.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/time.h"
#include "logbook/logbook.h"
#include "logbook/trust.h"

namespace tawny::ui {

// One transaction: all lines become durable together, or none does.
struct SaveRequest {
  int ticket = 0;
  std::vector<const Entry*> entries;  // good during the call only
};

enum class SaveOutcome {
  saved,    // the transaction completed, durability strict
  full,     // no room left
  refused,  // the browser refuses to store (private window, blocked)
  newer,    // a newer version of the app has upgraded the store
  failed,   // anything else; `detail` has the browser's word for it
};

// The state of the store at start.
struct Boot {
  std::string store = "own";  // "own" or "demo"
  std::string device;         // this install's id; new when nothing was stored
  std::string public_key;     // of this install (logbook/device_key.h); empty: the browser can make none
  std::optional<Witness> witness;
  bool writer = true;                                // false: another tab holds the pen, this one reads along
  SaveOutcome store_state = SaveOutcome::saved;      // anything else: the store could not be opened
  std::map<std::string, std::string> settings;       // see Platform::remember
  std::map<std::string, std::string> brought_depot;  // settings of an office's folder that a link brought
  bool depot_saved = false;  // the page came again for settings that were just saved (restart_for_depot)
  std::string app_version;
  std::vector<std::string> languages;  // that the page has tables of, by their codes in BCP 47
  int utc_offset_min = 0;              // the phone's own time zone: the proposal for a new farm
  bool can_lock = false;               // the page is secure: derive_pin() has an answer
};

class Platform {
 public:
  virtual ~Platform() = default;

  virtual Instant now() const = 0;
  // Time that only goes on, from any beginning: how long something takes.
  virtual double steady_ms() const = 0;
  virtual void save(const SaveRequest& request) = 0;
  // Hands a text file to the person: the share sheet where there is one, else a download. App::on_shared when it
  // went its way, nothing when the person changed their mind.
  virtual void share_file(std::string_view name, std::string_view text) = 0;
  // Shows a cycle's record (core/report), a whole HTML document, where the person can print it or keep it as a
  // file of that name.
  virtual void show_report(std::string_view name, std::string_view html) = 0;
  // The page with the licences of what the app is made of.
  virtual void show_licences() = 0;
  // Lets the person choose a file; its text comes through App::on_file.
  virtual void pick_file() = 0;
  // One step of a sync (logbook/depot_run.h), "list", "get" or "put", with the settings "depot.*" of this
  // device: answered by App::on_carried. One at a time.
  virtual void carry(int ticket, std::string_view act, std::string_view name, std::string_view bytes) = 0;
  virtual void stop_carrying() = 0;  // the step under way answers "cancelled"
  // The page may ask one origin beside its own: that of the folder which the settings "depot.*" named when it
  // began. True when they name another now: then the page starts again, once what is being saved is saved.
  virtual bool restart_for_depot() = 0;
  // The page starts again and, from then on, holds every stored line against its hash before anything is shown.
  virtual void start_with_hashes() = 0;
  // The code that a camera reads, of a link that brings these settings (JSON, flat texts) to another device: a
  // row of 0 and 1 for each line. Empty when there is too much for one.
  virtual std::string code_rows(std::string_view settings) = 0;
  // Signs the text with this install's key: answered by App::on_signed, with nothing where that failed.
  virtual void sign(int ticket, std::string_view text) = 0;
  // Answered by App::on_checked, '1' (good) or '0' for each; with nothing where the browser cannot check.
  virtual void check_signatures(int ticket, const std::vector<SignatureCheck>& checks) = 0;
  // The screen model changed: JSON for the DOM mirror.
  virtual void mirror(std::string_view json) = 0;
  // Said by a screen reader; urgent interrupts.
  virtual void announce(std::string_view text, bool urgent) = 0;
  virtual void vibrate(int milliseconds) = 0;
  virtual std::string random_hex(int digits) = 0;
  // The table of this language: App::speak, with an empty table when it cannot be had.
  virtual void fetch_words(std::string_view language) = 0;
  // Small settings of this device (theme, text size), kept outside the logbook.
  virtual void remember(std::string_view key, std::string_view value) = 0;
  // Starts again on another store ("own", "demo"); `fresh` empties it first, which only the demo allows.
  virtual void switch_store(std::string_view store, bool fresh) = 0;
  // After a store was lost: goes on under a new device id, what is left stays readable.
  virtual void take_new_device_id() = 0;
  // Another tab does the writing; this one asks for it: App::on_pen.
  virtual void ask_for_pen() = 0;
  // The waiting version of the app takes over and the page starts again.
  virtual void accept_update() = 0;
  // Position of this device, once, if the person allows: App::on_position.
  virtual void ask_position() = 0;
  // PBKDF2-HMAC-SHA-256 of the PIN, 32 bytes, with that salt (hex): AppLock::on_derived, in hex; empty when the
  // browser cannot.
  virtual void derive_pin(int ticket, std::string_view pin, std::string_view salt, int iterations) = 0;
  // What the page itself shows of the farm (a text being typed) is put away while the app is locked.
  virtual void show_locked(bool locked) = 0;
  // Deletes everything that this browser keeps of Tawny, and starts as new.
  virtual void wipe() = 0;
};

}  // namespace tawny::ui
