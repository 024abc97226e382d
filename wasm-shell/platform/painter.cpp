#include "platform/painter.h"

#include <algorithm>
#include <cstdint>
#include <cstring>

namespace tawny::shell {
namespace {

// The atlas holds how much of a pixel a letter covers; what is not a letter points at a white pixel of it.
constexpr const char* kCornerShader =
    "#version 300 es\n"
    "layout(location=0)in vec2 at;layout(location=1)in vec2 on;layout(location=2)in vec4 colour;"
    "uniform vec4 toClip;out vec2 atlasAt;out vec4 tint;"
    "void main(){atlasAt=on;tint=colour;gl_Position=vec4(at*toClip.xy+toClip.zw,0,1);}";
constexpr const char* kPixelShader =
    "#version 300 es\n"
    "precision mediump float;in highp vec2 atlasAt;in vec4 tint;uniform sampler2D atlas;out vec4 pixel;"
    "void main(){pixel=vec4(tint.rgb,tint.a*texture(atlas,atlasAt).r);}";

GLuint compile(GLenum kind, const char* source) {
  const GLuint shader = glCreateShader(kind);
  glShaderSource(shader, 1, &source, nullptr);
  glCompileShader(shader);
  return shader;
}

// Whether what stands at `kept` is `fresh` already; puts it there when not. Words of eight bytes: the C library's
// comparison goes by one.
template <typename T>
bool replace(std::vector<T>& kept, std::size_t at, const T* fresh, std::size_t count) {
  static_assert(sizeof(T) % 4 == 0);
  if (count == 0) return true;
  const std::size_t bytes = count * sizeof(T);
  if (kept.size() >= at + count) {
    const auto* a = reinterpret_cast<const unsigned char*>(kept.data() + at);
    const auto* b = reinterpret_cast<const unsigned char*>(fresh);
    std::uint64_t differs = 0;
    std::size_t i = 0;
    for (; i + 8 <= bytes && differs == 0; i += 8) {
      std::uint64_t x, y;
      std::memcpy(&x, a + i, 8);
      std::memcpy(&y, b + i, 8);
      differs |= x ^ y;
    }
    if (differs == 0 && (i == bytes || std::memcmp(a + i, b + i, bytes - i) == 0)) return true;
  }
  kept.resize(std::max(kept.size(), at + count));
  std::memcpy(static_cast<void*>(kept.data() + at), fresh, bytes);
  return false;
}

template <typename T>
bool replace(T& kept, const T& fresh) {
  const bool same = kept == fresh;
  kept = fresh;
  return same;
}

bool replace(ImVec2& kept, ImVec2 fresh) {
  const bool same = kept.x == fresh.x && kept.y == fresh.y;
  kept = fresh;
  return same;
}

}  // namespace

bool Painter::Call::operator==(const Call& other) const {
  return corners == other.corners && first == other.first && base == other.base && clip.x == other.clip.x &&
         clip.y == other.clip.y && clip.z == other.clip.z && clip.w == other.clip.w;
}

bool Painter::open() {
  ImGuiIO& io = ImGui::GetIO();
  io.BackendRendererName = "tawny";
  io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
  return make_objects();
}

bool Painter::make_objects() {
  program_ = glCreateProgram();
  for (const GLuint shader :
       {compile(GL_VERTEX_SHADER, kCornerShader), compile(GL_FRAGMENT_SHADER, kPixelShader)}) {
    glAttachShader(program_, shader);
    glDeleteShader(shader);
  }
  glLinkProgram(program_);
  GLint linked = 0;
  glGetProgramiv(program_, GL_LINK_STATUS, &linked);
  if (linked == 0) return false;
  to_clip_ = glGetUniformLocation(program_, "toClip");
  glGenBuffers(1, &corners_);
  glGenBuffers(1, &indices_);
  glGenTextures(1, &atlas_);

  // Nothing else draws on this canvas, so what is set here stays.
  glUseProgram(program_);
  glBindBuffer(GL_ARRAY_BUFFER, corners_);
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_);
  glBindTexture(GL_TEXTURE_2D, atlas_);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  for (GLuint attribute = 0; attribute < 3; ++attribute) glEnableVertexAttribArray(attribute);
  glEnable(GL_BLEND);
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  return true;
}

void Painter::take_fonts() {
  unsigned char* pixels = nullptr;
  int width = 0, height = 0;
  ImFontAtlas& fonts = *ImGui::GetIO().Fonts;
  fonts.GetTexDataAsAlpha8(&pixels, &width, &height);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_R8, width, height, 0, GL_RED, GL_UNSIGNED_BYTE, pixels);
  fonts.SetTexID(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(atlas_)));
  forget();
}

