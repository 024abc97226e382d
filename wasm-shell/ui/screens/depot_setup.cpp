// The office's folder: where it is and under which account this device writes. And the code that brings the
// same to another phone.
#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <utility>

#include "logbook/kinds.h"
#include "ui/drawings/drawings.h"
#include "ui/screens/form.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kCodeSide = 320;
constexpr int kMostLetters = 300;

struct DepotField {
  std::string_view key;         // of the setting, behind "depot."
  std::string_view input_kind;  // of the entry bar
  bool needed = true;
};
constexpr DepotField kFolderFields[] = {{"address", "address"}, {"user", "text"}, {"password", "secret"}};
constexpr DepotField kBucketFields[] = {{"address", "address"},   {"bucket", "text"}, {"region", "text"},
                                        {"writer", "text"},       {"key_id", "text"}, {"secret", "secret"},
                                        {"prefix", "text", false}};
constexpr std::string_view kChosen[] = {"kind", "style"};

using Depot = std::map<std::string, std::string, std::less<>>;

std::string_view value_of(const Depot& depot, std::string_view key) {
  const auto found = depot.find(key);
  return found == depot.end() ? std::string_view() : std::string_view(found->second);
}

bool is_bucket(const Depot& depot) { return value_of(depot, "kind") == "s3"; }

template <typename Use>
void each_field(const Depot& depot, Use use) {
  if (is_bucket(depot)) {
    for (const DepotField& field : kBucketFields) use(field);
  } else {
    for (const DepotField& field : kFolderFields) use(field);
  }
}

Depot depot_of(const App& app) {
  Depot depot;
  const auto take = [&](std::string_view key) {
    if (const std::string value = app.setting("depot." + std::string(key)); !value.empty()) {
      depot.emplace(key, value);
    }
  };
  for (const std::string_view key : kChosen) take(key);
  for (const DepotField& field : kFolderFields) take(field.key);
  for (const DepotField& field : kBucketFields) take(field.key);
  return depot;
}

// The account is the folder's name on a web folder: letters, digits, - and _, as every server takes them.
bool is_account(std::string_view text) {
  if (text.empty() || text.size() > 64) return false;
  for (const char c : text) {
    const bool fine =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
    if (!fine) return false;
  }
  return true;
}

std::optional<Message> fault_in(const Depot& depot) {
  std::optional<Message> fault;
  each_field(depot, [&](const DepotField& field) {
    if (!fault && field.needed && value_of(depot, field.key).empty()) {
      fault = Message("depot.missing").with("value", Word{"depot." + std::string(field.key)});
    }
  });
  if (fault) return fault;
  const std::string_view address = value_of(depot, "address");
  // On this machine itself a trial may do without encryption; browsers allow no other.
  const bool safe = address.substr(0, 8) == "https://" || address.substr(0, 17) == "http://localhost:" ||
                    address.substr(0, 17) == "http://127.0.0.1:";
  if (!safe) return Message("depot.not_safe");
  const std::string_view account = value_of(depot, is_bucket(depot) ? "writer" : "user");
  if (!is_account(account)) return Message("depot.bad_account");
  return std::nullopt;
}

// What is secret stays on this device, but for the code, which is there to take it elsewhere.
std::string hint_of(const Words& words, const DepotField& field, std::string_view prefix) {
  if (field.input_kind == "secret" && prefix == "code") return words("code.secret.hint");
  return words("depot." + std::string(field.key) + ".hint");
}

// Under `prefix` for the ids of the controls.
void draw_fields(Ui& ui, Depot& depot, const std::string& prefix) {
  const Words& words = ui.words();
  each_field(depot, [&](const DepotField& field) {
    const std::string key(field.key);
    const std::string_view value = value_of(depot, key);
    // What is secret is not shown: only that it is there.
    const bool hidden = field.input_kind == "secret" && !value.empty();
    if (auto typed = ui.text_field(prefix + "/" + key, words("depot." + key),
                                   hidden ? words("depot.hidden") : std::string(value),
                                   hint_of(words, field, prefix), field.input_kind, kMostLetters)) {
      // A secret field opens empty: accepted as it is, it leaves what is kept.
      if (!hidden || !typed->empty()) depot.insert_or_assign(key, *std::move(typed));
    }
    ui.gap(8);
  });
  if (!is_bucket(depot)) return;
  std::vector<Option> styles;
  for (const char* style : {"path", "host"}) {
    styles.push_back({style, words("depot.style." + std::string(style)), {}, {}});
  }
  const std::string style = value_of(depot, "style").empty() ? "path" : std::string(value_of(depot, "style"));
  if (auto chosen = ui.choice(prefix + "/style", words("depot.style"), styles, style)) {
    depot.insert_or_assign("style", *chosen);
  }
  ui.gap(8);
}

