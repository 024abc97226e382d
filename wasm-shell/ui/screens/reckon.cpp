// A calculator: its inputs in the order of the table, the answer as soon as all is there, and its source.
#include <algorithm>
#include <optional>

#include "ui/screens/parts.h"
#include "ui/screens/reckon_answer.h"
#include "ui/screens/reckon_sheet.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kColumnGap = 24;
constexpr std::size_t kMostOpen = 3;  // inputs that may be left out and still stand among the others
constexpr int kMostDecimals = 6;
constexpr int kLongestText = 1000;
constexpr int kLongestDay = 10;

std::string label_of(const Words& words, const ReckonInput& input) {
  return words("parameter." + std::string(input.key));
}
std::string id_of(const ReckonInput& input) { return "reckon/in/" + std::string(input.key); }

std::string amount(const Words& words, const ReckonInput& input, double value) {
  return words.quantity({value, decimals_needed(value, kMostDecimals), std::string(input.range.unit)});
}

class ReckonScreen : public Screen {
 public:
  ReckonScreen(const Reckoning& reckoning, std::string pond) : reckoning_(reckoning), pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    const std::string name = "reckon." + std::string(reckoning_.name);
    app.frame_bars(ui, words(name));
    if (!protocol_) protocol_ = protocol_now(app);
    const ReckonSheet sheet(reckoning_, typed(app), known_inputs(app, pond_), *protocol_);
    work_out(app, sheet);
    show_answer(ui);
    ui.begin_content(name, 0, true);
    ui.text("reckon/about", words(name + ".about"), TextSize::body, Tone::quiet);
    const bool beside = ui.columns() > 1;
    ui.begin_cells(beside ? 2 : 1, kColumnGap);
    problem_shown_ = false;
    draw_inputs(app, ui, sheet);
    if (beside) ui.next_cell();
    draw_outcome(ui, sheet);
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
  }

 private:
  ReckonTyped& typed(App& app) const { return app.calculators()[std::string(reckoning_.name) + "@" + pond_]; }

  Protocol protocol_now(const App& app) const {
    const FarmPond* pond = app.farm().pond(pond_);
    return pond ? protocol_of(*pond, app.protocol(), app.now())
                : protocol_of(app.farm(), app.protocol(), app.now());
  }

  // Only when something has changed: a filling takes a moment.
  void work_out(const App& app, const ReckonSheet& sheet) {
    if (!sheet.missing().empty()) {
      reckoned_.reset();
      outcome_.reset();
      return;
    }
    auto given = sheet.given();
    if (reckoned_ && *reckoned_ == given) return;
    outcome_ = reckon(reckoning_, given, ReckonContext{*protocol_, app.products()});
    reckoned_ = std::move(given);
  }

  // After a value was typed on another screen, what it led to is in sight: first its end, then its beginning.
  void show_answer(Ui& ui) {
    if (frames_to_answer_ == 0 || !outcome_) return;
    if (!*outcome_) {
      ui.reveal("reckon/in/" + outcome_->error().parameter);
      frames_to_answer_ = 0;
      return;
    }
    --frames_to_answer_;
    if (frames_to_answer_ == 1) ui.reveal("reckon/source");
    if (frames_to_answer_ == 0 && !(*outcome_)->results.empty()) {
      ui.reveal("reckon/result/" + (*outcome_)->results.front().first);
    }
  }

  const Problem* problem() const { return outcome_ && !*outcome_ ? &outcome_->error() : nullptr; }

  // --- inputs ------------------------------------------------------------------------------------------------

  void draw_inputs(App& app, Ui& ui, const ReckonSheet& sheet) {
    std::vector<const ReckonInput*> open;
    std::vector<const ReckonInput*> left;
    for (const ReckonInput& input : reckoning_.inputs) {
      if (!sheet.leads(input)) continue;
      const bool fixed = !sheet.may_be_left(input) || input.kind == ReckonInput::Kind::choice;
      (fixed ? open : left).push_back(&input);
    }
    if (left.size() <= kMostOpen) {
      for (const ReckonInput& input : reckoning_.inputs) {
        if (sheet.leads(input)) draw_input(app, ui, sheet, input);
      }
      return;
    }
    for (const ReckonInput* input : open) draw_input(app, ui, sheet, *input);
    const bool asked_for = std::any_of(left.begin(), left.end(), [&](const ReckonInput* input) {
      return problem() != nullptr && is_in_group(*input, problem()->parameter);
    });
    bool& unfolded = sheet.typed().unfolded;
    unfolded = unfolded || asked_for;
    draw_fold(ui, sheet, left);
    if (!unfolded) return;
    for (const ReckonInput* input : left) draw_input(app, ui, sheet, *input);
  }

  bool is_in_group(const ReckonInput& leader, std::string_view key) const {
    if (leader.key == key) return true;
    const ReckonInput* input = reckoning_.input(key);
    return input != nullptr && !leader.either.empty() && input->either == leader.either;
  }

  // What may be left as it is, with what it counts now: "Bin volume 100 L, Salinity 0".
  void draw_fold(Ui& ui, const ReckonSheet& sheet, const std::vector<const ReckonInput*>& left) const {
    const Words& words = ui.words();
    std::string values;
    for (const ReckonInput* leader : left) {
      const ReckonInput* input = leader->either.empty() ? leader : sheet.alternative(leader->either);
      if (input == nullptr) continue;
      std::string value = sheet.text(*input);
      if (input->kind == ReckonInput::Kind::number) {
        const std::optional<double> number = sheet.number(*input);
        const std::optional<double> counted = number ? number : sheet.stands_in(*input);
        if (counted) value = amount(words, *input, *counted);
      }
      if (value.empty()) continue;
      values += (values.empty() ? "" : ", ") + label_of(words, *input) + " " + value;
    }
    Ui::Row row;
    const std::string title = words("reckon.more");
    row.title = title;
    row.remark = values;
    row.unfolds = true;
    row.unfolded = sheet.typed().unfolded;
    ui.begin_card("reckon/more/card");
    if (ui.row("reckon/more", row)) sheet.typed().unfolded = !sheet.typed().unfolded;
    ui.end_card();
    ui.gap();
  }

  void draw_input(App& app, Ui& ui, const ReckonSheet& sheet, const ReckonInput& input) {
    if (input.either.empty()) {
      draw_field(app, ui, sheet, input);
    } else {
      draw_either(app, ui, sheet, input);
    }
    ui.gap(8);
  }

  void draw_either(App& app, Ui& ui, const ReckonSheet& sheet, const ReckonInput& leader) {
    const Words& words = ui.words();
    const ReckonInput* asked = sheet.alternative(leader.either);
    const std::string group(leader.either);
    std::vector<Option> options;
    for (const ReckonInput* input : sheet.alternatives(group)) {
      options.push_back({std::string(input->key), label_of(words, *input), {}, {}});
    }
    const std::string_view none = "none";
    if (!leader.required) options.push_back({std::string(none), words("reckon.either.none"), {}, {}});
    const std::string label = words(leader.required ? "reckon.either" : "reckon.either.optional");
    if (const auto pressed = ui.choice("reckon/either/" + group, label, options, asked ? asked->key : none)) {
      sheet.typed().either[group] = *pressed == none ? std::string() : *pressed;
    }
    if (asked != nullptr) draw_field(app, ui, sheet, *asked);
  }

  void draw_field(App& app, Ui& ui, const ReckonSheet& sheet, const ReckonInput& input) {
    switch (input.kind) {
      case ReckonInput::Kind::number:
        draw_number(app, ui, sheet, input);
        break;
      case ReckonInput::Kind::day:
        draw_day(app, ui, sheet, input);
        break;
      case ReckonInput::Kind::product:
        draw_product(app, ui, sheet, input);
        break;
      case ReckonInput::Kind::choice:
        draw_choice(ui, sheet, input);
        break;
      case ReckonInput::Kind::text:
        draw_text(ui, sheet, input);
        break;
    }
    if (problem() != nullptr && problem()->parameter == input.key) {
      problem_shown_ = true;
      // What is asked for by another answer is no mistake.
      const bool asked_for = problem()->kind == ProblemKind::missing;
      ui.notice("reckon/problem", asked_for ? Tone::quiet : Tone::alarm, ui.words()(problem()->message));
    }
  }

  // "0 to 40 °C · from the set-up"
  static std::string hint_of(const Words& words, const ReckonSheet& sheet, const ReckonInput& input) {
    std::string hint;
    const auto add = [&](const std::string& part) {
      if (!part.empty()) hint += (hint.empty() ? "" : " \u00b7 ") + part;
    };
    if (input.kind == ReckonInput::Kind::number) {
      const Range& range = input.range;
      add(words(Message("reckon.range")
                    .with("low", Quantity{range.low, decimals_needed(range.low, kMostDecimals), {}})
                    .with("high", Quantity{range.high, decimals_needed(range.high, kMostDecimals),
                                           std::string(range.unit)})));
    }
    if (const KnownInput* known = sheet.known(input)) {
      add(words(known->from));
    } else if (!sheet.value(input) && sheet.may_be_left(input)) {
      add(words(!input.path.empty() ? "reckon.from.protocol"
                : input.otherwise   ? "reckon.from.usual"
                                    : "reckon.optional"));
    }
    return hint;
  }

  void draw_number(App& app, Ui& ui, const ReckonSheet& sheet, const ReckonInput& input) {
    const Words& words = ui.words();
    const std::string label = label_of(words, input);
    const std::string unit = input.range.unit.empty() ? std::string() : words.unit(input.range.unit);
    const std::optional<double> given = sheet.number(input);
    const std::optional<double> standing = sheet.stands_in(input);
    const std::optional<double> counted = given ? given : standing;
    const std::string shown =
        counted ? words.number(*counted, decimals_needed(*counted, kMostDecimals)) : std::string();
    if (!ui.value_field(id_of(input), label, shown, unit, hint_of(words, sheet, input), !given)) return;
    NumberAsk ask;
    ask.title = label;
    ask.unit = input.range.unit;
    ask.present = counted;
    // Limits tell how precise they are, not what may be typed.
    ask.decimals = std::max({1, input.range.decimals, counted ? decimals_needed(*counted, kMostDecimals) : 0});
    ask.sign = input.range.low < 0;
    ask.low = input.range.low;
    ask.high = input.range.high;
    const std::string key(input.key);
    if (given) {
      ask.clear = standing
                      ? words(Message("reckon.back_to").with("value", Text{amount(words, input, *standing)}))
                      : words("reckon.clear");
      ask.on_clear = [this, key](App& asked) { take(asked, key, std::nullopt); };
    }
    app.open(
        make_number_screen(std::move(ask), [this, key](App& asked, double value) { take(asked, key, value); }));
  }

  void take(App& app, const std::string& key, std::optional<ReckonInputValue> value) {
    typed(app).values[key] = std::move(value);
    frames_to_answer_ = 2;
  }

  void draw_day(App& app, Ui& ui, const ReckonSheet& sheet, const ReckonInput& input) {
    const Words& words = ui.words();
    const std::string present = sheet.text(input);
    const Result<CivilDay> day = parse_civil_day(present);
    // A date is typed as it is stored; beside it, as people say it.
    const std::string said = day ? words.day(*day) : words("reckon.form.day");
    if (const auto typed_text =
            ui.text_field(id_of(input), label_of(words, input), present, said, "text", kLongestDay)) {
      take_text(app, input, *typed_text);
    }
    const CivilDay from = day ? *day : civil_day(app.now(), app.farm().place.offset);
    const std::string id = id_of(input);
    ui.begin_cells(2);
    if (ui.button(id + "/earlier", words("reckon.day.earlier"), ButtonKind::secondary, true, "minus")) {
      sheet.typed().values[std::string(input.key)] = to_iso(from.plus(-1));
    }
    ui.next_cell();
    if (ui.button(id + "/later", words("reckon.day.later"), ButtonKind::secondary, true, "plus")) {
      sheet.typed().values[std::string(input.key)] = to_iso(from.plus(1));
    }
    ui.end_cells();
  }

  void take_text(App& app, const ReckonInput& input, const std::string& text) {
    take(app, std::string(input.key), text.empty() ? std::nullopt : std::optional<ReckonInputValue>(text));
  }

  void draw_text(Ui& ui, const ReckonSheet& sheet, const ReckonInput& input) {
    const Words& words = ui.words();
    std::string hint = capitalised(words("reckon.form." + std::string(input.key)));
    if (const std::string more = hint_of(words, sheet, input); !more.empty()) hint += " \u00b7 " + more;
    if (const auto typed_text = ui.text_field(id_of(input), label_of(words, input), sheet.text(input), hint,
                                              "text", kLongestText)) {
      sheet.typed().values[std::string(input.key)] =
          typed_text->empty() ? std::nullopt : std::optional<ReckonInputValue>(*typed_text);
      frames_to_answer_ = 2;
    }
  }

  static void draw_product(const App& app, Ui& ui, const ReckonSheet& sheet, const ReckonInput& input) {
    const Words& words = ui.words();
    std::vector<Option> options;
    for (const Product& product : app.products()) {
      if (product.allowed) options.push_back({product.id, words("product." + product.id), {}, {}});
    }
    if (const auto pressed = ui.choice(id_of(input), label_of(words, input), options, sheet.text(input))) {
      sheet.typed().values[std::string(input.key)] = *pressed;
    }
  }

  static void draw_choice(Ui& ui, const ReckonSheet& sheet, const ReckonInput& input) {
    const Words& words = ui.words();
    std::vector<Option> options;
    for (const std::string_view choice : input.choices) {
      options.push_back(
          {std::string(choice), capitalised(words("reckon.choice." + std::string(choice))), {}, {}});
    }
    if (const auto pressed = ui.choice(id_of(input), label_of(words, input), options, sheet.chosen(input))) {
      sheet.typed().values[std::string(input.key)] = *pressed;
    }
  }

  // --- what came of them -------------------------------------------------------------------------------------

  void draw_outcome(Ui& ui, const ReckonSheet& sheet) const {
    const Words& words = ui.words();
    if (outcome_ && *outcome_) {
      draw_reckon_answer(ui, reckoning_, **outcome_);
    } else {
      ui.begin_card("reckon/no_answer");
      if (problem() != nullptr) {
        if (!problem_shown_) {
          ui.notice("reckon/problem", Tone::alarm, words(problem()->message));
        } else {
          const ReckonInput* at_fault = reckoning_.input(problem()->parameter);
          ui.text("reckon/stopped_by",
                  words(Message("reckon.stopped_by").with("parameter", Text{label_of(words, *at_fault)})),
                  TextSize::body, Tone::quiet);
        }
      } else {
        ui.text("reckon/missing", missing_word(words, sheet), TextSize::body, Tone::quiet);
      }
      ui.end_card();
    }
    draw_reckon_source(ui, reckoning_);
  }

  static std::string missing_word(const Words& words, const ReckonSheet& sheet) {
    std::string labels;
    for (const ReckonInput* input : sheet.missing()) {
      labels += (labels.empty() ? "" : ", ") + label_of(words, *input);
    }
    return words(Message("reckon.missing").with("inputs", Text{labels}));
  }

  const Reckoning& reckoning_;
  std::string pond_;
  std::optional<Protocol> protocol_;  // as it stood when the calculator was opened
  std::optional<std::vector<std::pair<std::string, ReckonInputValue>>> reckoned_;
  std::optional<Result<ReckonAnswer>> outcome_;
  bool problem_shown_ = false;  // beside the input that it names
  int frames_to_answer_ = 0;
};

}  // namespace

std::unique_ptr<Screen> make_reckon_screen(const Reckoning& reckoning, const std::string& pond) {
  return std::make_unique<ReckonScreen>(reckoning, pond);
}

}  // namespace tawny::ui
