#include "ui/app.h"

#include <algorithm>
#include <utility>

#include "assets.h"
#include "farm/demo.h"
#include "logbook/kinds.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr std::int64_t kAssessedAnewAfterS = 60;
constexpr std::int64_t kUndoForS = 30;
constexpr std::int64_t kSunLineStepS = 600;  // the mark of the sun line moves a pixel or two in that time
// Room for some 40,000 entries, and for compacting them. Common practice, no source.
constexpr double kReserveBytes = 20e6;
// The one field that the lock itself asks to be typed in: the farm's name, before a device is wiped.
constexpr std::string_view kTypedWhileLocked = "wipe/name";
constexpr double kHashesMs = 4;  // of a frame
constexpr std::size_t kHashedAtOnceBytes = 64 * 1024;
constexpr std::size_t kReadPerFrame = 256 * 1024;  // bytes of a file; about 20 ms of a cheap phone

constexpr std::pair<Tab, std::string_view> kTabs[] = {{Tab::rounds, "rounds"},
                                                      {Tab::ponds, "ponds"},
                                                      {Tab::dose, "bin"},
                                                      {Tab::logbook, "logbook"},
                                                      {Tab::office, "office"}};

}  // namespace

App::App(Platform& platform) : platform_(platform), theme_(day_theme()) {
  if (Result<Protocol> protocol = Protocol::parse(assets::find("protocol.json"))) {
    protocol_ = *std::move(protocol);
  } else {
    asset_problem_ = protocol.error();
  }
  if (Result<std::vector<Product>> products = parse_products(assets::find("products.json"))) {
    products_ = *std::move(products);
  } else {
    asset_problem_ = products.error();
  }
  if (std::optional<Problem> problem = outlooks_.read_priors(assets::find("outlook.json"))) {
    asset_problem_ = std::move(problem);
  }
}

App::~App() = default;

void App::start(const Boot& boot) {
  boot_ = boot;
  now_ = platform_.now();
  forget_logbook();
}

// The farm points into the logbook, so both start again together.
void App::forget_logbook() {
  farm_ = Farm();
  walks_.clear();
  judged_.reset();
  logbook_ = Logbook();
  load_report_ = LoadReport();
  later_hashes_ = LaterHashes();
}

void App::speak(std::string_view language, std::string_view table) {
  coming_language_.clear();
  if (table.empty()) {
    language_not_here_ = true;
    return;
  }
  Result<Words> words = Words::parse(table);
  if (!words) {
    asset_problem_ = words.error();
    return;
  }
  language_not_here_ = false;
  words_ = *std::move(words);
  if (!language_.empty() && language_ != language) set_setting("language", language);
  language_ = language;
}

void App::choose_language(std::string_view language) {
  if (language == language_ || !coming_language_.empty()) return;
  coming_language_ = language;
  language_not_here_ = false;
  platform_.fetch_words(language);
}

void App::load_lines(std::string_view lines, Hashes hashes) {
  add_report(load_report_, logbook_.load(lines, {}, hashes));
  if (hashes == Hashes::later) later_hashes_.begin();
}

void App::check_hashes() {
  if (!is_ready_ || !later_hashes_.is_under_way()) return;
  const double began_ms = platform_.steady_ms();
  do {
    if (!later_hashes_.go_on(logbook_, kHashedAtOnceBytes)) platform_.start_with_hashes();
  } while (later_hashes_.is_under_way() && platform_.steady_ms() - began_ms < kHashesMs);
}

void App::ready() {
  now_ = platform_.now();
  alarm_.reset();
  // A store that did not open shows nothing of what it holds.
  if (boot_.witness && boot_.store_state == SaveOutcome::saved) {
    alarm_ = compare_with_witness(logbook_, *boot_.witness);
  }
  judge();
  waits_for_verdicts_ = !is_ready_ && check_ticket_ != 0;
  // What is not believed yet would be folded twice.
  if (waits_for_verdicts_) return;
  fold_believed();
  if (!is_ready_) begin();
}

void App::begin() {
  waits_for_verdicts_ = false;
  is_ready_ = true;
  lock_.start();
  if (demo() && logbook_.size() == 0 && can_write()) {
    seed_demo();
  } else {
    show_first_screen();
  }
  start_sync(true);
}

