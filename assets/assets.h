// The data files of assets/, embedded by the build under their file names ("protocol.json", "en.json",
// "tawny-regular.ttf"). An unknown name gives an empty view.
#pragma once

#include <string_view>

namespace tawny::assets {

std::string_view find(std::string_view name);

}  // namespace tawny::assets
