#include "ui/screens/sync.h"

#include <algorithm>

#include "logbook/receipts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kMostFaults = 3;  // told one by one

std::size_t own_not_at_office(const App& app) {
  const std::uint32_t last = app.logbook().chain_of(app.boot().device).last_number;
  const auto found = app.receipts().find(app.boot().device);
  const std::uint32_t there = found == app.receipts().end() ? 0 : found->second.number;
  return last > there ? last - there : 0;
}

double share_of(const DepotRun::Tally& tally) {
  const std::size_t all = tally.to_get + tally.to_put;
  return all == 0 ? 0 : static_cast<double>(tally.got + tally.put) / static_cast<double>(all);
}

// Of a sync that failed, only what it did all the same.
void draw_carried(Ui& ui, const SyncNews& news) {
  const Words& words = ui.words();
  const DepotRun::Tally& tally = news.tally;
  const bool failed = news.state == SyncNews::State::failed;
  if (!failed || tally.entries_down > 0) {
    ui.text("sync/down", words(Message("sync.down").with("count", bare(tally.entries_down))));
  }
  if (!failed || tally.entries_up > 0) {
    ui.text("sync/up", words(Message("sync.up").with("count", bare(tally.entries_up))));
  }
}

void draw_result(App& app, Ui& ui) {
  const Words& words = ui.words();
  const SyncNews& news = app.sync_news();
  switch (news.state) {
    case SyncNews::State::running:
      ui.progress("sync/running", words("sync.running"), share_of(news.tally));
      return;
    case SyncNews::State::failed:
      ui.notice("sync/failed", Tone::warn, words("sync.fault." + std::string(name_of(news.fault->fault))));
      if (news.store != SaveOutcome::saved) ui.text("sync/store", words("sync.not_kept"));
      if (!news.fault->detail.empty()) ui.text("sync/detail", news.fault->detail, TextSize::body, Tone::quiet);
      draw_carried(ui, news);
      ui.text("sync/resumes", words("sync.resumes"), TextSize::body, Tone::quiet);
      return;
    case SyncNews::State::done:
      ui.status("sync/done", Status::done, words(Message("sync.done").with("time", news.at)));
      draw_carried(ui, news);
      break;
    case SyncNews::State::none:
      if (const Result<Instant> last = parse_instant(app.setting("depot.last"))) {
        ui.status("sync/last", Status::done, words(Message("sync.done").with("time", *last)));
      } else {
        ui.status("sync/last", Status::waiting, words("sync.never"));
      }
      break;
  }
  if (news.claimed > 0) {
    ui.notice("sync/claimed", Tone::alarm, words(Message("sync.claimed").with("count", bare(news.claimed))));
  }
  int shown = 0;
  for (const DepotRun::Fault& fault : news.tally.faults) {
    if (++shown > kMostFaults) break;
    ui.notice("sync/file/" + std::to_string(shown), Tone::warn,
              words(Message("sync.file")
                        .with("file", Text{fault.name})
                        .with("fault", Word{"sync.fault." + std::string(name_of(fault.fault))})));
  }
}

}  // namespace

void draw_sync(App& app, Ui& ui) {
  if (app.demo()) return;
  const Words& words = ui.words();
  ui.heading("office/sync", words("sync.title"));
  ui.begin_card("office/sync/card");
  Ui::Row settings;
  settings.icon = "settings";
  settings.title = words(app.has_depot() ? "depot.title" : "sync.connect");
  settings.remark = words(app.has_depot() ? "sync.connected" : "sync.connect.about");
  settings.enabled = app.boot().writer;
  if (app.has_depot()) {
    draw_result(app, ui);
    const std::size_t waiting = own_not_at_office(app);
    if (!app.this_is_office()) {
      ui.status("sync/own", waiting == 0 ? Status::done : Status::waiting,
                words(waiting == 0 ? Message("sync.own.all")
                                   : Message("sync.own.waiting").with("count", bare(waiting))));
    }
    ui.gap(8);
    if (app.sync_news().state == SyncNews::State::running) {
      if (ui.button("sync/stop", words("sync.stop"))) app.stop_sync();
    } else if (ui.button("sync/now", words("sync.now"), ButtonKind::primary, app.boot().writer)) {
      app.start_sync(false);
    }
    ui.gap(8);
  }
  const bool to_settings = ui.row("sync/settings", settings);
  bool to_code = false;
  if (app.has_depot() && app.role() == Role::manager) {
    Ui::Row code;
    code.icon = "share";
    code.title = words("code.title");
    code.remark = words("code.short");
    to_code = ui.row("sync/code", code);
  }
  ui.end_card();
  ui.gap(16);
  if (to_settings) app.open(make_depot_setup_screen());
  if (to_code) app.open(make_depot_code_screen());
}

}  // namespace tawny::ui
