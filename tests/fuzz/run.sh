#!/usr/bin/env bash
# Builds the fuzz targets with clang 14 and libFuzzer, and runs each of them.
#   tests/fuzz/run.sh [SECONDS [TARGET...]]     600 seconds each, all targets
# Ends with a line per target and "N passed, N failed".  A crash, a leak, a run of more than 10 s
# and one of more than 2 GB are failures; the input is kept in build/fuzz/found/.
set -euo pipefail

cd "$(dirname "${BASH_SOURCE[0]}")/../.."
seconds="${1:-600}"
shift || true
[[ "$seconds" =~ ^[1-9][0-9]*$ ]] || { echo "usage: tests/fuzz/run.sh [SECONDS [TARGET...]]" >&2; exit 2; }
targets=("$@")
[[ ${#targets[@]} -gt 0 ]] || targets=(quantity tables plant_yaml rules workbook ledger)

command -v clang++-14 >/dev/null || { echo "fuzz: clang++-14 not found; on Debian: apt-get install clang-14" >&2; exit 2; }
cmake --preset fuzz >/dev/null
cmake --build --preset fuzz --target "${targets[@]/#/fuzz_}"

passed=0
failed=0
summary=()
found=build/fuzz/found
mkdir -p "$found"
for target in "${targets[@]}"; do
    echo "== $target, $seconds s"
    grown="build/fuzz/grown/$target" log="build/fuzz/$target.log"
    mkdir -p "$grown"
    options=(-max_total_time="$seconds" -timeout=10 -rss_limit_mb=2048 -print_final_stats=1
        -artifact_prefix="$found/$target-" "-dict=tests/fuzz/corpus/$target.dict")
    [[ $target != ledger ]] || options+=(-max_len=262144)
    if "build/fuzz/bin/fuzz_$target" "${options[@]}" "$grown" "tests/fuzz/corpus/$target" >"$log" 2>&1
    then
        passed=$((passed + 1)) outcome=passed
    else
        failed=$((failed + 1)) outcome=FAILED
        tail -n 40 "$log"
    fi
    runs="$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")"
    rate="$(sed -n 's/^stat::average_exec_per_sec: *//p' "$log")"
    peak="$(sed -n 's/^stat::peak_rss_mb: *//p' "$log")"
    cover="$(grep -o 'cov: [0-9]*' "$log" | tail -n 1 || true)"
    summary+=("$(printf '%-12s %-8s %10s runs %8s a second  edges %-8s %6s MB at most' "$target" "$outcome" \
        "${runs:-?}" "${rate:-?}" "${cover#cov: }" "${peak:-?}")")
done

echo
printf '%s\n' "${summary[@]}"
echo "$passed passed, $failed failed"
[[ $failed -eq 0 ]]
