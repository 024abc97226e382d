// The data files of assets/, embedded by the build under their file names. An unknown name gives an empty view.
#pragma once

#include <string>
#include <string_view>

namespace tawny::assets {

// "protocol.json", "products.json", "demo-farm.json", "report.css", "tawny-regular.ttf", "tawny-bold.ttf".
std::string_view find(std::string_view name);

// "es.json"; the library tawny_languages has it.
std::string_view find_language(std::string_view name);
// The table of a language by its code in BCP 47: "en", "pt-BR".
inline std::string_view language(std::string_view code) { return find_language(std::string(code) + ".json"); }

}  // namespace tawny::assets
