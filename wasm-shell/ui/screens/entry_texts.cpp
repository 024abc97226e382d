// Entries that are words: a note, water let out, the name of a new cycle, and the manager's word on a doubled
// dose.
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/choices.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kNoteLength = 500;
constexpr int kLabelLength = 40;

class TextForm : public EntryForm {
 public:
  TextForm(std::string_view kind, std::string_view key, bool needed)
      : kind_(kind), key_(key), needed_(needed) {}
  std::string_view kind() const override { return kind_; }
  void fill(const Entry& entry) override { take_text(entry, key_, text_); }
  void draw(const FormPlace&, Ui& ui) override {
    const Words& words = ui.words();
    if (auto text = ui.text_field("entry/text", key_word(words, key_), text_, words("entry.hint." + kind_),
                                  "note", kNoteLength)) {
      text_ = *std::move(text);
    }
  }
  std::optional<Message> missing() const override {
    if (!needed_ || !text_.empty()) return std::nullopt;
    return Message("entry.missing").with("value", Word{"key." + key_});
  }
  Values values() const override { return text_.empty() ? Values{} : Values{{key_, text_}}; }

 private:
  std::string kind_, key_;
  bool needed_;
  std::string text_;
};

class CycleForm : public EntryForm {
 public:
  explicit CycleForm(const FormPlace& place) : label_(proposal(place)) {}
  std::string_view kind() const override { return kind::kCycleStart; }
  void fill(const Entry& entry) override { take_text(entry, "cycle", label_); }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    if (place.pond != nullptr && place.pond->state.in_cycle && !place.pond->state.finished) {
      ui.notice("cycle/running", Tone::warn,
                words(Message("entry.cycle.running").with("cycle", Text{place.pond->history.cycle})));
      ui.gap();
    }
    ui.text("cycle/about", words("entry.cycle.about"));
    ui.gap();
    if (auto text = ui.text_field("entry/text", words("key.cycle"), label_, words("entry.hint.cycle_start"),
                                  "name", kLabelLength)) {
      label_ = *std::move(text);
    }
  }
  std::optional<Message> missing() const override {
    if (!label_.empty()) return std::nullopt;
    return Message("entry.missing").with("value", Word{"key.cycle"});
  }
  Values values() const override { return label_.empty() ? Values{} : Values{{"cycle", label_}}; }

 private:
  // "2026-2": the year and the how-manieth cycle of the pond in it.
  static std::string proposal(const FormPlace& place) {
    const UtcOffset offset = place.app.farm().place.offset;
    const int year = year_month_day(civil_day(place.app.now(), offset)).year;
    int count = 1;
    for (const Entry* entry : place.app.logbook().effective()) {
      const bool here = place.pond != nullptr && entry->pond == place.pond->history.pond.id;
      if (entry->kind != kind::kCycleStart || !here) continue;
      if (year_month_day(civil_day(entry->observed, offset)).year == year) ++count;
    }
    return std::to_string(year) + "-" + std::to_string(count);
  }

  std::string label_;
};

// Two entries that may be the same dose: which of them holds.
class QuestionForm : public EntryForm {
 public:
  explicit QuestionForm(const FormPlace& place) {
    if (place.pond == nullptr) return;
    for (const Question& question : place.pond->state.questions) {
      if (question.id != "double_dose") continue;
      question_ = question;
      break;
    }
  }
  std::string_view kind() const override { return kind::kQuestionSettled; }
  bool manager_only() const override { return true; }
  void fill(const Entry& entry) override {
    take_text(entry, "keep", keep_);
    take_text(entry, "reason", reason_);
    take_text(entry, "question", reference_);
    take_text(entry, "other", other_);
  }
  void draw(const FormPlace& place, Ui& ui) override {
    const Words& words = ui.words();
    if (question_) {
      ui.text("question/what", words(question_->what), TextSize::lead);
      ui.gap();
      int number = 0;
      for (const EntryId& id : question_->evidence) {
        const Entry* entry = place.app.logbook().find(to_reference(id));
        if (entry == nullptr) continue;
        ++number;
        ui.fact("question/" + std::to_string(number),
                words(Message("entry.question.one")
                          .with("number", Quantity{static_cast<double>(number), 0, ""})
                          .with("at", entry->observed)
                          .with("who", Text{entry->who})),
                brief_of(words, *entry));
      }
    }
    ui.gap(16);
    ask(ui, "keep", words("key.keep"), options_of(words, "key.keep", {"both", "first", "second"}), keep_);
    ui.gap();
    if (auto text = ui.text_field("entry/text", words("key.reason"), reason_, words("entry.hint.reason"),
                                  "note", kNoteLength)) {
      reason_ = *std::move(text);
    }
  }
  std::optional<Message> missing() const override {
    if (!question_ && reference_.empty()) return Message("entry.question.none");
    if (keep_.empty()) return Message("entry.missing").with("value", Word{"key.keep"});
    if (reason_.empty()) return Message("entry.missing").with("value", Word{"key.reason"});
    return std::nullopt;
  }
  Values values() const override {
    Values values{{"question", reference()}};
    const std::string other = question_ ? to_reference(question_->evidence.front()) : other_;
    if (!other.empty()) values.emplace("other", other);
    if (!keep_.empty()) values.emplace("keep", keep_);
    if (!reason_.empty()) values.emplace("reason", reason_);
    return values;
  }

 private:
  // The later of the two is the doubled one.
  std::string reference() const {
    if (!reference_.empty() || !question_ || question_->evidence.empty()) return reference_;
    return to_reference(question_->evidence.back());
  }

  std::optional<Question> question_;
  std::string reference_, other_, keep_, reason_;
};

}  // namespace

std::unique_ptr<EntryForm> make_text_form(std::string_view kind, std::string_view key, bool needed) {
  return std::make_unique<TextForm>(kind, key, needed);
}
std::unique_ptr<EntryForm> make_cycle_form(const FormPlace& place) {
  return std::make_unique<CycleForm>(place);
}
std::unique_ptr<EntryForm> make_question_form(const FormPlace& place) {
  return std::make_unique<QuestionForm>(place);
}

}  // namespace tawny::ui
