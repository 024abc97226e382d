# What every script of this project shares. Source it: . "$(dirname "$0")/../web/lib.sh"
#
# Sets tawny_root (this tree), tawny_cache (what is fetched or built once, outside the tree) and NODE_PATH.

tawny_root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
tawny_cache=${TAWNY_CACHE:-${XDG_CACHE_HOME:-${HOME:-$(cd ~ && pwd)}/.cache}/tawny}

# Emscripten asks Node.js for Debian's own modules; a Node.js that is not Debian's does not look there by itself.
export NODE_PATH=/usr/share/nodejs${NODE_PATH:+:$NODE_PATH}

# Progress goes to standard error, so that standard output stays free for answers.
say() {
  printf '%s\n' "$*" >&2
}

die() {
  say "$*"
  exit 1
}

as_root() {
  if [ "$(id -u)" = 0 ]; then
    "$@"
  elif command -v sudo >/dev/null; then
    sudo "$@"
  else
    die "Not root, and no sudo here. Run as root: $*"
  fi
}

# Those of the named Debian packages that are not installed, one a line.
missing_packages() {
  local installed package
  installed=$(dpkg-query -W -f='${db:Status-Status} ${Package}\n' "$@" 2>/dev/null || true)
  for package in "$@"; do
    grep -qx "installed $package" <<<"$installed" || printf '%s\n' "$package"
  done
}

# Installs what is missing of the named Debian packages; does nothing, fast, when all are there.
need_packages() {
  local missing
  missing=$(missing_packages "$@")
  [ -n "$missing" ] || return 0
  missing=$(tr '\n' ' ' <<<"$missing")
  say "Installing Debian packages: $missing"
  as_root apt-get update -q >&2
  # shellcheck disable=SC2086
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing >&2
}

# The same for servers, which Debian would start at once and at every boot: these stay asleep.
need_packages_unstarted() {
  local missing policy=/usr/sbin/policy-rc.d made='' failed='' unit
  missing=$(missing_packages "$@")
  [ -n "$missing" ] || return 0
  if [ ! -e $policy ]; then
    as_root sh -c "printf '#!/bin/sh\nexit 101\n' >$policy && chmod 755 $policy"
    made=yes
  fi
  # shellcheck disable=SC2086
  (need_packages $missing) || failed=yes
  [ -z "$made" ] || as_root rm -f $policy
  [ -z "$failed" ] || die "They could not be installed: $(tr '\n' ' ' <<<"$missing")"
  for unit in lighttpd nginx ceph.target; do
    ! command -v systemctl >/dev/null || as_root systemctl disable -q "$unit" 2>/dev/null || true
  done
}

# Runs npm ci in a folder when its node_modules is older than its lock file.
npm_packages() {
  local folder=$1
  local lock=$folder/package-lock.json stamp=$folder/node_modules/.tawny-lock
  if ! cmp -s "$lock" "$stamp"; then
    say "Installing the npm packages of ${folder#"$tawny_root"/}"
    (cd "$folder" && npm ci --no-audit --no-fund --loglevel=error) >&2
    mkdir -p "$folder/node_modules"
    cp "$lock" "$stamp"
  fi
}

# configure FOLDER [cmake options]: configures a CMake build folder when it is new or its options changed.
# Say configure_with=emcmake for the compiler to wasm.
configure() {
  local folder=$1
  shift
  local wanted="$tawny_root $*"
  if [ ! -f "$folder/build.ninja" ] || [ "$(cat "$folder/tawny-options" 2>/dev/null)" != "$wanted" ]; then
    ${configure_with:-} cmake -S "$tawny_root" -B "$folder" -G Ninja "$@" >&2
    printf '%s' "$wanted" >"$folder/tawny-options"
  fi
}

# The app, with its tests and benches as wasm, and the page around it; all scripts that need them make them the same way.
app_dir=$tawny_root/build/wasm
page_dir=$tawny_root/build/web

configure_app() {
  eval "$("$tawny_root/web/third-party.sh")"
  configure_with=emcmake configure "$app_dir" -DTAWNY_IMGUI_DIR="$TAWNY_IMGUI_DIR" \
    -DTAWNY_SDL2_DIR="$TAWNY_SDL2_DIR" -DTAWNY_FONT_DIR="$TAWNY_FONT_DIR"
}

build_app() {
  configure_app
  cmake --build "$app_dir" --target tawny_app >&2
}

build_page() {
  node "$tawny_root/web/build.mjs" --wasm "$app_dir" --out "$page_dir" >&2
}
