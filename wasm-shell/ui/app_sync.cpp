// The way to the office's folder and back: one sync is a DepotRun, whose steps the page carries out. What comes
// down is made durable before it counts, a segment at a time; nothing of it stops a person who is entering.
#include <utility>

#include "logbook/kinds.h"
#include "logbook/line_reader.h"
#include "logbook/receipts.h"
#include "ui/app.h"

namespace tawny::ui {
namespace {

// Names of segments that need not be read again. They are a convenience, and share their room with the witness.
constexpr std::size_t kMostKnownBytes = 256 * 1024;
// Nothing new is asked for so soon after the last time, unless somebody presses.
constexpr std::int64_t kQuietS = 60;

constexpr CarryFault kFaults[] = {CarryFault::offline,     CarryFault::wrong_password, CarryFault::no_right,
                                  CarryFault::not_there,   CarryFault::full,           CarryFault::server,
                                  CarryFault::certificate, CarryFault::clock,          CarryFault::malformed,
                                  CarryFault::barred,      CarryFault::cancelled};

CarryFault fault_of(std::string_view word) {
  for (const CarryFault fault : kFaults) {
    if (name_of(fault) == word) return fault;
  }
  return CarryFault::malformed;
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    if (const std::string_view line = text.substr(0, end); !line.empty()) lines.emplace_back(line);
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
  }
  return lines;
}

}  // namespace

bool App::has_depot() const { return !demo() && !setting("depot.kind").empty(); }

std::string App::depot() const {
  std::string depot;
  for (const char* key : {"kind", "address", "bucket", "prefix"})
    depot += setting("depot." + std::string(key)) + "\n";
  return depot;
}

bool App::this_is_office() const { return offices_.count(boot_.device) > 0; }

void App::start_sync(bool by_itself) {
  // Under the alarm too: it is a way back from a lost store.
  if (run_ && !by_itself) {
    // The settings are others now: what is under way ends, and the next one begins with them.
    sync_again_ = true;
    stop_sync();
    return;
  }
  if (run_ || !has_depot() || !boot_.writer || boot_.store_state != SaveOutcome::saved) return;
  if (by_itself && sync_news_.state != SyncNews::State::none && now_.unix_s - sync_news_.at.unix_s < kQuietS) {
    return;
  }
  DepotRun::Options options;
  options.writer = setting("depot.writer");
  options.device = boot_.device;
  for (std::string& name : lines_of(setting("depot.known"))) options.known.insert(std::move(name));
  run_.emplace(std::move(options));
  run_depot_ = depot();
  sync_news_ = SyncNews{};
  sync_news_.state = SyncNews::State::running;
  sync_news_.by_itself = by_itself;
  sync_news_.at = now_;
  step_sync();
}

void App::stop_sync() {
  if (!run_) return;
  if (carry_ticket_ != 0) {
    platform_.stop_carrying();
  } else {
    // The store is at work: what it is keeping still counts, and nothing more is asked for.
    stop_asked_ = true;
  }
}

// True when a receipt or a signature is on its way to the store: its answer goes on with the sync.
bool App::write_receipt() {
  if (std::exchange(receipt_asked_, true)) return false;
  // Between two acts of a person there is always a moment; where there is none now, the next sync writes it.
  if (!can_write() || under_way_) return false;
  std::vector<Draft> drafts;
  if (std::optional<Values> read = this_is_office() ? receipt_due(logbook_, boot_.device) : std::nullopt) {
    Draft receipt;
    receipt.kind = kind::kOfficeReceipt;
    receipt.values = *std::move(read);
    drafts.push_back(std::move(receipt));
  }
  const bool unsigned_tail = signs() && !chain_is_signed(logbook_, boot_.device);
  if (drafts.empty() && !unsigned_tail) return false;
  put_quietly(std::move(drafts), [this] {
    if (run_) step_sync();
  });
  return true;
}

