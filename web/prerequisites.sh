#!/usr/bin/env bash
# Installs the Debian packages that a build needs, only those that are missing.
#
#   web/prerequisites.sh          to build and serve the app
#   web/prerequisites.sh --tests  to run the tests as well
#   web/prerequisites.sh --bench  and the benches
set -euo pipefail
. "$(dirname "$0")/lib.sh"

servers=()
packages=(emscripten node-acorn cmake ninja-build g++ python3 python3-fonttools fonts-noto-core
  libexpected-dev rapidjson-dev libssl-dev librsvg2-bin ca-certificates xz-utils)
if [ "${1:-}" = --tests ] || [ "${1:-}" = --bench ]; then
  packages+=(libgtest-dev libgmock-dev googletest librapidcheck-dev chromium clang-14 libclang-rt-14-dev clang-format zbar-tools
    strace poppler-utils)
  # The servers that phones carry entries to. The tests start them, each with a folder of its own.
  servers=(apache2-bin apache2-utils media-types openssl lighttpd lighttpd-mod-webdav lighttpd-mod-openssl nginx-light
    libnginx-mod-http-dav-ext ceph-mon ceph-osd ceph-common radosgw)
fi
if [ "${1:-}" = --bench ]; then
  packages+=(libbenchmark-dev libsqlite3-dev valgrind)
fi
# Node.js may come from elsewhere than Debian; what counts is that it is there.
command -v node >/dev/null || packages+=(nodejs)
command -v npm >/dev/null || packages+=(npm)

need_packages "${packages[@]}"
[ ${#servers[@]} -eq 0 ] || need_packages_unstarted "${servers[@]}"
