// Questions for the manager: two doses that may be one, an odd reading, a clock that jumped; each with its
// evidence side by side, and each answer on record with its reason. What was decided stays in sight and can be
// taken back.
#include <algorithm>
#include <utility>

#include "logbook/kinds.h"
#include "office/clock_questions.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kReasonLength = 300;
constexpr std::size_t kMostEvidence = 6;  // entries shown of a question; a stuck meter may have many
constexpr std::size_t kDecidedPage = 20;

// One way to answer a question: what is said of it, and the drafts that put it on record (without the reason).
struct Answer {
  std::string id;     // "both"
  std::string label;  // of the button
  std::string about;  // what follows from it
  std::vector<Draft> drafts;
};

Draft settle(const std::string& pond, const EntryId& about, std::string_view keep) {
  Draft draft;
  draft.kind = kind::kQuestionSettled;
  draft.pond = pond;
  draft.values.emplace("question", to_reference(about));
  draft.values.emplace("keep", std::string(keep));
  return draft;
}

class QuestionsScreen : public Screen {
 public:
  explicit QuestionsScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    app.frame_bars(ui, ui.words()("questions.title"));
    renew(app);
    switch (flow_.poll(app)) {
      case SaveFlow::State::saved:
        answer_.reset();
        reason_.clear();
        flow_ = SaveFlow();
        saved_ = true;
        [[fallthrough]];
      case SaveFlow::State::idle:
        if (answer_) {
          draw_sure(app, ui);
        } else {
          draw_list(app, ui);
        }
        return;
      case SaveFlow::State::saving:
      case SaveFlow::State::failed:
        ui.begin_content("questions_waiting");
        flow_.draw_waiting(app, ui);
        ui.end_content();
        return;
    }
  }

  bool holds_unsaved() const override { return flow_.holds_unsaved() || (answer_ && !reason_.empty()); }

 private:
  // A whole logbook takes too long to be looked through in every frame.
  void renew(const App& app) {
    if (folds_ == app.folds()) return;
    folds_ = app.folds();
    clocks_.clear();
    if (pond_.empty()) clocks_ = clock_questions(app.logbook(), app.farm(), app.protocol());
    decided_.clear();
    for (const Entry* entry : decided_questions(app.logbook())) {
      if (pond_.empty() || entry->pond == pond_) decided_.push_back(entry->id);
    }
  }

  void draw_list(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_content("questions", 0, true);
    draw_act_left_behind(app, ui);
    if (saved_ && app.news().state == SaveNews::State::saved) {
      ui.notice("questions/saved", Tone::open, words(Message("save.saved").with("time", app.news().at)));
    }
    if (const char* why_not = app.why_no_decision())
      ui.notice("questions/manager_only", Tone::warn, words(why_not));
    std::size_t open = 0;
    for (const FarmPond& pond : app.farm().ponds) {
      if (!pond_.empty() && pond.history.pond.id != pond_) continue;
      for (std::size_t i = 0; i < pond.state.questions.size(); ++i) {
        ++open;
        draw_question(app, ui, pond, pond.state.questions[i], i);
      }
    }
    for (std::size_t i = 0; i < clocks_.size(); ++i) {
      ++open;
      draw_clock(app, ui, clocks_[i], i);
    }
    if (open == 0) ui.text("questions/none", words("questions.none"), TextSize::lead);
    draw_decided(app, ui);
    ui.gap(16);
    ui.end_content();
  }

  void draw_question(App& app, Ui& ui, const FarmPond& pond, const Question& question, std::size_t number) {
    const Words& words = ui.words();
    const std::string id = "question/" + pond.history.pond.id + "/" + std::to_string(number);
    ui.gap();
    ui.begin_card(id);
    ui.text(id + "/pond", pond.history.pond.name, TextSize::lead, Tone::ink, true);
    ui.text(id + "/what", words(question.what));
    draw_evidence(app, ui, id, question.evidence);
    std::vector<Answer> answers;
    if (question.id == "double_dose") {
      for (const char* keep : {"both", "first", "second"}) {
        Draft draft = settle(pond.history.pond.id, question.asks.front(), keep);
        draft.values.emplace("other", to_reference(question.evidence.front()));
        answers.push_back(
            {keep, words("key.keep." + std::string(keep)), words("questions.dose.about"), {std::move(draft)}});
      }
    } else {
      for (const char* keep : {"reading", "none"}) {
        Answer answer{keep,
                      words("key.keep." + std::string(keep)),
                      words("questions.reading." + std::string(keep) + ".about"),
                      {}};
        for (const EntryId& asked : question.asks) {
          answer.drafts.push_back(settle(pond.history.pond.id, asked, keep));
        }
        answers.push_back(std::move(answer));
      }
    }
    draw_answers(app, ui, id, words(question.what), std::move(answers));
    ui.end_card();
  }

  void draw_clock(App& app, Ui& ui, const ClockQuestion& question, std::size_t number) {
    const Words& words = ui.words();
    const std::string id = "question/clock/" + std::to_string(number);
    ui.gap();
    ui.begin_card(id);
    ui.text(id + "/pond", words("questions.clock"), TextSize::lead, Tone::ink, true);
    ui.text(id + "/what", words(question.what));
    if (question.later.empty()) {
      draw_evidence(app, ui, id, question.earlier);
    } else {
      ui.text(id + "/side/earlier", words("questions.clock.earlier"), TextSize::body, Tone::ink, true);
      draw_evidence(app, ui, id + "/side/earlier", question.earlier);
      ui.text(id + "/side/later", words("questions.clock.later"), TextSize::body, Tone::ink, true);
      draw_evidence(app, ui, id + "/side/later", question.later);
    }
    std::vector<Answer> answers;
    Draft stands = settle({}, question.settled_by, "clock");
    stands.values.emplace("from_number", static_cast<double>(question.from_number));
    answers.push_back({"clock", words("key.keep.clock"), words("questions.clock.stands.about"), {stands}});
    const auto add_back = [&](const char* side, const char* label, const std::vector<EntryId>& entries) {
      if (entries.empty()) return;
      Answer answer{side,
                    words(Message(label).with("count", bare(entries.size()))),
                    words("questions.clock.back.about"),
                    {}};
      for (const EntryId& entry : entries) answer.drafts.push_back(app.take_back(entry, {}));
      answers.push_back(std::move(answer));
    };
    const bool sides = !question.later.empty();
    add_back("earlier", sides ? "questions.clock.back_earlier" : "questions.clock.back", question.earlier);
    add_back("later", "questions.clock.back_later", question.later);
    draw_answers(app, ui, id, words(question.what), std::move(answers));
    ui.end_card();
  }

  // Two doses are told apart by the hours in which they were spread, as the question tells them.
  static std::string when_of(const Words& words, const Entry& entry) {
    const std::string *started = entry.text("started"), *ended = entry.text("ended");
    if (entry.kind != kind::kDose || started == nullptr || ended == nullptr) return words.time(entry.observed);
    const Result<Instant> from = parse_instant(*started), until = parse_instant(*ended);
    if (!from || !until) return words.time(entry.observed);
    return words(Message("questions.spread").with("from", *from).with("until", *until));
  }

  // The entries beside one another, as many as there is room for.
  static void draw_evidence(const App& app, Ui& ui, const std::string& id,
                            const std::vector<EntryId>& entries) {
    constexpr float kCell = 200;
    const Words& words = ui.words();
    // Of many the last, which stand next to what comes after.
    const std::size_t from = entries.size() > kMostEvidence ? entries.size() - kMostEvidence : 0;
    if (from > 0) {
      ui.text(id + "/before", words(Message("questions.more").with("count", bare(from))), TextSize::body,
              Tone::quiet);
    }
    const int fit = std::max(1, static_cast<int>(ui.width() / (kCell * ui.text_scale())));
    ui.begin_cells(std::min(fit, static_cast<int>(entries.size() - from)), 16);
    for (std::size_t i = from; i < entries.size(); ++i) {
      if (i > from) ui.next_cell();
      const Entry* entry = app.logbook().find(to_reference(entries[i]));
      if (entry == nullptr) continue;
      const std::string one = id + "/evidence/" + std::to_string(i);
      ui.text(one + "/kind", words("kind." + entry->kind), TextSize::body, Tone::quiet);
      ui.text(one + "/value", brief_of(words, *entry), TextSize::body, Tone::ink, true);
      ui.text(one + "/when", when_of(words, *entry) + " \u00b7 " +
                                 (entry->who.empty() ? words("person.unknown") : entry->who));
      if (entry->recorded != entry->observed) {
        ui.text(one + "/recorded", words(Message("questions.recorded").with("time", entry->recorded)),
                TextSize::body, Tone::quiet);
      }
    }
    ui.end_cells();
  }

  void draw_answers(App& app, Ui& ui, const std::string& id, std::string what, std::vector<Answer> answers) {
    if (app.why_no_decision() != nullptr) return;
    ui.gap(16);
    ui.begin_cells(ui.width() / ui.text_scale() >= 480 ? static_cast<int>(answers.size()) : 1);
    for (std::size_t i = 0; i < answers.size(); ++i) {
      if (i > 0) ui.next_cell();
      if (!ui.button(id + "/" + answers[i].id, answers[i].label, ButtonKind::secondary, app.can_write()))
        continue;
      answer_ = std::move(answers[i]);
      what_ = std::move(what);
      saved_ = false;
      break;
    }
    ui.end_cells();
  }

  void draw_sure(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_content("questions_sure", 2 * Sizes::kTarget + 2 * Sizes::kGrid);
    ui.heading("questions/sure", answer_->label);
    ui.text("questions/sure_what", what_, TextSize::body, Tone::quiet);
    ui.text("questions/sure_about", answer_->about, TextSize::lead);
    if (answer_->drafts.size() > 1) {
      ui.text("questions/sure_count",
              words(Message("questions.count").with("count", bare(answer_->drafts.size()))));
    }
    ui.gap();
    if (auto text = ui.text_field("questions/reason", words("key.reason"), reason_, words("entry.hint.reason"),
                                  "note", kReasonLength)) {
      reason_ = *std::move(text);
    }
    if (reason_.empty())
      ui.text("questions/needs_reason", words("gate.needs_reason"), TextSize::body, Tone::quiet);
    ui.end_content();
    ui.begin_footer();
    if (ui.button("questions/not_yet", words("gate.not_yet"))) {
      answer_.reset();
      reason_.clear();
    }
    ui.gap();
    if (answer_ &&
        ui.button("save", words("decide.yes"), ButtonKind::primary, app.can_write() && !reason_.empty())) {
      std::vector<Draft> drafts = answer_->drafts;
      for (Draft& draft : drafts) {
        draft.observed = app.now();
        draft.values.insert_or_assign("reason", reason_);
      }
      flow_.put(app, std::move(drafts));
    }
    ui.end_footer();
  }

  void draw_decided(App& app, Ui& ui) {
    if (decided_.empty()) return;
    const Words& words = ui.words();
    ui.heading("questions/decided", words("questions.decided"));
    const std::size_t shown = std::min(decided_.size(), decided_shown_);
    for (std::size_t i = 0; i < shown; ++i) {
      const Entry* entry = app.logbook().find(to_reference(decided_[i]));
      if (entry != nullptr) draw_one_decided(app, ui, *entry, i);
    }
    if (shown == decided_.size()) return;
    ui.gap();
    const Message more = Message("logbook.more").with("count", bare(decided_.size() - shown));
    if (ui.button("questions/more", words(more))) decided_shown_ += kDecidedPage;
  }

  void draw_one_decided(App& app, Ui& ui, const Entry& decision, std::size_t number) {
    const Words& words = ui.words();
    const std::string id = "decided/" + std::to_string(number);
    const std::string* keep = decision.text("keep");
    const std::string* reason = decision.text("reason");
    const std::string* question = decision.text("question");
    const Entry* about = question == nullptr ? nullptr : app.logbook().find(*question);
    ui.begin_card(id);
    const bool out = keep != nullptr && *keep == "none";
    const std::string of = about == nullptr ? std::string() : ": " + brief_of(words, *about);
    const std::string title = decision.pond.empty() ? words("questions.clock") : pond_name(app, decision.pond);
    ui.status(id + "/keep", out ? Status::stopped : Status::done,
              keep == nullptr ? std::string() : words("key.keep." + *keep), title + of);
    if (reason != nullptr) ui.text(id + "/reason", *reason);
    ui.text(id + "/who",
            words.time(decision.observed) + " \u00b7 " +
                (decision.who.empty() ? words("person.unknown") : decision.who),
            TextSize::body, Tone::quiet);
    if (app.why_no_decision() == nullptr &&
        ui.button(id + "/take_back", words("questions.take_back"), ButtonKind::quiet, app.can_write())) {
      answer_ = Answer{"back",
                       words("questions.take_back"),
                       words("questions.take_back.about"),
                       {app.take_back(decision.id, {})}};
      what_ = title + of;
      saved_ = false;
    }
    ui.end_card();
    ui.gap();
  }

  std::string pond_;
  int folds_ = -1;
  std::vector<ClockQuestion> clocks_;
  std::vector<EntryId> decided_;
  std::size_t decided_shown_ = kDecidedPage;
  std::optional<Answer> answer_;
  std::string what_, reason_;
  bool saved_ = false;
  SaveFlow flow_;
};

}  // namespace

std::unique_ptr<Screen> make_questions_screen(const std::string& pond) {
  return std::make_unique<QuestionsScreen>(pond);
}

}  // namespace tawny::ui
