"""A workbook of Lagline opened by an office suite and saved as CSV, compared with Lagline's CSV.

office_test.py LAGLINE PLANT SOFFICE
"""
import csv
import io
import os
import subprocess
import sys
import tempfile

PROGRAM, PLANT, OFFICE = sys.argv[1:4]
DAY = "2026-11-25"
# Comma, quote, UTF-8, first line, no column formats, English (US), quote no texts needlessly, the
# values and not what is shown, no formulas, first sheet: tokens of the suite's CSV filter.
FILTER = "csv:Text - txt - csv (StarCalc):44,34,76,1,,1033,false,false,false,false,false,1"


def run(*arguments):
    return subprocess.run(arguments, capture_output=True, check=True, timeout=240).stdout


def saved_as_csv(work, workbook):
    run(OFFICE, "--headless", f"-env:UserInstallation=file://{work}/profile", "--convert-to", FILTER,
        "--outdir", work, workbook)
    made = [name for name in os.listdir(work) if name.endswith(".csv")]
    assert len(made) == 1, made
    with open(os.path.join(work, made[0]), encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def equal(theirs, ours):
    try:
        # 16 digits are in the workbook; the suite writes 15 of them, and 20 decimals at most.
        return abs(float(theirs) - float(ours)) <= 1e-14 * abs(float(ours)) + 5e-21
    except ValueError:
        return theirs == ours


def main():
    with tempfile.TemporaryDirectory() as work:
        workbook = os.path.join(work, "ranking.xlsx")
        arguments = (PROGRAM, "rank", PLANT, "--today", DAY, "--format")
        run(*arguments, "xlsx", "--out", workbook)
        theirs = saved_as_csv(work, workbook)
        ours = list(csv.reader(io.StringIO(run(*arguments, "csv").decode())))
        assert len(theirs) == len(ours) > 500, (len(theirs), len(ours))
        for row, (have, want) in enumerate(zip(theirs, ours), 1):
            assert len(have) == len(want), row
            for column, (one, two) in enumerate(zip(have, want), 1):
                assert equal(one, two), (row, column, one, two)
    print("the office suite and Lagline agree")


main()
