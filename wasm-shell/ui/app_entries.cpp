// The way of an entry: sealed into the device's chain, handed to the store, taken into the logbook when it is
// durable.
#include <algorithm>
#include <utility>

#include "logbook/device_key.h"
#include "logbook/kinds.h"
#include "ui/app.h"

namespace tawny::ui {
namespace {

constexpr std::string_view kDemoFarmId = "demo";

}  // namespace

bool App::can_write() const {
  return boot_.writer && boot_.store_state == SaveOutcome::saved && !alarm_ && !asset_problem_ && !key_lost();
}

void App::refuse_act(const Problem& problem) {
  news_ = SaveNews{};
  news_.state = SaveNews::State::failed;
  news_.outcome = SaveOutcome::failed;
  news_.problem = problem;
}

void App::put(std::vector<Draft> drafts, std::function<void()> then) {
  if (!can_write() || drafts.empty() || queued_) return;
  if (under_way_ && under_way_->quiet) {
    queued_ = Queued{std::move(drafts), std::move(then)};
    news_ = SaveNews{};
    news_.state = SaveNews::State::saving;
    return;
  }
  if (under_way_) return;
  UnderWay act;
  act.chain = logbook_.chain_of(boot_.device);
  const bool founds = act.chain.farm.empty();
  // A farm is called by the key of the device that founds it, so that nobody can put another in its place.
  if (founds && signs()) act.chain.farm = boot_.device;
  if (act.chain.farm.empty()) act.chain.farm = demo() ? std::string(kDemoFarmId) : platform_.random_hex(12);
  act.then = std::move(then);
  const bool decision = std::any_of(drafts.begin(), drafts.end(), [this](const Draft& draft) {
    return decides(logbook_, draft.kind, draft.corrects, draft.voids);
  });
  if (decision && !may_decide()) {
    refuse_act(Problem{ProblemKind::out_of_range, "", Message("trust.not_office")});
    return;
  }
  if (signs() && act.chain.last_number == 0) drafts.insert(drafts.begin(), device_key_draft(boot_.public_key));
  for (Draft& draft : drafts) {
    if (draft.who.empty()) draft.who = person_;
    if (draft.observed.unix_s == 0) draft.observed = now_;
    Result<Entry> entry = seal(draft, now_, act.chain);
    if (!entry) {
      refuse_act(entry.error());
      return;
    }
    act.entries.push_back(*std::move(entry));
  }
  under_way_ = std::move(act);
  if (signs() && (decision || founds)) {
    sign_and_hand_over();
  } else {
    hand_over();
  }
}

// Receipts and signatures: sealed and stored like any entry, but nobody waits for them. Signed where there is a
// key; without drafts only that.
void App::put_quietly(std::vector<Draft> drafts, std::function<void()> then) {
  UnderWay act;
  act.quiet = true;
  act.then = std::move(then);
  act.chain = logbook_.chain_of(boot_.device);
  for (Draft& draft : drafts) {
    draft.who = person_;
    draft.observed = now_;
    if (Result<Entry> entry = seal(draft, now_, act.chain)) act.entries.push_back(*std::move(entry));
  }
  if (act.entries.empty() && !signs()) {
    if (act.then) act.then();
    return;
  }
  under_way_ = std::move(act);
  if (signs()) {
    sign_and_hand_over();
  } else {
    hand_over();
  }
}

void App::hand_over() {
  under_way_->ticket = next_ticket_++;
  if (!under_way_->quiet) {
    news_ = SaveNews{};
    news_.state = SaveNews::State::saving;
  }
  SaveRequest request;
  request.ticket = under_way_->ticket;
  for (const Entry& entry : under_way_->entries) request.entries.push_back(&entry);
  platform_.save(request);
}

void App::retry() {
  if (under_way_ && news_.state == SaveNews::State::failed) hand_over();
}

void App::give_up() {
  under_way_.reset();
  clear_news();
}

// What could not be kept is written by the next sync.
void App::on_quietly_saved(SaveOutcome outcome) {
  UnderWay done = *std::move(under_way_);
  under_way_.reset();
  if (outcome == SaveOutcome::saved) {
    for (Entry& entry : done.entries) logbook_.add(std::move(entry));
    fold();
  }
  finish_quietly(done.then);
}

void App::finish_quietly(const std::function<void()>& then) {
  if (std::optional<Queued> waiting = std::exchange(queued_, std::nullopt)) {
    put(std::move(waiting->drafts), std::move(waiting->then));
  }
  if (then) then();
}

void App::on_saved(int ticket, SaveOutcome outcome, std::string_view detail) {
  if (pull_ticket_ != 0 && ticket == pull_ticket_) {
    now_ = platform_.now();
    on_pulled(outcome, detail);
    return;
  }
  if (!under_way_ || under_way_->ticket != ticket) return;
  now_ = platform_.now();
  if (under_way_->quiet) {
    on_quietly_saved(outcome);
    return;
  }
  news_ = SaveNews{};
  news_.at = now_;
  news_.outcome = outcome;
  news_.detail = detail;
  if (outcome != SaveOutcome::saved) {
    news_.state = SaveNews::State::failed;
    announce(words_("save.failed.announce"), true);
    return;
  }
  news_.state = SaveNews::State::saved;
  if (pen_news_ == PenNews::asked) pen_news_ = PenNews::none;
  UnderWay done = *std::move(under_way_);
  under_way_.reset();
  std::set<std::string> decided;  // ponds whose gate a person has just decided on
  for (Entry& entry : done.entries) {
    if (!kind::is_of_chain(entry.kind)) news_.ids.push_back(entry.id);
    if (entry.kind == kind::kGatePassed || entry.kind == kind::kReleaseSigned) decided.insert(entry.pond);
    logbook_.add(std::move(entry));
  }
  if (boot_.witness && alarm_) alarm_ = compare_with_witness(logbook_, *boot_.witness);
  const std::map<std::string, Stage> before = stages();
  fold();
  std::string said = words_(Message("save.saved").with("time", news_.at));
  for (const auto& [pond, stage] : stages()) {
    const auto was = before.find(pond);
    if (was == before.end() || was->second == stage) continue;
    const char* said_of = decided.count(pond) > 0 ? "gate.passed" : "gate.opened";
    news_.gates.push_back(Message(stage > was->second ? said_of : "gate.went_back")
                              .with("pond", Text{farm_.pond(pond)->history.pond.name})
                              .with("stage", Word{"stage." + std::string(name_of(stage))}));
    said += ". " + words_(news_.gates.back());
  }
  undoable_.reset();
  if (const Entry* entry = news_.ids.size() == 1 ? logbook_.find(to_reference(news_.ids.front())) : nullptr) {
    const bool set_up = entry->kind.size() > 6 && entry->kind.substr(entry->kind.size() - 6) == "_setup";
    if (entry->voids.empty() && !set_up) undoable_ = Undoable{entry->id, now_};
  }
  platform_.vibrate(30);
  announce(said, false);
  if (!done.then) return;
  // What was brought in shows only once it is known whom to believe.
  if (check_ticket_ != 0) {
    after_verdicts_.push_back(std::move(done.then));
  } else {
    done.then();
  }
}

Draft App::take_back(const EntryId& id, std::string_view reason) const {
  Draft draft;
  draft.kind = kind::kVoid;
  const std::string reference = to_reference(id);
  if (const Entry* entry = logbook_.find(reference)) draft.pond = entry->pond;
  draft.observed = now_;
  draft.voids = reference;
  if (!reason.empty()) draft.values.emplace("reason", std::string(reason));
  return draft;
}

void App::bring_in(std::function<void()> then) {
  // Bringing entries in is allowed under the alarm: it is the way back from a lost store.
  if (!incoming_ || !incoming_->is_read() || under_way_) return;
  if (!boot_.writer || boot_.store_state != SaveOutcome::saved) return;
  UnderWay act;
  act.then = std::move(then);
  act.entries = incoming_->added_to(logbook_);
  drop_claimed(act.entries);
  incoming_.reset();
  if (act.entries.empty()) {
    if (act.then) act.then();
    return;
  }
  under_way_ = std::move(act);
  hand_over();
}

}  // namespace tawny::ui
