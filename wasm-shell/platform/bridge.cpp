#include "platform/bridge.h"

#include <emscripten.h>
#include <emscripten/html5.h>

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <optional>

#include "base/json.h"
#include "platform/shell.h"
#include "ui/shown.h"

// --- what the program asks of the page
// ---------------------------------------------------------------------------
// clang-format off
EM_JS(void, host_save, (int ticket, const char* text, int length), {
  globalThis.tawnyHost.save(ticket, UTF8ToString(text, length));
});
EM_JS(void, host_share_file, (const char* name, int name_length, const char* text, int length), {
  globalThis.tawnyHost.shareFile(UTF8ToString(name, name_length), UTF8ToString(text, length));
});
EM_JS(void, host_show_report, (const char* name, int name_length, const char* html, int length), {
  globalThis.tawnyHost.showReport(UTF8ToString(name, name_length), UTF8ToString(html, length));
});
EM_JS(void, host_show_licences, (), { globalThis.tawnyHost.showLicences(); });
EM_JS(void, host_carry,
      (int ticket, const char* act, int act_length, const char* name, int name_length, const char* bytes, int length), {
  globalThis.tawnyHost.carry(ticket, UTF8ToString(act, act_length), UTF8ToString(name, name_length),
                             HEAPU8.slice(bytes, bytes + length));
});
EM_JS(void, host_stop_carrying, (), { globalThis.tawnyHost.stopCarrying(); });
EM_JS(void, host_start_with_hashes, (), { globalThis.tawnyHost.startWithHashes(); });
EM_JS(int, host_restart_for_depot, (), { return globalThis.tawnyHost.restartForDepot() ? 1 : 0; });
EM_JS(char*, host_code_rows, (const char* settings, int length), {
  const rows = globalThis.tawnyHost.codeRows(UTF8ToString(settings, length));
  const bytes = lengthBytesUTF8(rows) + 1;
  const text = _tawny_alloc(bytes);
  stringToUTF8(rows, text, bytes);
  return text;
});
EM_JS(void, host_pick_file, (), { globalThis.tawnyHost.pickFile(); });
EM_JS(void, host_mirror, (const char* json, int length), {
  globalThis.tawnyHost.mirror(UTF8ToString(json, length));
});
EM_JS(void, host_announce, (const char* text, int length, int urgent), {
  globalThis.tawnyHost.announce(UTF8ToString(text, length), urgent !== 0);
});
EM_JS(void, host_vibrate, (int milliseconds), { globalThis.tawnyHost.vibrate(milliseconds); });
EM_JS(double, host_random_32_bits, (), {
  return globalThis.crypto.getRandomValues(new Uint32Array(1))[0];
});
EM_JS(void, host_sign, (int ticket, const char* text, int length), {
  globalThis.tawnyHost.sign(ticket, UTF8ToString(text, length));
});
EM_JS(void, host_check_signatures, (int ticket, const char* rows, int length), {
  globalThis.tawnyHost.checkSignatures(ticket, UTF8ToString(rows, length));
});
EM_JS(void, host_fetch_words, (const char* language, int length), {
  globalThis.tawnyHost.fetchWords(UTF8ToString(language, length));
});
EM_JS(void, host_remember, (const char* key, int key_length, const char* value, int length), {
  globalThis.tawnyHost.remember(UTF8ToString(key, key_length), UTF8ToString(value, length));
});
EM_JS(void, host_switch_store, (const char* store, int length, int fresh), {
  globalThis.tawnyHost.switchStore(UTF8ToString(store, length), fresh !== 0);
});
EM_JS(void, host_take_new_device_id, (), { globalThis.tawnyHost.takeNewDeviceId(); });
EM_JS(void, host_ask_for_pen, (), { globalThis.tawnyHost.askForPen(); });
EM_JS(void, host_accept_update, (), { globalThis.tawnyHost.acceptUpdate(); });
EM_JS(void, host_ask_position, (), { globalThis.tawnyHost.askPosition(); });
EM_JS(void, host_show_night, (int night), { globalThis.tawnyHost.showNight(night !== 0); });
EM_JS(void, host_wake_after, (double milliseconds), { globalThis.tawnyHost.wakeAfter(milliseconds); });
// clang-format on

