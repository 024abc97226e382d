// Whom this device believes (logbook/trust.h): signing its own chain, and having the signatures of others checked.
// Both are done by the browser, which answers later.
#include <algorithm>
#include <utility>

#include "logbook/device_key.h"
#include "logbook/kinds.h"
#include "ui/app.h"

namespace tawny::ui {

bool App::has_key() const { return !boot_.public_key.empty(); }

bool App::signs() const { return has_key() && (logbook_.farm().empty() || is_keyed_id(logbook_.farm())); }

bool App::key_lost() const { return is_keyed_id(boot_.device) && !has_key(); }

bool App::may_decide() const { return !trust_.enforced || trust_.is_office(boot_.device); }

const char* App::why_no_decision() const {
  if (role_ != Role::manager) return "gate.manager_only";
  return may_decide() ? nullptr : "trust.not_office";
}

std::optional<LeftOutFor> App::left_out(const EntryId& id) const {
  const auto found = trust_.left_out.find(id.hash);
  return found == trust_.left_out.end() ? std::nullopt : std::optional(found->second);
}

// Before each fold: what is believed decides what counts.
void App::judge() {
  const bool may_ask = check_ticket_ == 0 && !checks_refused_;
  // At a start nearly all would be sorted out, only to be sorted in again when the verdicts come.
  if (!is_ready_ && may_ask && verdicts_.empty()) ask_for_verdicts();
  if (!is_ready_ && check_ticket_ != 0) return;
  if (const Judged now{logbook_.size(), verdicts_.size()}; judged_ != now) {
    judged_ = now;
    trust_ = trust_of(logbook_, verdicts_, boot_.device, &walks_);
    logbook_.leave_out(trust_.left_out_hashes());
  }
  if (may_ask && check_ticket_ == 0 && trust_.waits) ask_for_verdicts();
}

void App::ask_for_verdicts() {
  std::vector<SignatureCheck> checks = signatures_to_check(logbook_, verdicts_, &walks_);
  if (checks.empty()) return;
  check_ticket_ = next_ticket_++;
  checked_.clear();
  for (const SignatureCheck& check : checks) checked_.push_back(check.hash);
  platform_.check_signatures(check_ticket_, checks);
}

void App::on_checked(int ticket, std::string_view verdicts) {
  if (check_ticket_ == 0 || ticket != check_ticket_) return;
  check_ticket_ = 0;
  now_ = platform_.now();
  const std::vector<std::string> asked = std::exchange(checked_, {});
  // A browser without cryptography answers nothing: what others wrote then stays unbelieved, and that is said.
  checks_refused_ = verdicts.size() != asked.size();
  for (std::size_t i = 0; i < asked.size() && !checks_refused_; ++i) verdicts_[asked[i]] = verdicts[i] == '1';
  const bool was_set_up = farm_.set_up;
  const Trust before = trust_;
  judge();
  if (waits_for_verdicts_) {
    if (check_ticket_ != 0) return;  // what was found asks for more
    fold_believed();
    begin();
    return;
  }
  // Most verdicts say that what this phone has just written is its own.
  if (folded_lines_ != logbook_.size() || !counts_alike(before, trust_)) fold_believed();
  if (check_ticket_ != 0) return;
  const bool joins = !was_set_up && farm_.set_up;
  if (joins && run_) joined_ = true;
  const std::vector<std::function<void()>> waiting = std::exchange(after_verdicts_, {});
  for (const auto& then : waiting) then();
  if (joins && !run_ && waiting.empty()) show_first_screen();
}

// The act goes to the store with a signature behind it; without one where the browser gave none, and the next
// sync signs.
void App::sign_and_hand_over() {
  if (!under_way_->quiet) {
    news_ = SaveNews{};
    news_.state = SaveNews::State::saving;
  }
  under_way_->sign_ticket = next_ticket_++;
  platform_.sign(under_way_->sign_ticket, text_to_sign(under_way_->chain.last_hash));
}

void App::on_signed(int ticket, std::string_view signature) {
  if (!under_way_ || under_way_->sign_ticket == 0 || under_way_->sign_ticket != ticket) return;
  under_way_->sign_ticket = 0;
  now_ = platform_.now();
  if (!signature.empty()) {
    Draft draft = chain_signed_draft(signature);
    draft.observed = now_;
    if (Result<Entry> entry = seal(draft, now_, under_way_->chain)) {
      under_way_->entries.push_back(*std::move(entry));
    }
  }
  if (under_way_->entries.empty()) {
    const std::function<void()> then = std::move(under_way_->then);
    under_way_.reset();
    finish_quietly(then);
    return;
  }
  hand_over();
}

void App::with_signed_chain(std::function<void()> then) {
  if (!signs() || !can_write() || under_way_ || chain_is_signed(logbook_, boot_.device)) {
    then();
    return;
  }
  put_quietly({}, std::move(then));
}

Draft App::admission(std::string_view device, bool office) const {
  Draft draft;
  draft.kind = kind::kDeviceAdmitted;
  draft.observed = now_;
  draft.values["device"] = std::string(device);
  if (!office) return draft;
  draft.values["office"] = true;
  // What it decided before anybody asked it to does not count afterwards either.
  const std::uint32_t last = logbook_.chain_of(std::string(device)).last_number;
  draft.values["office_from_number"] = static_cast<double>(last) + 1;
  return draft;
}

Draft App::revocation(std::string_view device, Instant from, std::string_view reason) const {
  std::uint32_t last = 0;
  logbook_.visit(device, 1, UINT32_MAX, [&](const Logbook::Line& line) {
    if (line.entry != nullptr && line.entry->recorded < from) last = line.number;
  });
  Draft draft;
  draft.kind = kind::kDeviceRevoked;
  draft.observed = now_;
  draft.values["device"] = std::string(device);
  draft.values["last_number"] = static_cast<double>(last);
  draft.values["from"] = to_iso(from);
  draft.values["reason"] = std::string(reason);
  return draft;
}

// Lines that claim to be of this device, with numbers that it has not come to: it did not write them. Those up to
// where it had come are its own, brought back.
std::size_t App::drop_claimed(std::vector<Entry>& entries) const {
  std::uint32_t own_last = logbook_.chain_of(boot_.device).last_number;
  if (boot_.witness && boot_.witness->device == boot_.device) {
    own_last = std::max(own_last, boot_.witness->last_number);
  }
  const std::size_t before = entries.size();
  entries.erase(std::remove_if(entries.begin(), entries.end(),
                               [&](const Entry& entry) {
                                 return entry.id.device == boot_.device && entry.id.number > own_last;
                               }),
                entries.end());
  return before - entries.size();
}

}  // namespace tawny::ui