void App::on_other_tab_wrote() {
  forget_logbook();
  rounds_.reset();
  outlooks_.forget();
  ++folds_;
}

void App::fold() {
  judge();
  // Nothing has been judged where a start still waits.
  if (is_ready_ || check_ticket_ == 0) fold_believed();
}

// A clock that was set back makes them due too.
bool App::assessments_are_due() const {
  const std::int64_t age_s = now_.unix_s - assessed_at_.unix_s;
  return age_s < 0 || age_s >= kAssessedAnewAfterS;
}

void App::fold_believed() {
  // What time alone brings is looked at once a minute; what was told, at once.
  const Assessing assessing = assessments_are_due() ? Assessing::all : Assessing::told;
  farm_ = fold_farm(logbook_, protocol_, now_, std::move(farm_), assessing);
  if (assessing == Assessing::all) assessed_at_ = now_;
  rounds_.reset();
  if (farm_.set_up) {
    if (Result<Rounds> today = tawny::rounds(farm_, protocol_, now_)) rounds_ = *std::move(today);
  }
  const auto holder = farm_.people.find(boot_.device);
  person_ = holder == farm_.people.end() ? std::string() : holder->second.first;
  role_ = holder == farm_.people.end() ? Role::manager : role_of(holder->second.second).value_or(Role::manager);
  receipts_ = receipts_of(logbook_);
  offices_.clear();
  for (const std::string& device : logbook_.devices()) {
    if (is_office(logbook_, device) && (!trust_.enforced || trust_.is_office(device))) offices_.insert(device);
  }
  folded_lines_ = logbook_.size();
  ++folds_;
}

std::map<std::string, Stage> App::stages() const {
  std::map<std::string, Stage> stages;
  for (const FarmPond& pond : farm_.ponds) {
    if (pond.state.in_cycle && !pond.state.finished) stages[pond.history.pond.id] = pond.state.stage;
  }
  return stages;
}

void App::seed_demo() {
  Result<std::vector<Draft>> drafts = demo_drafts(assets::find("demo-farm.json"), protocol_, now_);
  if (!drafts) {
    asset_problem_ = drafts.error();
    return;
  }
  put(*std::move(drafts), [this] {
    clear_news();
    show_first_screen();
  });
}

void App::show_first_screen() {
  stack_.clear();
  if (!boot_.brought_depot.empty() && boot_.writer) {
    stack_.push_back(make_depot_setup_screen(std::exchange(boot_.brought_depot, {})));
    return;
  }
  if (!farm_.set_up) {
    stack_.push_back(make_welcome_screen());
    return;
  }
  if (person_.empty() && !demo() && can_write()) {
    stack_.push_back(make_person_setup_screen());
    return;
  }
  // A dose walk that this device was in the middle of goes on where it stopped.
  for (const FarmPond& pond : farm_.ponds) {
    if (pond.state.open_walk && pond.state.open_walk->start->id.device == boot_.device) {
      open_tab(Tab::dose);
      open(make_dose_walk_screen(pond.history.pond.id));
      return;
    }
  }
  // How the sync goes, for which the page came again, stands at the office.
  open_tab(std::exchange(boot_.depot_saved, false) ? Tab::office : Tab::rounds);
}

// --- news from the platform
// --------------------------------------------------------------------------------------

