// The farm's phones: who has each, when it was last heard of, whether what it writes counts; and one of them, with its
// six words, to be admitted or shut out.
#include <algorithm>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "base/sort_stably.h"
#include "logbook/device_key.h"
#include "logbook/kinds.h"
#include "ui/screens/devices.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"
#include "ui/screens/when.h"

namespace tawny::ui {
namespace {

constexpr int kReasonLength = 300;

// One device as the logbook here knows it.
struct KnownDevice {
  std::string id;
  std::string person;  // by its latest set-up, whether that counts or not; may be empty
  Instant last_recorded;
  std::size_t entries = 0;
};

// The one not heard of for the longest first: that is the one to ask after.
std::vector<KnownDevice> devices_of(const Logbook& logbook) {
  std::map<std::string, KnownDevice> found;
  for (const Entry* entry : logbook.all()) {
    KnownDevice& device = found[entry->id.device];
    device.id = entry->id.device;
    device.last_recorded = std::max(device.last_recorded, entry->recorded);
    ++device.entries;
    const std::string* person = entry->kind == kind::kDeviceSetup ? entry->text("person") : nullptr;
    if (person != nullptr) device.person = *person;
  }
  std::vector<KnownDevice> devices;
  for (auto& [id, device] : found) devices.push_back(std::move(device));
  sort_stably(devices,
              [](const KnownDevice& a, const KnownDevice& b) { return a.last_recorded < b.last_recorded; });
  return devices;
}

std::string who_of(const Words& words, const KnownDevice& device) {
  return device.person.empty() ? words("person.unknown") : device.person;
}

// Nothing in a farm without keys, where every device is as good as any other.
void draw_trust(const App& app, Ui& ui, const std::string& id, const std::string& device) {
  const auto found = app.trust().devices.find(device);
  if (!app.trust().enforced || found == app.trust().devices.end()) return;
  const DeviceTrust& trust = found->second;
  const Words& words = ui.words();
  if (trust.revoked) {
    ui.status(id + "/trust", Status::stopped,
              words(Message("devices.state.revoked").with("number", bare(trust.last_number))));
  } else if (!trust.has_key) {
    ui.status(id + "/trust", Status::stopped, words("devices.state.no_key"));
  } else if (trust.office) {
    ui.status(id + "/trust", Status::done,
              words(trust.founder ? "devices.state.founder" : "devices.state.office"));
  } else {
    ui.status(id + "/trust", trust.admitted ? Status::done : Status::waiting,
              words(trust.admitted ? "devices.state.admitted" : "devices.state.waiting"));
  }
  if (trust.left_out > 0) {
    ui.fact(id + "/left_out", words("devices.left_out"), words.number(static_cast<double>(trust.left_out), 0));
  }
}

void draw_known(const App& app, Ui& ui, const std::string& id, const KnownDevice& device) {
  const Words& words = ui.words();
  ui.fact(id + "/seen", words("devices.seen"), words.age(device.last_recorded));
  ui.fact(id + "/entries", words("office.entries"), words.number(static_cast<double>(device.entries), 0));
  const auto receipt = app.receipts().find(device.id);
  if (app.offices().count(device.id) > 0) {
    ui.status(id + "/office", Status::done, words("devices.office"));
  } else if (receipt != app.receipts().end()) {
    ui.status(id + "/office", Status::done,
              words(Message("devices.at_office")
                        .with("number", bare(receipt->second.number))
                        .with("time", receipt->second.when)));
  } else {
    ui.status(id + "/office", Status::waiting, words("devices.not_at_office"));
  }
  draw_trust(app, ui, id, device.id);
}

class DevicesScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("devices.title"));
    ui.begin_content("devices");
    draw_trust_news(app, ui, "devices", false);
    ui.text("devices/about", words("devices.about"), TextSize::body, Tone::quiet);
    if (!app.trust().enforced) ui.text("devices/open", words("devices.open_farm"), TextSize::body, Tone::quiet);
    ui.gap(8);
    if (counted_ != app.logbook().size()) {
      counted_ = app.logbook().size();
      devices_ = devices_of(app.logbook());
    }
    const KnownDevice* chosen = nullptr;
    for (const KnownDevice& device : devices_) {
      if (draw_device(app, ui, device)) chosen = &device;
    }
    int shown = 0;
    for (const ChainProblem& problem : app.trust().problems) {
      // A tail without a signature is on its way, as a rule; anything else somebody has done.
      const Tone tone = problem.message.id == "trust.unsigned" ? Tone::warn : Tone::alarm;
      ui.notice("devices/problem/" + std::to_string(++shown), tone, words(about_person(words, problem)));
      ui.gap(8);
      if (shown == kMostProblems) break;
    }
    ui.end_content();
    if (chosen != nullptr) app.open(make_device_screen(chosen->id));
  }

 private:
  static constexpr int kMostProblems = 5;

  // With the name of who has the device in place of its id.
  Message about_person(const Words& words, const ChainProblem& problem) const {
    Message message = problem.message;
    for (const KnownDevice& device : devices_) {
      if (device.id != problem.device) continue;
      for (auto& [key, value] : message.values) {
        if (key == "device") value = Text{who_of(words, device)};
      }
    }
    return message;
  }

  static bool draw_device(App& app, Ui& ui, const KnownDevice& device) {
    const Words& words = ui.words();
    const std::string id = "device/" + device.id;
    ui.begin_card(id, who_of(words, device));
    ui.text(id + "/who", who_of(words, device), TextSize::lead, Tone::ink, true);
    std::string remark = words(Message("devices.id").with("device", Text{device.id}));
    if (device.id == app.boot().device) remark = words("devices.this");
    ui.text(id + "/id", remark, TextSize::body, Tone::quiet);
    draw_known(app, ui, id, device);
    const bool pressed = ui.end_card();
    ui.gap(8);
    return pressed;
  }

  std::vector<KnownDevice> devices_;
  std::size_t counted_ = 0;  // entries, when they were last looked through
};

