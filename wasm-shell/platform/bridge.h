// Between the program and the page: the only place where C++ and JavaScript meet.
//
// What the program asks of the page goes through globalThis.tawnyHost (listed in web/src/host.js); what the
// page tells the program comes in through the exported functions tawny_* at the end of bridge.cpp. Every text
// crosses as pointer and length of UTF-8; the page frees what it allocated.
#pragma once

#include <string>
#include <string_view>

#include "ui/platform.h"

namespace tawny::shell {

class Shell;

class BrowserPlatform final : public ui::Platform {
 public:
  Instant now() const override;
  double steady_ms() const override;
  void save(const ui::SaveRequest& request) override;
  void share_file(std::string_view name, std::string_view text) override;
  void show_report(std::string_view name, std::string_view html) override;
  void carry(int ticket, std::string_view act, std::string_view name, std::string_view bytes) override;
  void stop_carrying() override;
  bool restart_for_depot() override;
  void start_with_hashes() override;
  std::string code_rows(std::string_view settings) override;
  void show_licences() override;
  void pick_file() override;
  void mirror(std::string_view json) override;
  void announce(std::string_view text, bool urgent) override;
  void vibrate(int milliseconds) override;
  std::string random_hex(int digits) override;
  void sign(int ticket, std::string_view text) override;
  void check_signatures(int ticket, const std::vector<SignatureCheck>& checks) override;
  void fetch_words(std::string_view language) override;
  void remember(std::string_view key, std::string_view value) override;
  void switch_store(std::string_view store, bool fresh) override;
  void take_new_device_id() override;
  void ask_for_pen() override;
  void accept_update() override;
  void ask_position() override;
  void derive_pin(int ticket, std::string_view pin, std::string_view salt, int iterations) override;
  void show_locked(bool locked) override;
  void wipe() override;
};

// The shell that the exported functions speak to; before this is set they do nothing.
void connect(Shell* shell);
Shell* connected_shell();  // null before that

// The page's own ground follows the theme, so that nothing flashes white before sunrise. Told only on a change.
void show_night(bool night);
// One timer: calling it again moves it.
void wake_page_after_ms(double delay_ms);

}  // namespace tawny::shell
