#include "office/clock_questions.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string_view>
#include <tuple>
#include <utility>

#include "base/sort_stably.h"
#include "logbook/kinds.h"
#include "logbook/reference.h"

namespace tawny {
namespace {

enum class Fault { none, ahead, behind };

// Numbers of a device whose times the manager let stand.
struct Accepted {
  std::uint32_t first = 0, last = 0;
};

class Finder {
 public:
  Finder(const Logbook& logbook, const Farm& farm, const Protocol& protocol)
      : logbook_(logbook),
        farm_(farm),
        ahead_s_(60 * protocol.number("question.clock_ahead_min")),
        behind_s_(86400 * protocol.number("question.clock_behind_days")) {}

  std::vector<ClockQuestion> find() {
    read();
    for (const ChainProblem& fault : logbook_.check_chains()) {
      if (fault.message.id == "chain.clock_back") ask_back(fault);
    }
    for (const auto& [device, entries] : of_device_) ask_far(device, entries);
    sort_stably(questions_, [](const ClockQuestion& a, const ClockQuestion& b) {
      return std::tie(a.device, a.settled_by.number) < std::tie(b.device, b.settled_by.number);
    });
    return std::move(questions_);
  }

 private:
  using Entries = std::vector<const Entry*>;

  void read() {
    logbook_.visit([&](const Logbook::Line& line) {
      const Entry* entry = line.entry;
      if (entry == nullptr || logbook_.standing(entry->id) != Logbook::Standing::stands) return;
      if (entry->kind == kind::kQuestionSettled) accept(*entry);
      // These are about other entries, and of the moment at which they are written.
      const bool about_others = entry->kind == kind::kVoid || entry->kind == kind::kOfficeReceipt ||
                                entry->kind == kind::kQuestionSettled;
      if (!about_others) of_device_[entry->id.device].push_back(entry);
    });
  }

  void accept(const Entry& entry) {
    const std::string* keep = entry.text("keep");
    const std::string* question = entry.text("question");
    if (keep == nullptr || *keep != "clock" || question == nullptr) return;
    const std::optional<Reference> last = parse_reference(*question);
    if (!last) return;
    Accepted range{last->number, last->number};
    const double* from = entry.number("from_number");
    if (from != nullptr && *from >= 1 && *from <= last->number) range.first = static_cast<std::uint32_t>(*from);
    accepted_[std::string(last->device)].push_back(range);
  }

  bool is_accepted(const std::string& device, std::uint32_t number) const {
    const auto found = accepted_.find(device);
    return found != accepted_.end() &&
           std::any_of(found->second.begin(), found->second.end(),
                       [&](const Accepted& range) { return range.first <= number && number <= range.last; });
  }

  Text holder(const std::string& device) const {
    const auto person = farm_.people.find(device);
    return Text{person == farm_.people.end() || person->second.first.empty() ? device : person->second.first};
  }

  void ask_back(const ChainProblem& fault) {
    if (is_accepted(fault.device, fault.number)) return;
    const auto* before = std::get_if<Instant>(fault.message.find("before"));
    const auto* after = std::get_if<Instant>(fault.message.find("after"));
    const auto entries = of_device_.find(fault.device);
    if (before == nullptr || after == nullptr || entries == of_device_.end()) return;
    ClockQuestion question;
    question.id = "clock_back";
    question.device = fault.device;
    question.from_number = fault.number;
    const auto jump = std::partition_point(entries->second.begin(), entries->second.end(),
                                           [&](const Entry* entry) { return entry->id.number < fault.number; });
    for (auto at = jump; at != entries->second.begin() && (*std::prev(at))->recorded > *after; --at) {
      question.earlier.push_back((*std::prev(at))->id);
    }
    std::reverse(question.earlier.begin(), question.earlier.end());
    for (auto at = jump; at != entries->second.end() && (*at)->recorded < *before; ++at) {
      question.later.push_back((*at)->id);
    }
    // With either side taken back, what is left goes forward.
    if (question.earlier.empty() || question.later.empty()) return;
    question.settled_by = question.later.front();
    question.from_number = fault.number;
    question.what = Message("question.clock_back")
                        .with("who", holder(fault.device))
                        .with("before", *before)
                        .with("after", *after);
    questions_.push_back(std::move(question));
  }

  Fault fault_of(const Entry& entry) const {
    const auto late_s = static_cast<double>(entry.recorded.unix_s - entry.observed.unix_s);
    if (-late_s > ahead_s_) return Fault::ahead;
    return late_s > behind_s_ && !farm_.demo ? Fault::behind : Fault::none;
  }

  void ask_far(const std::string& device, const Entries& entries) {
    Entries run;
    Fault fault = Fault::none;
    const auto finish = [&] {
      if (fault != Fault::none) ask_run(device, run, fault);
      run.clear();
    };
    for (const Entry* entry : entries) {
      const Fault own = is_accepted(device, entry->id.number) ? Fault::none : fault_of(*entry);
      if (own != fault) finish();
      fault = own;
      run.push_back(entry);
    }
    finish();
  }

  void ask_run(const std::string& device, const Entries& run, Fault fault) {
    ClockQuestion question;
    const bool ahead = fault == Fault::ahead;
    question.id = ahead ? "clock_ahead" : "clock_behind";
    question.device = device;
    question.settled_by = run.back()->id;
    question.from_number = run.front()->id.number;
    double most_s = 0;
    for (const Entry* entry : run) {
      question.earlier.push_back(entry->id);
      most_s =
          std::max(most_s, std::fabs(static_cast<double>(entry->recorded.unix_s - entry->observed.unix_s)));
    }
    question.what =
        Message("question." + question.id)
            .with("who", holder(device))
            .with("count", bare(run.size()))
            .with("most", ahead ? Quantity{most_s / 3600, 1, "h"} : Quantity{most_s / 86400, 0, "d"});
    questions_.push_back(std::move(question));
  }

  const Logbook& logbook_;
  const Farm& farm_;
  double ahead_s_, behind_s_;
  std::map<std::string, Entries> of_device_;  // by number
  std::map<std::string, std::vector<Accepted>> accepted_;
  std::vector<ClockQuestion> questions_;
};

}  // namespace

std::vector<ClockQuestion> clock_questions(const Logbook& logbook, const Farm& farm, const Protocol& protocol) {
  return Finder(logbook, farm, protocol).find();
}

std::vector<const Entry*> decided_questions(const Logbook& logbook) {
  std::vector<const Entry*> decided;
  logbook.visit([&](const Logbook::Line& line) {
    if (line.entry == nullptr || line.entry->kind != kind::kQuestionSettled) return;
    if (logbook.standing(line.entry->id) == Logbook::Standing::stands) decided.push_back(line.entry);
  });
  std::sort(decided.begin(), decided.end(), [](const Entry* a, const Entry* b) {
    return std::tie(a->observed, a->lamport, a->id) > std::tie(b->observed, b->lamport, b->id);
  });
  return decided;
}

}  // namespace tawny