namespace tawny::shell {
namespace {

Shell* connected = nullptr;

int length_of(std::string_view text) { return static_cast<int>(text.size()); }

ui::SaveOutcome outcome_of(std::string_view word) {
  if (word == "saved") return ui::SaveOutcome::saved;
  if (word == "full") return ui::SaveOutcome::full;
  if (word == "refused") return ui::SaveOutcome::refused;
  if (word == "newer") return ui::SaveOutcome::newer;
  return ui::SaveOutcome::failed;
}

// Null when the member is missing.
const rapidjson::Value* member(const rapidjson::Value& object, const char* key) {
  return object.HasMember(key) ? &object[key] : nullptr;
}

std::string text_of(const rapidjson::Value& object, const char* key) {
  const rapidjson::Value* value = member(object, key);
  return value != nullptr && value->IsString() ? std::string(value->GetString(), value->GetStringLength())
                                               : std::string();
}

std::string to_hex(std::string_view bytes) {
  constexpr char kDigits[] = "0123456789abcdef";
  std::string hex;
  for (const char byte : bytes) {
    hex += kDigits[static_cast<unsigned char>(byte) >> 4U];
    hex += kDigits[static_cast<unsigned char>(byte) & 15U];
  }
  return hex;
}

// Of an object of texts; what is no text is left out.
std::map<std::string, std::string> texts_of(const rapidjson::Value& object, const char* key) {
  std::map<std::string, std::string> texts;
  const rapidjson::Value* value = member(object, key);
  if (value == nullptr || !value->IsObject()) return texts;
  for (auto each = value->MemberBegin(); !(each == value->MemberEnd()); ++each) {
    if (each->value.IsString()) texts[each->name.GetString()] = each->value.GetString();
  }
  return texts;
}

std::optional<Witness> witness_of(const rapidjson::Value& boot) {
  const rapidjson::Value* witness = member(boot, "witness");
  if (witness == nullptr || !witness->IsObject()) return std::nullopt;
  const rapidjson::Value* number = member(*witness, "number");
  if (number == nullptr || !number->IsUint()) return std::nullopt;
  return Witness{text_of(*witness, "device"), number->GetUint(), text_of(*witness, "hash")};
}

// Written by web/src/main.js. What is missing or of another type keeps its first value.
ui::Boot boot_of(std::string_view json) {
  ui::Boot boot;
  const rapidjson::Document document = parse_json(json);
  if (document.HasParseError() || !document.IsObject()) {
    boot.store_state = ui::SaveOutcome::failed;
    return boot;
  }
  boot.store = text_of(document, "store");
  boot.device = text_of(document, "device");
  boot.public_key = text_of(document, "publicKey");
  boot.witness = witness_of(document);
  boot.store_state = outcome_of(text_of(document, "storeState"));
  boot.app_version = text_of(document, "version");
  const rapidjson::Value* writer = member(document, "writer");
  boot.writer = writer != nullptr && writer->IsTrue();
  const rapidjson::Value* can_lock = member(document, "canLock");
  boot.can_lock = can_lock != nullptr && can_lock->IsTrue();
  const rapidjson::Value* offset = member(document, "offsetMin");
  if (offset != nullptr && offset->IsInt()) boot.utc_offset_min = offset->GetInt();
  const rapidjson::Value* languages = member(document, "languages");
  if (languages != nullptr && languages->IsArray()) {
    for (rapidjson::SizeType i = 0; i < languages->Size(); ++i) {
      if ((*languages)[i].IsString()) boot.languages.push_back((*languages)[i].GetString());
    }
  }
  boot.settings = texts_of(document, "settings");
  boot.brought_depot = texts_of(document, "depot");
  const rapidjson::Value* saved = member(document, "depotSaved");
  boot.depot_saved = saved != nullptr && saved->IsTrue();
  return boot;
}

}  // namespace

double BrowserPlatform::steady_ms() const { return emscripten_get_now(); }

Instant BrowserPlatform::now() const {
  return Instant{static_cast<std::int64_t>(std::floor(emscripten_date_now() / 1000.0))};
}

void BrowserPlatform::save(const ui::SaveRequest& request) {
  // One entry a line: device, number, hash, line, with tabs between. A line of JSON holds no bare tab.
  std::string text;
  for (const Entry* entry : request.entries) {
    text +=
        entry->id.device + '\t' + std::to_string(entry->id.number) + '\t' + entry->id.hash + '\t' + entry->line;
    text += '\n';
  }
  host_save(request.ticket, text.data(), length_of(text));
}

void BrowserPlatform::share_file(std::string_view name, std::string_view text) {
  host_share_file(name.data(), length_of(name), text.data(), length_of(text));
}

void BrowserPlatform::show_report(std::string_view name, std::string_view html) {
  host_show_report(name.data(), length_of(name), html.data(), length_of(html));
}

void BrowserPlatform::show_licences() { host_show_licences(); }

void BrowserPlatform::carry(int ticket, std::string_view act, std::string_view name, std::string_view bytes) {
  host_carry(ticket, act.data(), length_of(act), name.data(), length_of(name), bytes.data(), length_of(bytes));
}

void BrowserPlatform::stop_carrying() { host_stop_carrying(); }

bool BrowserPlatform::restart_for_depot() { return host_restart_for_depot() != 0; }

void BrowserPlatform::start_with_hashes() { host_start_with_hashes(); }

std::string BrowserPlatform::code_rows(std::string_view settings) {
  char* rows = host_code_rows(settings.data(), length_of(settings));
  std::string text = rows;
  std::free(rows);
  return text;
}

void BrowserPlatform::pick_file() { host_pick_file(); }

void BrowserPlatform::mirror(std::string_view json) { host_mirror(json.data(), length_of(json)); }

void BrowserPlatform::announce(std::string_view text, bool urgent) {
  const std::string said = ui::shown(text);
  host_announce(said.data(), length_of(said), urgent ? 1 : 0);
}

void BrowserPlatform::vibrate(int milliseconds) { host_vibrate(milliseconds); }

std::string BrowserPlatform::random_hex(int digits) {
  constexpr char kDigits[] = "0123456789abcdef";
  std::string text;
  std::uint32_t bits = 0;
  for (int i = 0; i < digits; ++i) {
    if (i % 8 == 0) bits = static_cast<std::uint32_t>(host_random_32_bits());
    text += kDigits[bits & 15U];
    bits >>= 4U;
  }
  return text;
}

void BrowserPlatform::sign(int ticket, std::string_view text) {
  host_sign(ticket, text.data(), length_of(text));
}

void BrowserPlatform::check_signatures(int ticket, const std::vector<SignatureCheck>& checks) {
  // One a line: key, signature, text in hexadecimal digits, since the text has line feeds.
  std::string rows;
  for (const SignatureCheck& check : checks) {
    rows += check.public_key + '\t' + check.signature + '\t' + to_hex(check.text) + '\n';
  }
  host_check_signatures(ticket, rows.data(), length_of(rows));
}

void BrowserPlatform::fetch_words(std::string_view language) {
  host_fetch_words(language.data(), length_of(language));
}

void BrowserPlatform::remember(std::string_view key, std::string_view value) {
  host_remember(key.data(), length_of(key), value.data(), length_of(value));
}

void BrowserPlatform::switch_store(std::string_view store, bool fresh) {
  host_switch_store(store.data(), length_of(store), fresh ? 1 : 0);
}

void BrowserPlatform::take_new_device_id() { host_take_new_device_id(); }

void BrowserPlatform::ask_for_pen() { host_ask_for_pen(); }

void BrowserPlatform::accept_update() { host_accept_update(); }

void BrowserPlatform::ask_position() { host_ask_position(); }

void connect(Shell* shell) { connected = shell; }

Shell* connected_shell() { return connected; }

void show_night(bool night) {
  static std::optional<bool> shown;
  if (shown == night) return;
  shown = night;
  host_show_night(night ? 1 : 0);
}

void wake_page_after_ms(double delay_ms) { host_wake_after(delay_ms); }

}  // namespace tawny::shell