class DepotSetupScreen : public Screen {
 public:
  explicit DepotSetupScreen(std::map<std::string, std::string> brought)
      : brought_(!brought.empty()), depot_(brought.begin(), brought.end()) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, words("depot.title"));
    begin_form(app, ui, "depot");
    if (brought_) ui.notice("depot/brought", Tone::quiet, words("depot.brought"));
    ui.text("depot/about", words("depot.about"));
    ui.gap(8);
    std::vector<Option> kinds;
    for (const char* kind : {"webdav", "s3"})
      kinds.push_back({kind, words("depot.kind." + std::string(kind)), {}, {}});
    if (auto chosen =
            ui.choice("depot/kind", words("depot.kind"), kinds, std::string(value_of(depot_, "kind")))) {
      depot_.insert_or_assign("kind", *chosen);
    }
    ui.gap(8);
    draw_fields(ui, depot_, "depot");
    const bool may_be_office = app.farm().set_up && app.role() == Role::manager && app.can_write();
    if (may_be_office) {
      if (ui.checkbox("depot/office", words("depot.office"), office_)) office_ = !office_;
      ui.text("depot/office/about", words("depot.office.about"), TextSize::body, Tone::quiet);
      ui.gap(8);
    }
    ui.notice("depot/caution", Tone::warn, words("depot.caution"));
    if (fault_) {
      ui.gap(8);
      ui.notice("depot/fault", Tone::alarm, words(*fault_));
    }
    if (app.has_depot()) {
      ui.gap(16);
      if (ui.button("depot/forget", words("depot.forget"), ButtonKind::danger)) {
        forget(app);
        return;
      }
    }
    ui.end_content();
    if (save_footer(app, ui, words("depot.save"), true)) save(app, may_be_office);
  }

  bool holds_unsaved() const override { return started_ && depot_ != at_first_; }

 private:
  void start(App& app) {
    started_ = true;
    if (!brought_) depot_ = depot_of(app);
    if (value_of(depot_, "kind").empty()) depot_.insert_or_assign("kind", "webdav");
    at_first_ = depot_;
    office_ = app.this_is_office();
  }

  void save(App& app, bool may_be_office) {
    fault_ = fault_in(depot_);
    if (fault_) return;
    Depot kept;
    for (const std::string_view key : kChosen) kept.emplace(key, value_of(depot_, key));
    each_field(depot_, [&](const DepotField& field) { kept.emplace(field.key, value_of(depot_, field.key)); });
    if (!is_bucket(depot_)) kept.insert_or_assign("writer", std::string(value_of(depot_, "user")));
    const std::string before = app.depot();
    for (const auto& [key, value] : kept) app.set_setting("depot." + key, value);
    // What was read in another folder says nothing of this one.
    if (app.depot() != before) app.set_setting("depot.known", "");
    at_first_ = depot_;
    if (may_be_office && office_ != app.this_is_office()) {
      Draft draft;
      draft.kind = kind::kDeviceSetup;
      draft.values = {
          {"person", app.person()}, {"role", std::string(name_of(app.role()))}, {"office", office_}};
      app.put({std::move(draft)}, [&app] { leave(app); });
      return;
    }
    leave(app);
  }

  static void leave(App& app) {
    if (app.platform().restart_for_depot()) return;
    app.start_sync(false);
    if (app.farm().set_up) {
      app.open_tab(Tab::office);
    } else {
      app.show_first_screen();
    }
  }

  void forget(App& app) {
    app.stop_sync();
    for (const char* key : {"kind", "password", "secret", "known", "last"}) {
      app.set_setting("depot." + std::string(key), "");
    }
    if (app.platform().restart_for_depot()) return;
    app.open_tab(Tab::office);
  }

  bool started_ = false, brought_ = false, office_ = false;
  Depot depot_, at_first_;
  std::optional<Message> fault_;
};

std::string json_of(const Depot& depot) {
  rapidjson::StringBuffer buffer;
  rapidjson::Writer<rapidjson::StringBuffer> json(buffer);
  const auto put = [&](std::string_view text) {
    json.String(text.data(), static_cast<rapidjson::SizeType>(text.size()));
  };
  json.StartObject();
  for (const auto& [key, value] : depot) {
    put(key);
    put(value);
  }
  json.EndObject();
  return buffer.GetString();
}

class DepotCodeScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    app.frame_bars(ui, words("code.title"));
    ui.begin_content("code");
    ui.text("code/about", words("code.about"));
    ui.gap(8);
    draw_fields(ui, depot_, "code");
    if (fault_in(depot_)) {
      ui.text("code/needs", words("code.needs"), TextSize::body, Tone::quiet);
    } else {
      if (depot_ != drawn_) {
        drawn_ = depot_;
        rows_ = app.platform().code_rows(json_of(depot_));
      }
      if (rows_.empty()) {
        ui.notice("code/too_long", Tone::warn, words("code.too_long"));
      } else {
        draw_code(ui, ui.picture("code/picture", words("code.picture"), std::min(kCodeSide, ui.width())),
                  rows_);
        ui.gap(8);
        ui.notice("code/caution", Tone::warn, words("code.caution"));
      }
    }
    ui.gap(16);
    ui.end_content();
  }

 private:
  // All that is the same for every device; its own account is typed.
  void start(App& app) {
    started_ = true;
    depot_ = depot_of(app);
    for (const char* key : {"user", "password", "writer", "key_id", "secret"}) depot_.erase(key);
  }

  bool started_ = false;
  Depot depot_, drawn_;
  std::string rows_;
};

}  // namespace

std::unique_ptr<Screen> make_depot_setup_screen(std::map<std::string, std::string> brought) {
  return std::make_unique<DepotSetupScreen>(std::move(brought));
}

std::unique_ptr<Screen> make_depot_code_screen() { return std::make_unique<DepotCodeScreen>(); }

}  // namespace tawny::ui
