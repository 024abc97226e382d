// The app: holds the logbook and what follows from it, the stack of screens, and the way of an entry to the
// store.
//
// An entry takes this way: a screen makes a Draft; put() seals it and hands it to the platform; only when the
// store has answered "saved" does it enter the logbook, is the farm folded anew, and is "Saved" shown. Until
// then it stays on its screen, and a failure is said there with a way on. One act is under way at a time.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "dose/product.h"
#include "farm/farm.h"
#include "farm/rounds.h"
#include "logbook/depot_run.h"
#include "logbook/later_hashes.h"
#include "logbook/logbook.h"
#include "logbook/receipts.h"
#include "logbook/trust.h"
#include "ui/app_lock.h"
#include "ui/incoming.h"
#include "ui/outlook_desk.h"
#include "ui/platform.h"
#include "ui/screens/reckon_typed.h"
#include "ui/widgets.h"

namespace tawny::ui {

class App;

// One screen on the stack. It keeps what the person has typed so far; everything else it reads from the App.
class Screen {
 public:
  virtual ~Screen() = default;
  virtual void draw(App& app, Ui& ui) = 0;
  // The person is in the middle of something that a restart would lose.
  virtual bool holds_unsaved() const { return false; }
};

enum class Tab { rounds, ponds, dose, logbook, office };

// What became of the last act.
struct SaveNews {
  enum class State { none, saving, saved, failed } state = State::none;
  Instant at;                // of the saving
  std::vector<EntryId> ids;  // what was saved
  SaveOutcome outcome = SaveOutcome::saved;
  std::string detail;
  std::optional<Problem> problem;  // the entry could not even be written down
  std::vector<Message> gates;      // of each pond that stands at another stage since
  bool seen = false;               // the screen has shown its failure
};

// Records of the store that were found damaged and set aside.
struct StoreDamage {
  int records = 0;
  int held = 0;     // entries that stood in them
  int missing = 0;  // of those, not readable and not brought in since
};

// Asking for the pen, in the tab that reads along; `asked`: in the tab that writes, which could not give it.
enum class PenNews { none, asking, not_now, no_answer, asked };

// What became of the last sync with the office's folder.
struct SyncNews {
  enum class State { none, running, done, failed } state = State::none;
  bool by_itself = false;  // nobody pressed
  Instant at;              // of the beginning while it runs, then of the end
  DepotRun::Tally tally;
  std::optional<DepotRun::Fault> fault;    // what ended it
  SaveOutcome store = SaveOutcome::saved;  // anything else: what came down could not be kept here
  std::size_t claimed = 0;  // entries that claim to be this device's, which it did not write: not taken
};

class App {
 public:
  // The assets were checked when the app was built; a broken one is a Problem shown on the first screen.
  explicit App(Platform& platform);
  ~App();

  // --- from the platform -------------------------------------------------------------------------------------
  // A language table, before start() and whenever the person chose another; an empty one could not be had, and
  // the present one stays.
  void speak(std::string_view language, std::string_view table);
  void start(const Boot& boot);
  // Any number of times before ready(). With Hashes::later the lines are held against their hashes once the first screen
  // is there; where one does not fit, the page starts again and does that first.
  void load_lines(std::string_view lines, Hashes hashes = Hashes::now);
  void ready();
  void frame(float width, float height, const Insets& insets, const Ui::Fonts& fonts);
  void on_saved(int ticket, SaveOutcome outcome, std::string_view detail);
  void on_file(std::string_view name, std::string_view text);
  // The answer to Platform::carry: `fault` is empty when the step was done; of a list, `payload` has a name a
  // line.
  void on_carried(int ticket, std::string_view fault, std::string_view detail, std::string_view payload);
  void on_online();
  // The answers to Platform::sign and Platform::check_signatures.
  void on_signed(int ticket, std::string_view signature);
  void on_checked(int ticket, std::string_view verdicts);
  void on_position(double latitude_deg, double longitude_deg);
  void on_text(std::string_view field, std::string_view text);
  void on_activate(std::string_view node);
  void on_reveal(std::string_view node);
  void on_offline_ready(bool ready);
  void on_update_waiting();
  void on_storage(std::string_view persisted, double used_bytes, double quota_bytes);  // "yes" "no" "unknown"
  void on_store_damage(const StoreDamage& damage) { damage_ = damage; }
  void on_pen(std::string_view news);     // "writing" "reading" "not_now" "no_answer" "asked"
  void on_seen(bool seen);                // the page came to the screen, or went into the background
  void on_shared(std::string_view name);  // of share_file: the file went its way
  void on_other_tab_wrote();  // the store grew: the platform gives all lines again through load_lines, ready
  int frames_wanted() const;
  // When a frame is next worth drawing without any event; nothing: never.
  std::optional<Instant> wake_at() const;
  bool night() const;
  // What the person chose, 1 to 2: the fonts of the next frame are to be baked for it.
  float text_scale() const;

