#!/usr/bin/env bash
# Sees that what the build needs is there; on Debian and its kin, installs what is missing.
#   tests/setup.sh          to build and run the program
#   tests/setup.sh tests    for the tests as well
# Makes no call to apt when nothing is missing.
set -euo pipefail

packages=(g++ cmake ninja-build libeigen3-dev libyaml-cpp-dev rapidjson-dev libcli11-dev libspdlog-dev libboost-dev
          coinor-libcbc-dev libsqlitecpp-dev libsqlite3-dev libssl-dev zlib1g-dev
          libzip-dev libexpat1-dev libxlsxwriter-dev)
tools=(g++ cmake ninja)
if [[ "${1:-}" == tests ]]; then
    # The versions are named: another formatter would format otherwise.
    packages+=(ccache doctest-dev libgsl-dev python3-scipy python3-openpyxl clang-format-14 clang-tidy-14
               chromium chromium-driver python3-selenium dpkg-dev file man-db mandoc parallel zsh)
fi

installed() {
    [[ "$(dpkg-query -W -f='${db:Status-Abbrev}' "$1" 2>/dev/null)" == ii* ]]
}

as_root() {
    if [[ $EUID -eq 0 ]]; then
        "$@"
    elif command -v sudo >/dev/null; then
        sudo "$@"
    else
        echo "setup: needs root or sudo to install packages; as root: apt-get install ${missing[*]}" >&2
        exit 1
    fi
}

if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
    echo "setup: no apt-get here; these Debian packages, or their like, are needed:"
    echo "setup:   ${packages[*]}"
    for tool in "${tools[@]}"; do
        command -v "$tool" >/dev/null || { echo "setup: $tool not found" >&2; exit 1; }
    done
    exit 0
fi

missing=()
for package in "${packages[@]}"; do
    installed "$package" || missing+=("$package")
done
[[ ${#missing[@]} -gt 0 ]] || exit 0

log="$(mktemp)"
trap 'rm -f "$log"' EXIT
quietly() {
    as_root env DEBIAN_FRONTEND=noninteractive "$@" >"$log" 2>&1 </dev/null || {
        cat "$log" >&2
        echo "setup: failed: $*" >&2
        exit 1
    }
}
echo "setup: reading the package lists"
quietly apt-get update -q
echo "setup: installing ${missing[*]}"
quietly apt-get install -y -q --no-install-recommends "${missing[@]}"
