#!/usr/bin/env bash
# Builds Lagline and takes it through the sample plant: check, rank, explain, plan, report.
# The plant is invented.  Output goes to sample-plant/out/.
set -euo pipefail

cd "$(dirname "${BASH_SOURCE[0]}")/.."
plant=sample-plant/plant
out=sample-plant/out
lagline=build/release/bin/lagline

if [[ -t 1 && -z "${NO_COLOR:-}" ]]; then bold=$'\e[1m' plain=$'\e[0m'; else bold='' plain=''; fi
# Shows the command as it can be typed again, then runs it.
show() {
    echo
    echo "${bold}\$ $lagline $*${plain}"
    "$lagline" "$@"
}

tests/setup.sh
echo "building $lagline (a few minutes the first time)"
cmake --preset release >/dev/null
cmake --build --preset release -- --quiet

mkdir -p "$out"
show check "$plant"
show rank "$plant" --top 20
show rank "$plant" --format csv --out "$out/ranking.csv"
show rank "$plant" --format xlsx --out "$out/ranking.xlsx"
show rank "$plant" --format json --out "$out/ranking.json"

# The first row below the heading is the highest risk.
top="$(awk -F, 'NR == 1 { for (i = 1; i <= NF; ++i) if ($i == "segment") column = i }
                NR == 2 { print $column; exit }' "$out/ranking.csv")"
show explain "$plant" "$top"
show forecast "$plant" --top 12
show matrix "$plant"
show uncertainty "$plant" --top 20
show backtest "$plant"
show plan "$plant" --top 20
show plan "$plant" --no-curve --format csv --out "$out/plan.csv"
show plan "$plant" --no-curve --format scope --out "$out/scope.txt"
show plan "$plant" --no-curve --format pack --out "$out/pack.html"
show plan "$plant" --no-curve --format findings --out "$out/findings.csv"
rm -rf "$out/plant"
cp -r "$plant" "$out/plant"
awk -F, -v OFS=, 'NR > 1 && NR < 5 { $2 = "2027-04-20"; $3 = "strip_and_measure"; $4 = 90; $5 = 3.2 } { print }' \
    "$out/findings.csv" >"$out/filled.csv"
show record "$out/plant" "$out/filled.csv" --today 2027-06-01
show explain "$plant" "$top" --action open_part
show recoat "$plant" "$top"
rm -f "$out"/lagline.db*
show rank "$plant" --top 3 --ledger "$out/lagline.db"
show rank "$plant" --top 3 --ledger "$out/lagline.db" --at 2032-06-01
show verify "$out/lagline.db"
show compare "$out/lagline.db" 1 2 --top 5
show forecast "$plant" "$top" --format svg --out "$out/forecast.svg"
show matrix "$plant" --format svg --out "$out/matrix.svg"
show report "$plant" --samples 128 --out "$out/report.html"

cat <<TEXT

${bold}What to look at next${plain}
  $out/ranking.csv    every segment in order of risk, for a spreadsheet
  $out/ranking.xlsx   the same as a workbook, with rules, assumptions and sources
  $out/ranking.json   the same for a program
  $out/forecast.svg   the years ahead of the first segment, for a browser
  $out/matrix.svg     every segment by probability and cost of a leak, with lines of equal risk
  $out/plan.csv       every segment with what is done, when, for which money
  $out/scope.txt      scope sheets by window and scaffold group
  $out/pack.html      the same to print on A4, with tables for the findings
  $out/findings.csv   the table to type findings into; three of them are recorded in $out/plant
  $out/report.html    all of it as one page, for a browser
  $out/lagline.db     two stored runs, inputs and rules with them (docs/ledger.md)
  $plant/             the files that went in: change a cell and run again
  $lagline explain $plant SEGMENT
                                why any other segment stands where it does
TEXT
