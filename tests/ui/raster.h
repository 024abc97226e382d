// A picture of a frame without a graphics card: textured, blended triangles of ImDrawData, and a PNG writer, so
// that a test can look at pixels and a designer at pictures.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <string>
#include <vector>

#include "imgui.h"

namespace tawny::ui {

class Raster {
 public:
  Raster(int width, int height)
      : width_(width), height_(height), pixels_(size_of(width) * size_of(height) * 3) {}

  int width() const { return width_; }
  int height() const { return height_; }
  // 0xRRGGBB.
  std::uint32_t at(int x, int y) const {
    const std::uint8_t* pixel = &pixels_[index(x, y)];
    return static_cast<std::uint32_t>(pixel[0] << 16 | pixel[1] << 8 | pixel[2]);
  }

  // Draws with `scale` pixels to one CSS px; the only texture is the font atlas.
  void draw(const ImDrawData& data, ImFontAtlas& atlas, float scale) {
    atlas.GetTexDataAsAlpha8(&texture_, &texture_width_, &texture_height_);
    for (const ImDrawList* list : data.CmdLists) {
      for (const ImDrawCmd& command : list->CmdBuffer) {
        if (command.UserCallback) continue;
        clip_ = {command.ClipRect.x * scale, command.ClipRect.y * scale, command.ClipRect.z * scale,
                 command.ClipRect.w * scale};
        for (unsigned i = 0; i + 2 < command.ElemCount; i += 3) {
          std::array<ImDrawVert, 3> corners;
          for (unsigned c = 0; c < 3; ++c) {
            const ImDrawIdx at = list->IdxBuffer[static_cast<int>(command.IdxOffset + i + c)];
            corners[c] = list->VtxBuffer[static_cast<int>(command.VtxOffset + at)];
            corners[c].pos.x *= scale;
            corners[c].pos.y *= scale;
          }
          triangle(corners);
        }
      }
    }
  }

  bool write_png(const std::string& path) const {
    std::vector<std::uint8_t> png = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n'};
    std::vector<std::uint8_t> header;
    put_32(header, static_cast<std::uint32_t>(width_));
    put_32(header, static_cast<std::uint32_t>(height_));
    header.insert(header.end(), {8, 2, 0, 0, 0});  // 8 bits, RGB
    chunk(png, "IHDR", header);
    chunk(png, "IDAT", stored_zlib());
    chunk(png, "IEND", {});
    std::FILE* file = std::fopen(path.c_str(), "wb");
    if (!file) return false;
    const bool written = std::fwrite(png.data(), 1, png.size(), file) == png.size();
    return std::fclose(file) == 0 && written;
  }

 private:
  static std::size_t size_of(int count) { return static_cast<std::size_t>(count); }
  std::size_t index(int x, int y) const { return (size_of(y) * size_of(width_) + size_of(x)) * 3; }

  void triangle(const std::array<ImDrawVert, 3>& c) {
    const auto edge = [](ImVec2 a, ImVec2 b, float x, float y) {
      return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x);
    };
    const float area = edge(c[0].pos, c[1].pos, c[2].pos.x, c[2].pos.y);
    if (area == 0) return;
    const auto low = [](float a, float b, float d, float limit) {
      return static_cast<int>(std::max(limit, std::floor(std::min({a, b, d}))));
    };
    const auto high = [](float a, float b, float d, float limit) {
      return static_cast<int>(std::min(limit, std::ceil(std::max({a, b, d}))));
    };
    const int left = low(c[0].pos.x, c[1].pos.x, c[2].pos.x, std::max(0.0f, clip_.x));
    const int right = high(c[0].pos.x, c[1].pos.x, c[2].pos.x, std::min(static_cast<float>(width_), clip_.z));
    const int top = low(c[0].pos.y, c[1].pos.y, c[2].pos.y, std::max(0.0f, clip_.y));
    const int bottom = high(c[0].pos.y, c[1].pos.y, c[2].pos.y, std::min(static_cast<float>(height_), clip_.w));
    for (int y = top; y < bottom; ++y) {
      for (int x = left; x < right; ++x) {
        const float px = static_cast<float>(x) + 0.5f;
        const float py = static_cast<float>(y) + 0.5f;
        const std::array<float, 3> share = {edge(c[1].pos, c[2].pos, px, py) / area,
                                            edge(c[2].pos, c[0].pos, px, py) / area,
                                            edge(c[0].pos, c[1].pos, px, py) / area};
        if (share[0] < 0 || share[1] < 0 || share[2] < 0) continue;
        // A point on an edge belongs to one of two neighbours only.
        if ((share[0] == 0 && owns_not(c[1].pos, c[2].pos, area)) ||
            (share[1] == 0 && owns_not(c[2].pos, c[0].pos, area)) ||
            (share[2] == 0 && owns_not(c[0].pos, c[1].pos, area))) {
          continue;
        }
        blend(x, y, c, share);
      }
    }
  }