void App::on_file(std::string_view name, std::string_view text) {
  incoming_.emplace(name, text, logbook_);
  // A file that was dropped or shared comes whatever screen is open; it is asked about at the office.
  if (farm_.set_up && !holds_unsaved() && !(at_root() && tab_ == Tab::office)) open_tab(Tab::office);
}
void App::on_position(double latitude_deg, double longitude_deg) {
  position_ = std::make_pair(latitude_deg, longitude_deg);
}
void App::on_text(std::string_view field, std::string_view text) {
  if (lock_.locked() && field != kTypedWhileLocked) {
    lock_.hold(field, text);
  } else {
    ui_.accept_text(field, text);
  }
}
void App::on_seen(bool seen) {
  now_ = platform_.now();
  lock_.on_seen(seen);
}
void App::took_out(std::string_view name) {
  out_name_ = name;
  out_entries_ = logbook_.size();
}
void App::on_shared(std::string_view name) {
  if (!demo() && !out_name_.empty() && name == out_name_) {
    set_setting("out.entries", std::to_string(out_entries_));
  }
}
void App::announce(std::string_view text, bool urgent) {
  if (!lock_.locked()) platform_.announce(text, urgent);
}
void App::on_activate(std::string_view node) { ui_.activate(node); }
void App::on_reveal(std::string_view node) { ui_.reveal(node); }
void App::on_offline_ready(bool ready) { offline_ready_ = ready; }
void App::on_update_waiting() { update_waiting_ = true; }
void App::on_storage(std::string_view persisted, double used_bytes, double quota_bytes) {
  persisted_ = persisted;
  used_bytes_ = used_bytes;
  quota_bytes_ = quota_bytes;
}

bool App::little_room() const { return quota_bytes_ > 0 && quota_bytes_ - used_bytes_ < kReserveBytes; }

void App::ask_for_pen() {
  pen_news_ = PenNews::asking;
  platform_.ask_for_pen();
}

void App::on_pen(std::string_view news) {
  pen_news_ = PenNews::none;
  if (news == "writing" || news == "reading") {
    boot_.writer = news == "writing";
    // What comes down has to be stored, which is the other tab's from now on.
    if (!boot_.writer) stop_sync();
  } else if (news == "not_now") {
    pen_news_ = PenNews::not_now;
    announce(words_("pen.not_now"), true);
  } else if (news == "no_answer") {
    pen_news_ = PenNews::no_answer;
    announce(words_("pen.no_answer"), true);
  } else if (news == "asked") {
    pen_news_ = PenNews::asked;
  }
}

// --- screens
// -----------------------------------------------------------------------------------------------------

const Product* App::product(std::string_view id) const {
  const auto found = std::find_if(products_.begin(), products_.end(),
                                  [&](const Product& product) { return product.id == id; });
  return found == products_.end() ? nullptr : &*found;
}

std::unique_ptr<Screen> App::root_of(Tab tab) {
  switch (tab) {
    case Tab::rounds:
      return make_rounds_screen();
    case Tab::ponds:
      return make_ponds_screen();
    case Tab::dose:
      return make_dose_screen();
    case Tab::logbook:
      return make_logbook_screen();
    case Tab::office:
      return make_office_screen();
  }
  return make_rounds_screen();
}

void App::open(std::unique_ptr<Screen> screen) {
  clear_finished_news();
  stack_.push_back(std::move(screen));
}

void App::replace(std::unique_ptr<Screen> screen) {
  if (!stack_.empty()) {
    closed_.push_back(std::move(stack_.back()));
    stack_.pop_back();
  }
  open(std::move(screen));
}

void App::back() {
  if (stack_.size() <= 1) return;
  closed_.push_back(std::move(stack_.back()));
  stack_.pop_back();
  clear_finished_news();
}

void App::open_tab(Tab tab) {
  for (auto& screen : stack_) closed_.push_back(std::move(screen));
  stack_.clear();
  tab_ = tab;
  if (pen_news_ == PenNews::asked) pen_news_ = PenNews::none;
  clear_finished_news();
  stack_.push_back(root_of(tab));
}

void App::clear_finished_news() {
  if (!under_way_) clear_news();
}

bool App::holds_unsaved() const {
  return under_way_.has_value() ||
         std::any_of(stack_.begin(), stack_.end(), [](const auto& screen) { return screen->holds_unsaved(); });
}

void App::frame_bars(Ui& ui, std::string_view title) {
  const std::string badge = demo() ? words_("demo.badge") : std::string();
  if (ui.top_bar(title, !at_root(), badge)) {
    back();
    return;
  }
  if (!at_root() && !ui.wide()) return;
  if (!farm_.set_up) return;
  std::vector<Option> tabs;
  std::string selected;
  for (const auto& [tab, icon] : kTabs) {
    Option option;
    option.id = "tab/" + std::string(icon);
    option.label = words_("tab." + std::string(icon));
    option.icon = icon;
    if (tab == tab_) selected = option.id;
    tabs.push_back(std::move(option));
  }
  if (const std::optional<std::string> pressed = ui.tab_bar(tabs, selected)) {
    for (const auto& [tab, icon] : kTabs) {
      if (*pressed == "tab/" + std::string(icon)) open_tab(tab);
    }
  }
  if (at_root()) draw_undo(ui);
}