class DeviceScreen : public Screen {
 public:
  explicit DeviceScreen(std::string device) : id_(std::move(device)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (counted_ != app.logbook().size()) {
      counted_ = app.logbook().size();
      for (KnownDevice& device : devices_of(app.logbook())) {
        if (device.id == id_) device_ = std::move(device);
      }
    }
    app.frame_bars(ui, words("devices.device"));
    const Asked before = asked_;
    begin_form(app, ui, "device");
    ui.heading("device/who", who_of(words, device_), 1);
    ui.text("device/id", words(Message("devices.id").with("device", Text{id_})), TextSize::body, Tone::quiet);
    draw_known(app, ui, "device", device_);
    draw_words(app, ui);
    if (app.news().state == SaveNews::State::saved) {
      ui.notice("device/saved", Tone::open, words(Message("save.saved").with("time", app.news().at)));
      ui.gap(8);
    }
    draw_ways(app, ui);
    ui.gap(16);
    ui.end_content();
    // A footer belongs to what stood in the content, which a press just now may have changed.
    if (asked_ == before) draw_footer(app, ui);
  }

  bool holds_unsaved() const override { return !reason_.empty(); }

 private:
  enum class Asked { nothing, admit, admit_office, revoke };

  void draw_words(const App& app, Ui& ui) const {
    const auto six = fingerprint_words(id_);
    if (!six) return;
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("device/words/title", words("devices.words"));
    std::string read_aloud;
    for (std::size_t i = 0; i < six->size(); ++i)
      read_aloud += (i == 0 ? "" : i == 3 ? " \u00b7 " : " ") + (*six)[i];
    ui.text("device/words", read_aloud, TextSize::lead, Tone::ink, true);
    const bool own = id_ == app.boot().device;
    ui.text("device/words/about", words(own ? "devices.words.own" : "devices.words.other"), TextSize::body,
            Tone::quiet);
    ui.gap(16);
  }

  void draw_ways(App& app, Ui& ui) {
    const Words& words = ui.words();
    const auto found = app.trust().devices.find(id_);
    if (!app.trust().enforced || found == app.trust().devices.end()) return;
    const DeviceTrust& trust = found->second;
    const bool own = id_ == app.boot().device;
    if (own && (trust.revoked || !trust.has_key) && app.boot().writer) {
      if (ui.button("device/new_name", words("devices.new_name"), ButtonKind::secondary)) {
        app.platform().take_new_device_id();
      }
      return;
    }
    if (!app.may_decide()) {
      ui.notice("device/office_only", Tone::quiet, words("devices.office_only"));
      return;
    }
    if (own || !trust.has_key) return;
    const bool out = trust.revoked || !trust.admitted;
    const bool for_good = trust.revoked && trust.office;
    if (out && !for_good) way(app, ui, Asked::admit, "admit", ButtonKind::primary);
    if ((out || !trust.office) && !for_good)
      way(app, ui, Asked::admit_office, "admit_office", ButtonKind::secondary);
    if (!trust.revoked && trust.admitted) way(app, ui, Asked::revoke, "revoke", ButtonKind::danger);
    if (asked_ != Asked::revoke) return;
    if (trust.office) ui.notice("device/revoke/office", Tone::warn, words("devices.revoke.office"));
    when_.draw(app, ui, "devices.revoke.from");
    if (auto typed = ui.text_field("device/reason", words("key.reason"), reason_, words("entry.hint.reason"),
                                   "note", kReasonLength)) {
      reason_ = *std::move(typed);
    }
  }

