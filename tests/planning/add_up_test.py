"""Adds up a plan from its CSV alone and compares it with what its JSON tells of the windows.

add_up_test.py LAGLINE PLANT    exit status 1 when money or hours of a window differ by a cent or 0.01 h
"""

import csv
import io
import json
import subprocess
import sys

CRAFTS = ("scaffold", "insulation", "coating", "inspection", "welding")


def told(program, plant, form, more):
    command = [program, "plan", plant, "--no-curve", "--gap", "0.01", "--format", form, *more]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def add_up(rows):
    money, hours = {}, {}
    for row in rows:
        for when, window in (("", row["window"]), ("follow_", row["follow_window"])):
            if not window:
                continue
            own = "follow_money" if when else "money"
            money[window] = (
                money.get(window, 0.0) + float(row[own]) + float(row[when + "shared_scaffold_money"])
            )
            for craft in CRAFTS:
                spent = float(row[f"{when}{craft}_hours [h]"])
                if craft == "scaffold":
                    spent += float(row[f"{when}shared_scaffold_hours [h]"])
                hours[window, craft] = hours.get((window, craft), 0.0) + spent
    return money, hours


def compare(program, plant, more):
    rows = list(csv.DictReader(io.StringIO(told(program, plant, "csv", more))))
    plan = json.loads(told(program, plant, "json", more))
    money, hours = add_up(rows)
    differ = 0
    for window in plan["windows"]:
        name = window["name"]
        pairs = [("money", window["money"], money.get(name, 0.0))]
        pairs += [
            (craft, window["hours"][craft]["used"], hours.get((name, craft), 0.0))
            for craft in CRAFTS
        ]
        scaffolds = [one for one in plan["scaffolds"] if one["window"] == name]
        pairs.append(("scaffolds", window["scaffold_money"], sum(one["money"] for one in scaffolds)))
        for what, stated, sum_of_rows in pairs:
            if abs(stated - sum_of_rows) >= 0.01:
                print(f"{name} {what}: told {stated}, rows add up to {sum_of_rows}")
                differ += 1
    later = [
        row
        for row in rows
        if row["follow_window"] not in ("", row["window"]) and row["scaffold_group"]
    ]
    paid = [row for row in later if float(row["follow_shared_scaffold_money"]) > 0.0]
    print(f"{len(rows)} rows, {len(later)} follow-ups in a later window, {len(paid)} with a scaffold")
    return differ, len(paid)


def main():
    program, plant = sys.argv[1:]
    differ, paid = compare(program, plant, [])
    # The same where the compulsory work does not fit.
    beyond, _ = compare(program, plant, ["--budget", "TA-2027=300000"])
    return 0 if differ == beyond == 0 and paid > 0 else 1


if __name__ == "__main__":
    sys.exit(main())
