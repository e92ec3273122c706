# shellcheck shell=bash
# SPDX-License-Identifier: Apache-2.0
# Shared by ./run and ./test (bash, sourced): install what is missing, build the program, build the web app.
# Everything here may be called again at no cost: it does only what is not done yet.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
# Paths in the compiler cache are relative, so that a second clone finds the first one's work.
export CCACHE_BASEDIR=$root CCACHE_NOHASHDIR=1 CCACHE_SLOPPINESS=pch_defines,time_macros

say() { printf '%s\n' "$*"; }
fail() { printf '%s\n' "$*" >&2; exit 1; }

have_node() {
    command -v node >/dev/null && command -v npm >/dev/null &&
        [ "$(node -p 'process.versions.node.split(".")[0]')" -ge 18 ]
}

# install_missing WHEN...: the packages of packages.txt for these uses that are not installed.
install_missing() {
    local package when missing=()
    while read -r package when _; do
        case $package in ''|'#'*) continue ;; esac
        case " $* " in *" $when "*) ;; *) continue ;; esac
        case $package in nodejs|npm) have_node && continue ;; esac
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing+=("$package")
    done <"$root/packages.txt"
    [ ${#missing[@]} -eq 0 ] && return
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null ||
            fail "packages: these are not installed: ${missing[*]}: install them as root, then start this again"
        as_root=(sudo)
    fi
    say "installing: ${missing[*]}"
    # The list may be fresh enough; only ask for a new one when the first try fails.
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}" \
        >/dev/null 2>&1 ||
        { "${as_root[@]}" apt-get update -q >/dev/null &&
            "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
                apt-get install -y -q --no-install-recommends "${missing[@]}" >/dev/null; } ||
        fail "packages: apt-get could not install them: run 'apt-get install ${missing[*]}' and read what it says"
}

# build PRESET [target...]: with the cmake options of the array build_flags, when there are any.
build_flags=()
build() {
    local preset=$1; shift
    cmake --preset "$preset" "${build_flags[@]}" >"$root/build/configure-$preset.log" 2>&1 ||
        { cat "$root/build/configure-$preset.log" >&2; return 1; }
    local targets=(); [ $# -gt 0 ] && targets=(--target "$@")
    NINJA_STATUS='[%f/%t] ' cmake --build --preset "$preset" -j "$(nproc)" "${targets[@]}"
}

# npm_ready FOLDER: node_modules as its package-lock.json says. Fetches only when the lock changed.
npm_ready() {
    local stamp="$1/node_modules/.lock-sha256" now
    now=$(sha256sum <"$1/package-lock.json")
    [ "$(cat "$stamp" 2>/dev/null)" = "$now" ] && return
    (cd "$1" && npm ci --no-audit --no-fund --loglevel=error) && printf '%s\n' "$now" >"$stamp"
}

# build_ui: ui/dist from ui/, when any file that makes it changed.
build_ui() {
    npm_ready "$root/ui" || return 1
    local now
    now=$(cd "$root/ui" && find . -type f -not -path './node_modules/*' -not -path './dist/*' -print0 |
        LC_ALL=C sort -z | xargs -0 sha256sum | sha256sum)
    [ -f "$root/ui/dist/index.html" ] && [ "$(cat "$root/ui/node_modules/.dist-made-from" 2>/dev/null)" = "$now" ] && return
    (cd "$root/ui" && npm run --silent build) && printf '%s\n' "$now" >"$root/ui/node_modules/.dist-made-from"
}

mkdir -p "$root/build"
cd "$root" || exit 1
