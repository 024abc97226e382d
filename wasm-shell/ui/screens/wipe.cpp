#include "ui/screens/wipe.h"

#include <algorithm>
#include <cstdlib>

#include "ui/screens/screens.h"
#include "ui/screens/take_out.h"

namespace tawny::ui {
namespace {

constexpr int kNameLength = 60;

std::size_t count_in(const App& app, std::string_view key) {
  return static_cast<std::size_t>(std::strtoull(app.setting(key, "0").c_str(), nullptr, 10));
}

class WipeScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    app.frame_bars(ui, ui.words()("wipe.title"));
    part_.draw(app, ui, true);
  }

 private:
  WipePart part_;
};

}  // namespace

std::size_t entries_only_here(const App& app) {
  const std::size_t all = app.logbook().size();
  if (all == 0 || count_in(app, "out.entries") >= all) return 0;
  if (!app.offices().empty() && !app.this_is_office()) {
    std::size_t missing = 0;
    for (const std::string& device : app.logbook().devices()) {
      if (app.offices().count(device) > 0) continue;
      const auto receipt = app.receipts().find(device);
      const std::uint32_t held = receipt == app.receipts().end() ? 0 : receipt->second.number;
      const std::uint32_t last = app.logbook().chain_of(device).last_number;
      if (last > held) missing += last - held;
    }
    return missing;
  }
  // What one folder holds says nothing of another.
  const bool same_folder = app.has_depot() && app.setting("synced.depot") == app.depot();
  const std::size_t in_folder = same_folder ? count_in(app, "synced.entries") : 0;
  const std::size_t elsewhere = std::max(in_folder, count_in(app, "out.entries"));
  return all > elsewhere ? all - elsewhere : 0;
}

void WipePart::draw(App& app, Ui& ui, bool with_ways) {
  const Words& words = ui.words();
  ui.begin_content("wipe", Sizes::kTarget + 2 * Sizes::kGrid);
  if (!with_ways) {
    ui.text("wipe/forgot", words("lock.forgot.about"));
    ui.gap();
  }
  ui.text("wipe/about", words("wipe.about"));
  ui.text("wipe/network", words("wipe.network"), TextSize::body, Tone::quiet);
  ui.gap(16);
  const std::size_t only_here = entries_only_here(app);
  if (only_here == 0) {
    ui.status("wipe/elsewhere", Status::done, words("wipe.elsewhere"));
  } else {
    ui.notice("wipe/only_here", Tone::alarm, words(Message("wipe.only_here").with("count", bare(only_here))));
    ui.gap();
    if (with_ways) {
      if (ui.button("wipe/out", words("office.out.share"), ButtonKind::secondary, true, "share")) {
        take_out_bundle(app);
      }
      ui.gap();
      if (app.has_depot()) {
        if (ui.button("wipe/sync", words("sync.now"), ButtonKind::secondary,
                      app.sync_news().state != SyncNews::State::running)) {
          app.start_sync(false);
        }
        ui.gap();
      }
    }
    if (ui.checkbox("wipe/loses", words(Message("wipe.loses").with("count", bare(only_here))), loses_)) {
      loses_ = !loses_;
    }
  }
  ui.gap(16);
  if (auto typed =
          ui.text_field("wipe/name", words("wipe.name"), name_, words("wipe.name.hint"), "name", kNameLength)) {
    name_ = *std::move(typed);
  }
  const bool right_name = app.farm().set_up && name_ == app.farm().name;
  if (!name_.empty() && !right_name) ui.notice("wipe/name/wrong", Tone::warn, words("wipe.name.wrong"));
  if (!app.boot().writer) ui.notice("wipe/pen", Tone::warn, words("store.other_tab"));
  ui.gap(16);
  ui.end_content();
  ui.begin_footer();
  const bool may = right_name && (only_here == 0 || loses_) && app.boot().writer && !wiping_;
  if (ui.button("wipe/now", words(wiping_ ? "wipe.under_way" : "wipe.now"), ButtonKind::danger, may)) {
    wiping_ = true;
    app.platform().wipe();
  }
  ui.end_footer();
}

std::unique_ptr<Screen> make_wipe_screen() { return std::make_unique<WipeScreen>(); }

}  // namespace tawny::ui