  // Once it is pressed, what it means; the footer then asks for a yes.
  void way(App& app, Ui& ui, Asked what, std::string_view word, ButtonKind kind) {
    const std::string id = "devices." + std::string(word);
    if (asked_ == what) {
      ui.heading("device/" + std::string(word) + "/title", ui.words()(id));
      ui.text("device/" + std::string(word) + "/about", ui.words()(id + ".about"), TextSize::lead);
    } else if (asked_ == Asked::nothing &&
               ui.button("device/" + std::string(word), ui.words()(id), kind, app.can_write())) {
      app.clear_news();
      asked_ = what;
    }
    if (asked_ == Asked::nothing) ui.gap(8);
  }

  void draw_footer(App& app, Ui& ui) {
    if (asked_ == Asked::nothing) return;
    const Words& words = ui.words();
    const bool revokes = asked_ == Asked::revoke;
    const char* label = revokes                         ? "devices.revoke.now"
                        : asked_ == Asked::admit_office ? "devices.admit_office"
                                                        : "devices.admit";
    if (!save_footer(app, ui, words(label), !revokes || !reason_.empty())) return;
    app.put({revokes ? app.revocation(id_, when_.at(app), reason_)
                     : app.admission(id_, asked_ == Asked::admit_office)});
    asked_ = Asked::nothing;
    reason_.clear();
  }

  std::string id_;
  KnownDevice device_;
  std::size_t counted_ = 0;
  Asked asked_ = Asked::nothing;
  When when_;
  std::string reason_;
};

std::size_t waiting(const App& app) {
  std::size_t count = 0;
  for (const auto& [id, device] : app.trust().devices) {
    if (device.has_key && !device.admitted && !device.revoked && device.last_held > 0) ++count;
  }
  return count;
}

}  // namespace

void draw_trust_news(App& app, Ui& ui, std::string_view where, bool with_way) {
  const Words& words = ui.words();
  const std::string at(where);
  bool said = false;
  const auto notice = [&](std::string_view id, Tone tone, const std::string& text) {
    ui.notice(at + "/" + std::string(id), tone, text);
    ui.gap(8);
    said = true;
  };
  if (app.key_lost()) {
    notice("key_lost", Tone::alarm, words("trust.key_lost"));
    if (!app.alarm() && app.boot().writer &&
        ui.button(at + "/new_name", words("devices.new_name"), ButtonKind::secondary)) {
      app.platform().take_new_device_id();
    }
    return;
  }
  if (!app.trust().enforced) return;
  if (app.checks_refused()) notice("checks_refused", Tone::alarm, words("trust.checks_refused"));
  const auto own = app.trust().devices.find(app.boot().device);
  if (own != app.trust().devices.end() && own->second.revoked) {
    notice("revoked", Tone::alarm, words("trust.revoked.own"));
  } else if (own != app.trust().devices.end() && !own->second.admitted) {
    notice("waiting", Tone::warn, words("trust.waiting.own"));
  }
  if (const std::size_t others = app.may_decide() ? waiting(app) : 0; others > 0) {
    notice("others_wait", Tone::warn, words(Message("trust.waiting.others").with("count", bare(others))));
  }
  if (!said || !with_way) return;
  if (ui.button(at + "/phones", words("trust.look"), ButtonKind::secondary)) {
    const bool own_words = !app.may_decide();
    app.open(own_words ? make_device_screen(app.boot().device) : make_devices_screen());
  }
  ui.gap(16);
}

std::unique_ptr<Screen> make_devices_screen() { return std::make_unique<DevicesScreen>(); }
std::unique_ptr<Screen> make_device_screen(const std::string& device) {
  return std::make_unique<DeviceScreen>(device);
}

}  // namespace tawny::ui