  // --- for screens -------------------------------------------------------------------------------------------
  Platform& platform() { return platform_; }
  Instant now() const { return now_; }
  const Logbook& logbook() const { return logbook_; }
  const Farm& farm() const { return farm_; }
  // Goes up whenever farm() and rounds() were made anew: what points into them, or was reckoned from them, is
  // good for as long as this stays.
  int folds() const { return folds_; }
  const std::optional<Rounds>& rounds() const { return rounds_; }
  const Protocol& protocol() const { return protocol_; }
  const std::vector<Product>& products() const { return products_; }
  const Product* product(std::string_view id) const;
  const Boot& boot() const { return boot_; }
  const std::string& person() const { return person_; }
  Role role() const { return role_; }
  bool demo() const { return boot_.store == "demo"; }
  bool can_write() const;
  const std::optional<Problem>& alarm() const { return alarm_; }  // store came back emptier than the witness
  const LoadReport& load_report() const { return load_report_; }
  bool offline_ready() const { return offline_ready_; }
  bool update_waiting() const { return update_waiting_; }
  const std::string& persisted() const { return persisted_; }
  double used_bytes() const { return used_bytes_; }
  double quota_bytes() const { return quota_bytes_; }
  bool little_room() const;
  const StoreDamage& damage() const { return damage_; }
  PenNews pen_news() const { return pen_news_; }
  void ask_for_pen();

  // Puts drafts on record in one transaction (one draft for everyday entries; several for set-up, and for one
  // decision about several ponds or readings). `who`
  // is filled in when empty. Does nothing while another act is under way. `then` runs once when saved; the
  // screen that asked may be gone by then, so it must not point into one.
  void put(std::vector<Draft> drafts, std::function<void()> then = {});
  // After a failure: the same act again, or none of it.
  void retry();
  void give_up();
  const SaveNews& news() const { return news_; }
  void clear_news() { news_ = SaveNews{}; }
  void see_news() { news_.seen = true; }
  // A draft that takes back `id`.
  Draft take_back(const EntryId& id, std::string_view reason) const;
  // A file that was picked or dropped: read over some frames, then brought in or dropped; null when there is
  // none. Lines of another farm are refused.
  const Incoming* incoming() const { return incoming_ ? &*incoming_ : nullptr; }
  void bring_in(std::function<void()> then);
  void drop_incoming() { incoming_.reset(); }
  // --- the office's folder
  bool has_depot() const;
  bool this_is_office() const;  // this device keeps the office's copy, and writes receipts
  const std::set<std::string>& offices() const { return offices_; }  // devices
  const Receipts& receipts() const { return receipts_; }
  // Does nothing on the demo, or where nothing could be kept; one that is under way is stopped first. By
  // itself: only when none is under way and the last one is a while ago, and without a word.
  void start_sync(bool by_itself);
  void stop_sync();
  std::string depot() const;  // which folder the settings name; its accounts left out
  const SyncNews& sync_news() const { return sync_news_; }

  // --- whom the farm believes
  const Trust& trust() const { return trust_; }
  bool has_key() const;
  // It signs what it writes: it has a key, and so has its farm, or will.
  bool signs() const;
  // The store of this device was lost, and its key with it: it goes on under another id.
  bool key_lost() const;
  // Decisions made here count: this is an office device, or the farm has no keys.
  bool may_decide() const;
  // The word that says why the person here cannot decide for the farm: no manager, or no office device. Null: can.
  const char* why_no_decision() const;
  // This browser cannot check signatures, so what others signed is not believed.
  bool checks_refused() const { return checks_refused_; }
  std::optional<LeftOutFor> left_out(const EntryId& id) const;
  // The office's words on a device, to be put. Of one that is revoked, what the logbook here holds from before
  // `from` goes on counting.
  Draft admission(std::string_view device, bool office) const;
  Draft revocation(std::string_view device, Instant from, std::string_view reason) const;
  // Does it once this device's chain is signed to its end, so that what is handed on can be believed; at once
  // where it cannot be signed.
  void with_signed_chain(std::function<void()> then);

  std::optional<std::pair<double, double>>& position() { return position_; }

  void open(std::unique_ptr<Screen> screen);
  void replace(std::unique_ptr<Screen> screen);
  void back();
  void open_tab(Tab tab);
  Tab tab() const { return tab_; }
  bool at_root() const { return stack_.size() <= 1; }
  // Some screen holds what a restart would lose.
  bool holds_unsaved() const;
  // After the set-up is complete: the first screen of everyday work.
  void show_first_screen();
  // Top bar with back arrow where there is something to go back to, tabs at the roots; draw first on each
  // screen.
  void frame_bars(Ui& ui, std::string_view title);

  const std::string& language() const { return language_; }
  // Answered by speak(); until then the language is coming.
  void choose_language(std::string_view language);
  const std::string& coming_language() const { return coming_language_; }
  bool language_not_here() const { return language_not_here_; }

