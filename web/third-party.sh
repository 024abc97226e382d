#!/usr/bin/env bash
# Fetches and builds what the app is made of beside its own code, once, outside the tree.
#
#   Dear ImGui 1.90.1   source, as Debian 13 packages it
#   SDL2 2.26.5         source, as Debian 12 packages it, built for wasm without what the app does not use
#   fonts               Noto Sans of Debian's fonts-noto-core, cut down (assets/cut-fonts.py)
#
# Prints where they are as shell assignments; progress goes to standard error:
#   eval "$(web/third-party.sh)"      sets TAWNY_IMGUI_DIR, TAWNY_SDL2_DIR, TAWNY_FONT_DIR
#   web/third-party.sh --native       leaves SDL2 out, which only the wasm app needs
# A variable that is set beforehand is taken as it stands: point it at what you already have.
# Everything lands in ${TAWNY_CACHE:-${XDG_CACHE_HOME:-~/.cache}/tawny}; delete a folder there to have it made anew.
set -euo pipefail
. "$(dirname "$0")/lib.sh"

imgui_package=imgui=1.90.1+ds-1
imgui_archive=imgui_1.90.1+ds.orig.tar.xz
imgui_sha256=ecce377df0f90b292f15dcbd83d438bddc162b2388c881132bde18c787572a1c
sdl2_package=libsdl2=2.26.5+dfsg-1
sdl2_archive=libsdl2_2.26.5+dfsg.orig.tar.gz
sdl2_sha256=b3f2c822151804125d08db94c65852f711c2e5df2145a59da120748dc32eb9c3

emscripten_version() {
  dpkg-query -W -f='${Version}' emscripten | sed 's/[~+-].*//'
}

imgui_dir=$tawny_cache/imgui-1.90.1
# The letters are those of the language tables, so the fonts are cut anew when a table changes.
font_dir=$tawny_cache/fonts-$(cat "$tawny_root/assets/cut-fonts.py" "$tawny_root"/assets/languages/*.json | sha256sum | cut -c1-12)

# Every piece is made in a folder beside its place and then renamed: an interrupted run leaves nothing half made.
work=
trap '[ -z "$work" ] || rm -rf "$work"' EXIT
begin() {
  mkdir -p "$tawny_cache"
  work=$(mktemp -d "$tawny_cache/.making-XXXXXX")
  chmod 755 "$work"
}
finish() {
  if [ -d "$2" ]; then rm -rf "$1"; else mv -T "$1" "$2"; fi
  rm -rf "$work"
  work=
}

main_archive() {
  apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' 'Origin: Debian' 'Codename: bookworm' | head -1
}

# fetch_source PACKAGE=VERSION ARCHIVE SHA256: the upstream archive into $work, by way of apt, which checks the
# signatures. Lists of our own are used, so that the machine's sources and package lists stay as they are.
fetch_source() {
  local package=$1 archive=$2 sha256=$3 address suite
  if [ -z "$(main_archive)" ]; then
    as_root apt-get update -q >&2
  fi
  address=$(main_archive)
  [ -n "$address" ] || die "apt knows no Debian 12 archive: $archive cannot be fetched. Set TAWNY_IMGUI_DIR and TAWNY_SDL2_DIR instead."
  local apt=$tawny_cache/apt
  mkdir -p "$apt/lists/partial"
  for suite in bookworm trixie; do
    printf 'deb-src [signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] %s %s main\n' "$address" "$suite"
  done >"$apt/sources.list"
  local options=(-qq -o "Dir::Etc::SourceList=$apt/sources.list" -o Dir::Etc::SourceParts=-
    -o "Dir::State::Lists=$apt/lists" -o APT::Sandbox::User=)
  (
    cd "$work"
    if ! apt-get "${options[@]}" source --download-only "$package" >&2 2>/dev/null; then
      apt-get "${options[@]}" update >&2
      apt-get "${options[@]}" source --download-only "$package" >&2
    fi
    sha256sum --check --quiet >&2 <<<"$sha256  $archive"
  )
}

make_imgui() {
  say "Fetching the source of Dear ImGui 1.90.1 from Debian"
  begin
  fetch_source "$imgui_package" "$imgui_archive" "$imgui_sha256"
  mkdir "$work/imgui"
  tar -xf "$work/$imgui_archive" -C "$work/imgui" --strip-components=1
  finish "$work/imgui" "$imgui_dir"
}

make_sdl2() {
  say "Fetching the source of SDL2 2.26.5 from Debian"
  begin
  fetch_source "$sdl2_package" "$sdl2_archive" "$sdl2_sha256"
  say "Building SDL2 for wasm (once; half a minute to three minutes)"
  mkdir "$work/source"
  tar -xf "$work/$sdl2_archive" -C "$work/source" --strip-components=1
  local part off=()
  for part in AUDIO RENDER JOYSTICK HAPTIC HIDAPI SENSOR POWER THREADS TEST SHARED DUMMYVIDEO OFFSCREEN; do
    off+=("-DSDL_$part=OFF")
  done
  if ! {
    # Lean: all drawing is done by WebGL, so SDL's own blitters (a fifth of the app) may go.
    emcmake cmake -S "$work/source" -B "$work/build" -G Ninja -DSDL_STATIC=ON "${off[@]}" \
      -DCMAKE_BUILD_TYPE=Release '-DCMAKE_C_FLAGS_RELEASE=-Oz -DNDEBUG -DSDL_LEAN_AND_MEAN=1' -DCMAKE_INSTALL_PREFIX="$work/sdl2" &&
      cmake --build "$work/build" && cmake --install "$work/build"
  } >"$work/log" 2>&1; then
    tail -40 "$work/log" >&2
    die "SDL2 did not build."
  fi
  finish "$work/sdl2" "$sdl2_dir"
}

make_fonts() {
  say "Cutting the fonts"
  begin
  mkdir "$work/fonts"
  "$tawny_root/assets/cut-fonts.py" "$work/fonts"
  finish "$work/fonts" "$font_dir"
}

# One at a time: two runs at once would build the same thing twice.
mkdir -p "$tawny_cache"
exec 9>"$tawny_cache/.lock"
flock 9

if [ -z "${TAWNY_IMGUI_DIR:-}" ]; then
  [ -d "$imgui_dir" ] || make_imgui
  TAWNY_IMGUI_DIR=$imgui_dir
fi
if [ -z "${TAWNY_FONT_DIR:-}" ]; then
  [ -d "$font_dir" ] || make_fonts
  TAWNY_FONT_DIR=$font_dir
fi
printf 'TAWNY_IMGUI_DIR=%q\nTAWNY_FONT_DIR=%q\n' "$TAWNY_IMGUI_DIR" "$TAWNY_FONT_DIR"
if [ "${1:-}" != --native ]; then
  if [ -z "${TAWNY_SDL2_DIR:-}" ]; then
    sdl2_dir=$tawny_cache/sdl2-2.26.5-lean-wasm-emcc$(emscripten_version)
    [ -d "$sdl2_dir" ] || make_sdl2
    TAWNY_SDL2_DIR=$sdl2_dir
  fi
  printf 'TAWNY_SDL2_DIR=%q\n' "$TAWNY_SDL2_DIR"
fi