bool Painter::restore() {
  if (!make_objects()) return false;
  take_fonts();
  return true;
}

bool Painter::take(const ImDrawData& picture, ImU32 ground, int width_px, int height_px) {
  bool same = replace(ground_, ground);
  same &= replace(width_px_, width_px);
  same &= replace(height_px_, height_px);
  same &= replace(origin_, picture.DisplayPos);
  same &= replace(size_, picture.DisplaySize);
  same &= replace(scale_, picture.FramebufferScale);

  std::size_t corners = 0, indices = 0, calls = 0;
  for (const ImDrawList* list : picture.CmdLists) {
    for (const ImDrawCmd& command : list->CmdBuffer) {
      if (command.ElemCount == 0) continue;
      const Call call{
          command.ElemCount, static_cast<unsigned>((indices + command.IdxOffset) * sizeof(ImDrawIdx)),
          static_cast<unsigned>((corners + command.VtxOffset) * sizeof(ImDrawVert)), command.ClipRect};
      if (calls == calls_.size()) {
        calls_.push_back(call);
        same = false;
      } else {
        same &= replace(calls_[calls], call);
      }
      ++calls;
    }
    same &=
        replace(corner_data_, corners, list->VtxBuffer.Data, static_cast<std::size_t>(list->VtxBuffer.Size));
    same &= replace(index_data_, indices, list->IdxBuffer.Data, static_cast<std::size_t>(list->IdxBuffer.Size));
    corners += static_cast<std::size_t>(list->VtxBuffer.Size);
    indices += static_cast<std::size_t>(list->IdxBuffer.Size);
  }
  same &= calls == calls_.size() && corners == corner_data_.size() && indices == index_data_.size();
  calls_.resize(calls);
  corner_data_.resize(corners);
  index_data_.resize(indices);
  return !same;
}

bool Painter::paint(const ImDrawData& picture, ImU32 ground, int width_px, int height_px) {
  const bool changed = take(picture, ground, width_px, height_px);
  if (!changed && shown_) return false;
  draw();
  shown_ = true;
  return true;
}

void Painter::draw() {
  const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(ground_);
  glViewport(0, 0, width_px_, height_px_);
  glDisable(GL_SCISSOR_TEST);
  glClearColor(ground.x, ground.y, ground.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  if (size_.x <= 0 || size_.y <= 0) return;
  glEnable(GL_SCISSOR_TEST);
  const float across = 2 / size_.x, up = -2 / size_.y;
  glUniform4f(to_clip_, across, up, -1 - origin_.x * across, 1 - origin_.y * up);
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(corner_data_.size() * sizeof(ImDrawVert)),
               corner_data_.data(), GL_STREAM_DRAW);
  glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(index_data_.size() * sizeof(ImDrawIdx)),
               index_data_.data(), GL_STREAM_DRAW);
  const auto at = [](std::size_t byte) { return reinterpret_cast<const void*>(byte); };
  std::size_t base = ~std::size_t{0};
  for (const Call& call : calls_) {
    const float left = (call.clip.x - origin_.x) * scale_.x, top = (call.clip.y - origin_.y) * scale_.y;
    const float right = (call.clip.z - origin_.x) * scale_.x, bottom = (call.clip.w - origin_.y) * scale_.y;
    if (right <= left || bottom <= top) continue;
    if (call.base != base) {
      base = call.base;
      glVertexAttribPointer(0, 2, GL_FLOAT, GL_FALSE, sizeof(ImDrawVert), at(base + offsetof(ImDrawVert, pos)));
      glVertexAttribPointer(1, 2, GL_FLOAT, GL_FALSE, sizeof(ImDrawVert), at(base + offsetof(ImDrawVert, uv)));
      glVertexAttribPointer(2, 4, GL_UNSIGNED_BYTE, GL_TRUE, sizeof(ImDrawVert),
                            at(base + offsetof(ImDrawVert, col)));
    }
    glScissor(static_cast<int>(left), height_px_ - static_cast<int>(bottom), static_cast<int>(right - left),
              static_cast<int>(bottom - top));
    glDrawElements(GL_TRIANGLES, static_cast<GLsizei>(call.corners),
                   sizeof(ImDrawIdx) == 2 ? GL_UNSIGNED_SHORT : GL_UNSIGNED_INT, at(call.first));
  }
}

}  // namespace tawny::shell
