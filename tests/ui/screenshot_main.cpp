// A picture of any screen of the app, without a browser:
//
//   ui_screenshot OUT.png WIDTH HEIGHT UNIX_TIME demo|new [STEP...]
//
// TAWNY_LANGUAGE=vi and TAWNY_TEXT_SIZE=150 in the environment choose language and text size.
// A step is tab=ponds, press=<node id>, reveal=<node id> (scrolls there), text=<field>=<text>,
// type=<keypad>=<number>, set=<setting>=<value>, file=<path> (handed over), saved (the store answers), failed
// (it does not), or list (prints the screen model). A tall HEIGHT shows the whole of a screen that scrolls.
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

#include "ui/app_bench.h"
#include "ui/raster.h"

namespace {

using namespace tawny;
using namespace tawny::ui;

constexpr float kDensity = 2;

std::pair<std::string, std::string> split(std::string_view text) {
  const std::size_t at = text.find('=');
  if (at == std::string_view::npos) return {std::string(text), ""};
  return {std::string(text.substr(0, at)), std::string(text.substr(at + 1))};
}

bool open_tab(AppBench& bench, std::string_view name) {
  constexpr std::pair<std::string_view, Tab> kTabs[] = {{"rounds", Tab::rounds},
                                                        {"ponds", Tab::ponds},
                                                        {"dose", Tab::dose},
                                                        {"logbook", Tab::logbook},
                                                        {"office", Tab::office}};
  for (const auto& [tab_name, tab] : kTabs) {
    if (tab_name != name) continue;
    bench.app->open_tab(tab);
    return true;
  }
  return false;
}

bool take_step(AppBench& bench, std::string_view step) {
  const auto [verb, rest] = split(step);
  const auto [id, text] = split(rest);
  bool done = true;
  if (verb == "tab") {
    done = open_tab(bench, id);
  } else if (verb == "press") {
    done = bench.press(rest);
  } else if (verb == "reveal") {
    bench.app->on_reveal(rest);
    bench.frames(30);
  } else if (verb == "text") {
    bench.app->on_text(id, text);
  } else if (verb == "type") {
    done = bench.type(id, text);
  } else if (verb == "set") {
    bench.app->set_setting(id, text);
  } else if (verb == "file") {
    std::ifstream file(rest, std::ios::binary);
    bench.app->on_file(rest, std::string(std::istreambuf_iterator<char>(file), {}));
    bench.frames(10);
  } else if (verb == "saved") {
    bench.answer(SaveOutcome::saved);
  } else if (verb == "failed") {
    bench.answer(SaveOutcome::failed);
  } else if (verb == "list") {
    for (const Node& node : bench.model().nodes()) {
      std::printf("#%s \"%s\" = %s [%s]\n", node.id.c_str(), node.name.c_str(), node.value.c_str(),
                  node.state.c_str());
    }
  } else {
    done = false;
  }
  bench.frames(3);
  return done;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 6) {
    std::fprintf(stderr, "ui_screenshot OUT.png WIDTH HEIGHT UNIX_TIME demo|new [STEP...]\n");
    return 2;
  }
  const int width = std::atoi(arguments[2]);
  const int height = std::atoi(arguments[3]);
  const char* size = std::getenv("TAWNY_TEXT_SIZE");
  const float text_scale = size != nullptr ? static_cast<float>(std::atoi(size)) / 100 : 1;
  AppBench bench(Instant{std::atoll(arguments[4])}, static_cast<float>(width), static_cast<float>(height),
                 kDensity, text_scale);
  if (const char* language = std::getenv("TAWNY_LANGUAGE")) {
    bench.app->speak(language, assets::language(language));
  }
  if (std::string_view(arguments[5]) == "demo") {
    bench.open_demo();
  } else {
    bench.open_new(-300);
  }
  for (int i = 6; i < count; ++i) {
    if (take_step(bench, arguments[i])) continue;
    std::fprintf(stderr, "cannot do %s\n", arguments[i]);
    return 1;
  }
  bench.frames(60);
  Raster raster(static_cast<int>(static_cast<float>(width) * kDensity),
                static_cast<int>(static_cast<float>(height) * kDensity));
  raster.draw(*ImGui::GetDrawData(), *ImGui::GetIO().Fonts, kDensity);
  return raster.write_png(arguments[1]) ? 0 : 1;
}