  static bool owns_not(ImVec2 a, ImVec2 b, float area) {
    const bool top_left = (a.y == b.y) ? b.x < a.x : b.y > a.y;
    return top_left != (area > 0);
  }

  void blend(int x, int y, const std::array<ImDrawVert, 3>& c, const std::array<float, 3>& share) {
    std::array<float, 4> colour{};
    float u = 0, v = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      for (std::size_t channel = 0; channel < 4; ++channel) {
        colour[channel] += share[i] * static_cast<float>((c[i].col >> (8 * channel)) & 0xFFu);
      }
      u += share[i] * c[i].uv.x;
      v += share[i] * c[i].uv.y;
    }
    const float alpha =
        colour[3] / 255 *
        texel(u * static_cast<float>(texture_width_) - 0.5f, v * static_cast<float>(texture_height_) - 0.5f);
    std::uint8_t* pixel = &pixels_[index(x, y)];
    for (std::size_t channel = 0; channel < 3; ++channel) {
      const float under = pixel[channel];
      pixel[channel] = static_cast<std::uint8_t>(std::lround(under + (colour[channel] - under) * alpha));
    }
  }

  float texel(float u, float v) const {
    const auto read = [&](int x, int y) {
      x = std::clamp(x, 0, texture_width_ - 1);
      y = std::clamp(y, 0, texture_height_ - 1);
      return static_cast<float>(texture_[size_of(y) * size_of(texture_width_) + size_of(x)]) / 255;
    };
    const float x = std::floor(u);
    const float y = std::floor(v);
    const float dx = u - x;
    const float dy = v - y;
    const int ix = static_cast<int>(x);
    const int iy = static_cast<int>(y);
    return (read(ix, iy) * (1 - dx) + read(ix + 1, iy) * dx) * (1 - dy) +
           (read(ix, iy + 1) * (1 - dx) + read(ix + 1, iy + 1) * dx) * dy;
  }

  static void put_32(std::vector<std::uint8_t>& to, std::uint32_t value) {
    for (int shift = 24; shift >= 0; shift -= 8) to.push_back(static_cast<std::uint8_t>(value >> shift));
  }

  static void chunk(std::vector<std::uint8_t>& png, const char* name, const std::vector<std::uint8_t>& data) {
    put_32(png, static_cast<std::uint32_t>(data.size()));
    const std::size_t start = png.size();
    png.insert(png.end(), name, name + 4);
    png.insert(png.end(), data.begin(), data.end());
    std::uint32_t crc = 0xFFFFFFFFu;
    for (std::size_t i = start; i < png.size(); ++i) {
      crc ^= png[i];
      for (int bit = 0; bit < 8; ++bit) crc = (crc >> 1) ^ (0xEDB88320u & (0u - (crc & 1u)));
    }
    put_32(png, ~crc);
  }

  // Deflate without compression: no library needed, and pictures are looked at, not kept.
  std::vector<std::uint8_t> stored_zlib() const {
    std::vector<std::uint8_t> raw;
    for (int y = 0; y < height_; ++y) {
      raw.push_back(0);
      raw.insert(raw.end(), &pixels_[index(0, y)], &pixels_[index(0, y)] + size_of(width_) * 3);
    }
    std::vector<std::uint8_t> out = {0x78, 0x01};
    constexpr std::size_t kBlock = 65535;
    std::uint32_t a = 1, b = 0;
    for (std::size_t at = 0; at < raw.size(); at += kBlock) {
      const std::size_t count = std::min(kBlock, raw.size() - at);
      out.push_back(at + count == raw.size() ? 1 : 0);
      for (const std::size_t part : {count, ~count}) {
        out.push_back(static_cast<std::uint8_t>(part & 0xFFu));
        out.push_back(static_cast<std::uint8_t>((part >> 8) & 0xFFu));
      }
      for (std::size_t i = at; i < at + count; ++i) {
        out.push_back(raw[i]);
        a = (a + raw[i]) % 65521;
        b = (b + a) % 65521;
      }
    }
    put_32(out, (b << 16) | a);
    return out;
  }

  int width_, height_;
  std::vector<std::uint8_t> pixels_;
  unsigned char* texture_ = nullptr;
  int texture_width_ = 0, texture_height_ = 0;
  ImVec4 clip_;
};

}  // namespace tawny::ui