// --- what the page tells the program ---

using tawny::shell::connected;

extern "C" {

EMSCRIPTEN_KEEPALIVE char* tawny_alloc(int bytes) {
  return static_cast<char*>(std::malloc(static_cast<std::size_t>(bytes)));
}

EMSCRIPTEN_KEEPALIVE void tawny_free(char* text) { std::free(text); }

// 1 when the window is open and the other functions may be called.
EMSCRIPTEN_KEEPALIVE int tawny_is_open() { return connected != nullptr ? 1 : 0; }

// A language table, before tawny_start and whenever the person chose another; empty when it cannot be had.
EMSCRIPTEN_KEEPALIVE void tawny_words(const char* language, std::size_t language_length, const char* table,
                                      std::size_t table_length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({table, table_length});
  connected->app().speak({language, language_length}, {table, table_length});
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_start(const char* json, std::size_t length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({json, length});
  connected->app().start(tawny::shell::boot_of({json, length}));
  connected->bake_fonts();
}

EMSCRIPTEN_KEEPALIVE void tawny_lines(const char* lines, std::size_t length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({lines, length});
  connected->app().load_lines({lines, length});
}

// Lines that were checked once and have been kept under a hash of their own since.
EMSCRIPTEN_KEEPALIVE void tawny_kept_lines(const char* lines, std::size_t length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({lines, length});
  connected->app().load_lines({lines, length}, tawny::Hashes::later);
}

EMSCRIPTEN_KEEPALIVE void tawny_ready() {
  if (connected == nullptr) return;
  connected->app().ready();
  connected->start_drawing();
}

// All lines follow again, then tawny_ready.
EMSCRIPTEN_KEEPALIVE void tawny_grew() {
  if (connected == nullptr) return;
  connected->app().on_other_tab_wrote();
}

EMSCRIPTEN_KEEPALIVE void tawny_saved(int ticket, const char* outcome, std::size_t outcome_length,
                                      const char* detail, std::size_t detail_length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({detail, detail_length});
  connected->app().on_saved(ticket, tawny::shell::outcome_of({outcome, outcome_length}),
                            {detail, detail_length});
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_text(const char* field, std::size_t field_length, const char* text,
                                     std::size_t text_length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({text, text_length});
  connected->app().on_text({field, field_length}, {text, text_length});
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_file(const char* name, std::size_t name_length, const char* text,
                                     std::size_t text_length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({name, name_length});
  connected->fonts().note_text({text, text_length});
  connected->app().on_file({name, name_length}, {text, text_length});
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_carried(int ticket, const char* fault, std::size_t fault_length,
                                        const char* detail, std::size_t detail_length, const char* payload,
                                        std::size_t payload_length) {
  if (connected == nullptr) return;
  connected->fonts().note_text({detail, detail_length});
  connected->fonts().note_text({payload, payload_length});
  connected->app().on_carried(ticket, {fault, fault_length}, {detail, detail_length},
                              {payload, payload_length});
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_signed(int ticket, const char* signature, std::size_t length) {
  if (connected == nullptr) return;
  connected->app().on_signed(ticket, {signature, length});
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_checked(int ticket, const char* verdicts, std::size_t length) {
  if (connected == nullptr) return;
  connected->app().on_checked(ticket, {verdicts, length});
  connected->wake();
}

// The phone has a network again.
EMSCRIPTEN_KEEPALIVE void tawny_online() {
  if (connected == nullptr) return;
  connected->app().on_online();
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_activate(const char* node, std::size_t length) {
  if (connected == nullptr) return;
  connected->app().on_activate({node, length});
  connected->wake();
}

// The keyboard came to the mirror's node.
EMSCRIPTEN_KEEPALIVE void tawny_reveal(const char* node, std::size_t length) {
  if (connected == nullptr) return;
  connected->app().on_reveal({node, length});
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_position(double latitude_deg, double longitude_deg) {
  if (connected == nullptr) return;
  connected->app().on_position(latitude_deg, longitude_deg);
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_offline_ready(int ready) {
  if (connected == nullptr) return;
  connected->app().on_offline_ready(ready != 0);
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_update_waiting() {
  if (connected == nullptr) return;
  connected->app().on_update_waiting();
  connected->wake();
}

EMSCRIPTEN_KEEPALIVE void tawny_storage(const char* persisted, std::size_t length, double used_bytes,
                                        double quota_bytes) {
  if (connected == nullptr) return;
  connected->app().on_storage({persisted, length}, used_bytes, quota_bytes);
  connected->wake();
}

// Records of the store that were not whole, how many entries they held, how many of those are missing now.
EMSCRIPTEN_KEEPALIVE void tawny_store_damage(int records, int held, int missing) {
  if (connected == nullptr) return;
  connected->app().on_store_damage({records, held, missing});
  connected->wake();
}

// "writing" or "reading": this tab from now on; "not_now" or "no_answer": what came of asking for the pen;
// "asked": another tab asked for it and did not get it.
EMSCRIPTEN_KEEPALIVE void tawny_pen(const char* news, std::size_t length) {
  if (connected == nullptr) return;
  connected->app().on_pen({news, length});
  connected->wake();
}

// 1 when the person is in the middle of something that is not saved.
EMSCRIPTEN_KEEPALIVE int tawny_holds_unsaved() {
  return connected != nullptr && connected->app().holds_unsaved() ? 1 : 0;
}

EMSCRIPTEN_KEEPALIVE void tawny_insets(float top, float right, float bottom, float left) {
  if (connected == nullptr) return;
  connected->set_insets({top, right, bottom, left});
  connected->show_again();
}

// A contact of a finger, a pen or a mouse on the canvas; 1 when it ended a tap. `event` and `kind` count as the
// enumerations of ui/fingers.h do.
EMSCRIPTEN_KEEPALIVE int tawny_touch(int event, int kind, int id, float x, float y, float size, double time_s) {
  if (connected == nullptr) return 0;
  using tawny::ui::Contact;
  using tawny::ui::PointerKind;
  const Contact contact{
      static_cast<Contact::Event>(event), static_cast<PointerKind>(kind), id, x, y, size, time_s};
  return connected->touch(contact) ? 1 : 0;
}

EMSCRIPTEN_KEEPALIVE void tawny_let_all_go() {
  if (connected == nullptr) return;
  connected->let_all_go();
}

EMSCRIPTEN_KEEPALIVE void tawny_wheel(float x, float y, float notches, int zooms) {
  if (connected == nullptr) return;
  connected->wheel(x, y, notches, zooms != 0);
}

EMSCRIPTEN_KEEPALIVE void tawny_context(int lost) {
  if (connected == nullptr) return;
  if (lost != 0) {
    connected->context_lost();
  } else {
    connected->context_restored();
  }
}

EMSCRIPTEN_KEEPALIVE void tawny_wake() {
  if (connected == nullptr) return;
  connected->show_again();
}

EMSCRIPTEN_KEEPALIVE void tawny_reduced_motion(int reduced) {
  if (connected == nullptr) return;
  connected->app().ui().set_reduced_motion(reduced != 0);
  connected->wake();
}

}  // extern "C"
