#!/usr/bin/env bash
# Everything that must hold before a change goes in.
#   tests/run.sh            all of it
#   tests/run.sh --quick    without the sanitizers and clang-tidy
# Ends with "N passed, N failed", counting stages and the tests of each build.
set -euo pipefail

cd "$(dirname "${BASH_SOURCE[0]}")/.."
quick=no
case "${1:-}" in
    '') ;;
    --quick) quick=yes ;;
    *) echo "usage: tests/run.sh [--quick]" >&2; exit 2 ;;
esac

if [[ -t 1 && -z "${NO_COLOR:-}" ]]; then bold=$'\e[1m' plain=$'\e[0m'; else bold='' plain=''; fi
passed=0
failed=0
summary=()

note() { summary+=("$(printf '%-28s %-10s %5ss' "$1" "$2" "$3")"); }

# stage NAME COMMAND...: one pass or one failure; the rest goes on either way.
stage() {
    local name="$1" start=$SECONDS
    shift
    echo "${bold}== $name${plain}"
    if "$@"; then
        passed=$((passed + 1))
        note "$name" passed $((SECONDS - start))
    else
        failed=$((failed + 1))
        note "$name" FAILED $((SECONDS - start))
        return 1
    fi
}

# tests PRESET: counts every test of that build.
tests() {
    local name="tests ($1)" start=$SECONDS log="build/$1/ctest.log" bad total
    echo "${bold}== $name${plain}"
    ctest --preset "$1" -j "$(nproc)" 2>&1 | tee "$log" || true
    read -r bad total < <(sed -n 's/.* tests passed, \([0-9]*\) tests failed out of \([0-9]*\)$/\1 \2/p' \
        "$log") || { bad=1 total=1; }  # ctest itself gave up
    passed=$((passed + total - bad))
    failed=$((failed + bad))
    if [[ $bad -eq 0 ]]; then
        note "$name" "$total passed" $((SECONDS - start))
    else
        note "$name" "$bad FAILED" $((SECONDS - start))
    fi
}

setup() { tests/setup.sh tests; }

build() { cmake --preset "$1" >/dev/null && cmake --build --preset "$1"; }

format() {
    local formatter
    formatter="$(command -v clang-format-14 || command -v clang-format)"
    find engine cli tests docs/example \( -name '*.h' -o -name '*.cpp' \) -print0 | sort -z |
        xargs -0 "$formatter" --dry-run -Werror
}

stage "setup" setup || true
stage "format" format || true
if stage "build (dev)" build dev; then
    tests dev
    if [[ $quick == no ]]; then
        stage "clang-tidy" tests/tidy/check.py build/dev "${XDG_CACHE_HOME:-$HOME/.cache}/lagline-tidy" || true
    fi
fi
if [[ $quick == no ]] && stage "build (sanitize)" build sanitize; then
    tests sanitize
fi

echo
echo "${bold}== summary${plain}"
printf '%s\n' "${summary[@]}"
echo "$passed passed, $failed failed"
[[ $failed -eq 0 ]]