void App::draw_undo(Ui& ui) {
  if (!undoable_ || under_way_ || now_.unix_s - undoable_->saved_at.unix_s >= kUndoForS) return;
  const std::string text = words_(Message("save.saved").with("time", undoable_->saved_at));
  if (!ui.news_bar("undo", text, words_("entry.take_back"))) return;
  const EntryId id = undoable_->id;
  undoable_.reset();
  put({take_back(id, words_("entry.take_back.reason"))});
}

std::string App::setting(std::string_view key, std::string_view otherwise) const {
  const auto found = boot_.settings.find(std::string(key));
  return found == boot_.settings.end() ? std::string(otherwise) : found->second;
}

void App::set_setting(std::string_view key, std::string_view value) {
  boot_.settings[std::string(key)] = value;
  platform_.remember(key, value);
}

void App::choose_theme() {
  const std::string wish = setting("theme", "auto");
  bool dark = wish == "night";
  if (wish == "auto" && rounds_) dark = now_ < rounds_->today.sun.sunrise || now_ > rounds_->today.sun.sunset;
  theme_ = dark ? night_theme() : day_theme();
}

void App::draw_broken_assets() {
  ui_.top_bar("Tawny", false);
  ui_.begin_content("broken");
  ui_.notice("broken", Tone::alarm, words_(asset_problem_->message));
  ui_.end_content();
}

void App::frame(float width, float height, const Insets& insets, const Ui::Fonts& fonts) {
  closed_.clear();
  now_ = platform_.now();
  // A page that moves would stand still meanwhile.
  if (is_ready_ && !ui_.is_on_the_move() && assessments_are_due()) fold();
  if (incoming_) incoming_->step(kReadPerFrame);
  words_.set_clock(farm_.place.offset, now_);
  choose_theme();
  ui_.begin_frame(width, height, insets, fonts, theme_, words_);
  if (asset_problem_) {
    draw_broken_assets();
  } else if (lock_.locked()) {
    if (!lock_screen_) lock_screen_ = make_lock_screen();
    lock_screen_->draw(*this, ui_);
  } else if (!stack_.empty()) {
    lock_screen_.reset();
    // A screen may open or close others while it draws; the one that began the frame finishes it.
    stack_.back()->draw(*this, ui_);
  }
  ui_.end_frame();
  outlooks_.work(*this, platform_);
  check_hashes();
  // While a finger drags the page or it glides, nobody can read it or point at its parts; when it stands, at once.
  if (ui_.is_on_the_move()) return;
  const std::string json =
      ui_.model().to_json(farm_.set_up && !lock_.locked() ? farm_.name : std::string("Tawny"));
  if (json != last_mirror_) {
    last_mirror_ = json;
    platform_.mirror(json);
  }
}

int App::frames_wanted() const {
  const bool reading = incoming_ && !incoming_->is_read();
  return std::max(ui_.frames_wanted(),
                  reading || outlooks_.is_working() || later_hashes_.is_under_way() ? 1 : 0);
}

std::optional<Instant> App::wake_at() const {
  if (lock_.locked() && lock_.next_try_at()) return lock_.next_try_at();
  if (!rounds_) return std::nullopt;
  Instant next = now_.plus_s(kSunLineStepS);
  if (undoable_) {
    const Instant gone = undoable_->saved_at.plus_s(kUndoForS);
    if (gone > now_ && gone < next) next = gone;
  }
  for (const DueItem& item : rounds_->items) {
    for (const Instant edge : {item.from, item.until}) {
      if (edge > now_ && edge < next) next = edge;
    }
  }
  return next.plus_s(1);
}

bool App::night() const { return theme_.night; }

float App::text_scale() const {
  const std::string wish = setting("text_size", "100");
  return wish == "200" ? 2.0f : wish == "150" ? 1.5f : 1.0f;
}

}  // namespace tawny::ui