void App::step_sync() {
  if (std::exchange(stop_asked_, false)) run_->stop(CarryFault::cancelled, "");
  std::optional<DepotStep> step = run_->next(logbook_);
  if (!step && run_->ready_to_put()) {
    if (write_receipt()) return;
    run_->go_on();
    step = run_->next(logbook_);
  }
  sync_news_.tally = run_->tally();
  if (!step) {
    end_sync();
    return;
  }
  carry_ticket_ = next_ticket_++;
  step_act_ = step->act;
  const std::string_view act = step->act == DepotStep::Act::list  ? "list"
                               : step->act == DepotStep::Act::get ? "get"
                                                                  : "put";
  platform_.carry(carry_ticket_, act, step->name, step->bytes);
}

void App::on_carried(int ticket, std::string_view fault, std::string_view detail, std::string_view payload) {
  if (!run_ || ticket != carry_ticket_) return;
  carry_ticket_ = 0;
  now_ = platform_.now();
  if (!fault.empty()) {
    run_->failed(fault_of(fault), std::string(detail));
  } else if (step_act_ == DepotStep::Act::list) {
    run_->listed(lines_of(payload));
  } else if (step_act_ == DepotStep::Act::put) {
    run_->put_done();
  } else {
    pull(run_->got(payload, logbook_));
    return;
  }
  step_sync();
}

// What came down enters the logbook only when the store has it.
void App::pull(tawny::Incoming incoming) {
  pulled_ = std::move(incoming.entries);
  sync_news_.claimed += drop_claimed(pulled_);
  for (std::string& line : incoming.unread) {
    // The store keeps lines; what they say, a newer app will know.
    Entry unread;
    if (const Result<LineHead> head = read_line_head(line)) unread.id = head->id;
    unread.line = std::move(line);
    pulled_.push_back(std::move(unread));
  }
  if (pulled_.empty()) {
    step_sync();
    return;
  }
  pull_ticket_ = next_ticket_++;
  SaveRequest request;
  request.ticket = pull_ticket_;
  for (const Entry& entry : pulled_) request.entries.push_back(&entry);
  platform_.save(request);
}

void App::on_pulled(SaveOutcome outcome, std::string_view detail) {
  pull_ticket_ = 0;
  std::vector<Entry> entries = std::exchange(pulled_, {});
  if (outcome != SaveOutcome::saved) {
    sync_news_.store = outcome;
    run_->stop(outcome == SaveOutcome::full ? CarryFault::full : CarryFault::cancelled, std::string(detail));
    step_sync();
    return;
  }
  // The farm points into the logbook, so it is folded anew before anything is drawn.
  for (const Entry& entry : entries) logbook_.add_line(entry.line);
  if (boot_.witness && alarm_) alarm_ = compare_with_witness(logbook_, *boot_.witness);
  const bool was_set_up = farm_.set_up;
  fold();
  if (!was_set_up && farm_.set_up) joined_ = true;
  step_sync();
}

void App::end_sync() {
  const std::optional<DepotRun::Fault>& ended_by = run_->ended_by();
  const bool failed = ended_by.has_value();
  sync_news_.state = failed ? SyncNews::State::failed : SyncNews::State::done;
  if (ended_by) sync_news_.fault = *ended_by;
  sync_news_.at = now_;
  std::string known;
  for (const std::string& name : run_->known()) known += name + "\n";
  // What was found in one folder says nothing of another.
  if (run_depot_ == depot()) {
    if (known.size() <= kMostKnownBytes) set_setting("depot.known", known);
    if (!failed) set_setting("depot.last", to_iso(now_));
    const DepotRun::Tally& tally = run_->tally();
    if (!failed && tally.faults.empty() && tally.put == tally.to_put) {
      set_setting("synced.entries", std::to_string(logbook_.size()));
      set_setting("synced.depot", depot());
    }
  }
  run_.reset();
  receipt_asked_ = false;
  if (!sync_news_.by_itself) {
    announce(words_(failed ? "sync.failed.announce" : "sync.done.announce"), false);
  }
  if (joined_) {
    joined_ = false;
    show_first_screen();
  }
  if (std::exchange(sync_again_, false)) start_sync(false);
}

void App::on_online() { start_sync(true); }

}  // namespace tawny::ui