  std::string setting(std::string_view key, std::string_view otherwise = {}) const;
  void set_setting(std::string_view key, std::string_view value);
  // What was given to the calculators, by their name and the pond they were opened at.
  std::map<std::string, ReckonTyped>& calculators() { return calculators_; }
  Ui& ui() { return ui_; }
  OutlookDesk& outlooks() { return outlooks_; }
  AppLock& lock() { return lock_; }
  // A bundle of the whole logbook was handed out under that name: what is in it is no longer here only.
  void took_out(std::string_view name);
  // Said by a screen reader, unless the app is locked.
  void announce(std::string_view text, bool urgent);

 private:
  void draw_undo(Ui& ui);
  void fold();
  void fold_believed();
  bool assessments_are_due() const;
  void check_hashes();
  std::map<std::string, Stage> stages() const;  // of the ponds in a cycle
  void refuse_act(const Problem& problem);
  void choose_theme();
  void draw_broken_assets();
  void clear_finished_news();
  std::unique_ptr<Screen> root_of(Tab tab);
  void seed_demo();

  Platform& platform_;
  Ui ui_;
  Words words_;
  Theme theme_;
  Protocol protocol_;
  std::vector<Product> products_;
  OutlookDesk outlooks_;
  std::optional<Problem> asset_problem_;

  std::string language_, coming_language_;
  bool language_not_here_ = false;
  Boot boot_;
  bool is_ready_ = false;
  Logbook logbook_;
  LoadReport load_report_;
  LaterHashes later_hashes_;
  std::optional<Problem> alarm_;
  Farm farm_;
  std::optional<Rounds> rounds_;
  Instant now_;
  Instant assessed_at_;  // when all ponds were
  int folds_ = 0;
  std::string person_;
  Role role_ = Role::manager;
  bool offline_ready_ = false;
  bool update_waiting_ = false;
  std::string persisted_ = "unknown";
  double used_bytes_ = 0, quota_bytes_ = 0;
  StoreDamage damage_;
  PenNews pen_news_ = PenNews::none;

  // What was handed to the store and has not been answered.
  struct UnderWay {
    int ticket = 0;
    std::vector<Entry> entries;
    std::function<void()> then;
    bool quiet = false;   // of the app's own accord: no news of it
    DeviceChain chain;    // behind the entries
    int sign_ticket = 0;  // waits for a signature over them
  };
  // What a person put on record while the app itself was writing; its turn comes next.
  struct Queued {
    std::vector<Draft> drafts;
    std::function<void()> then;
  };
  void hand_over();
  void put_quietly(std::vector<Draft> drafts, std::function<void()> then);
  void finish_quietly(const std::function<void()>& then);
  void sign_and_hand_over();
  void judge();
  void forget_logbook();
  void ask_for_verdicts();
  void begin();
  std::size_t drop_claimed(std::vector<Entry>& entries) const;
  void on_quietly_saved(SaveOutcome outcome);
  void step_sync();
  bool write_receipt();
  void pull(tawny::Incoming incoming);
  void on_pulled(SaveOutcome outcome, std::string_view detail);
  void end_sync();
  std::optional<UnderWay> under_way_;
  std::optional<Queued> queued_;
  int next_ticket_ = 1;
  SaveNews news_;
  // The last entry that can be taken back from whatever screen comes next, for a short while.
  struct Undoable {
    EntryId id;
    Instant saved_at;
  };
  std::optional<Undoable> undoable_;

  std::optional<DepotRun> run_;
  SyncNews sync_news_;
  int carry_ticket_ = 0, pull_ticket_ = 0;
  DepotStep::Act step_act_ = DepotStep::Act::list;
  std::vector<Entry> pulled_;  // handed to the store and not yet answered
  Receipts receipts_;
  std::set<std::string> offices_;
  Trust trust_;
  Verdicts verdicts_;
  // Trust is reckoned anew when there is more of these.
  struct Judged {
    std::size_t lines = 0, verdicts = 0;
    bool operator==(const Judged&) const = default;
  };
  std::optional<Judged> judged_;
  KeptWalks walks_;
  std::size_t folded_lines_ = 0;  // of the logbook, when the farm was folded
  int check_ticket_ = 0;
  std::vector<std::string> checked_;  // what was asked with that ticket
  bool checks_refused_ = false;
  std::vector<std::function<void()>> after_verdicts_;
  bool waits_for_verdicts_ = false;  // nothing is shown before it is known whom to believe
  std::string run_depot_;            // of the sync under way
  bool sync_again_ = false, stop_asked_ = false;
  bool receipt_asked_ = false;
  bool joined_ = false;  // this sync brought the farm to a new phone

  std::vector<std::unique_ptr<Screen>> stack_;
  std::vector<std::unique_ptr<Screen>> closed_;  // kept until the frame is over: a screen may close itself
  Tab tab_ = Tab::rounds;
  std::optional<Incoming> incoming_;
  std::optional<std::pair<double, double>> position_;
  std::map<std::string, ReckonTyped> calculators_;
  std::string last_mirror_;
  std::string out_name_;  // of the bundle handed out last, and how many entries it holds
  std::size_t out_entries_ = 0;
  AppLock lock_{*this};
  std::unique_ptr<Screen> lock_screen_;  // while locked
};

}  // namespace tawny::ui
