"""Workbooks between Lagline and openpyxl, which reads and writes the format apart from it.

openpyxl_test.py LAGLINE PLANT: writes the plant folder as workbooks that Lagline must rank to the
same bytes as the CSV files; reads the workbooks that Lagline writes and compares every cell with
the CSV that it writes.
"""
import csv
import datetime
import io
import os
import re
import shutil
import subprocess
import sys
import tempfile

import openpyxl

PROGRAM, PLANT = sys.argv[1:3]
DAY = "2026-11-25"
TABLES = ("segments", "inspections", "turnarounds")
DATE = re.compile(r"\d{4}-\d\d-\d\d$")


def run(*arguments, code=0, **more):
    ran = subprocess.run([PROGRAM, *arguments], capture_output=True, check=False, **more)
    assert ran.returncode == code, (arguments, ran.returncode, ran.stderr.decode())
    return ran


def typed(text):
    """What a person would have typed: a number, a date, a text."""
    if DATE.match(text):
        return datetime.date.fromisoformat(text)
    for kind in (int, float):
        try:
            if repr(kind(text)) == text:
                return kind(text)
        except ValueError:
            pass
    return text or None


def fill(sheet, table):
    with open(os.path.join(PLANT, table + ".csv"), encoding="utf-8", newline="") as file:
        kinds = set()
        for row in csv.reader(file):
            cells = [typed(text) for text in row]
            kinds |= {type(cell) for cell in cells}
            sheet.append(cells)
    assert {int, str, datetime.date} <= kinds, kinds


def folder_of_workbooks(folder, joined):
    os.makedirs(folder)
    shutil.copy(os.path.join(PLANT, "plant.yaml"), folder)
    book = openpyxl.Workbook()
    book.remove(book.active)
    for table in TABLES:
        fill(book.create_sheet(table), table)
        if not joined:
            book.save(os.path.join(folder, table + ".xlsx"))
            book = openpyxl.Workbook()
            book.remove(book.active)
    if joined:
        book.save(os.path.join(folder, "plant.xlsx"))


def check_reading(work):
    usual = run("rank", PLANT, "--today", DAY, "--format", "csv").stdout
    assert usual.count(b"\n") > 500
    for name, joined in (("apart", False), ("joined", True)):
        folder = os.path.join(work, name)
        folder_of_workbooks(folder, joined)
        assert run("rank", folder, "--today", DAY, "--format", "csv").stdout == usual, name
        # A stored run holds the workbooks and is made again from them.
        run("rank", folder, "--today", DAY, "--store")
        run("verify", folder)
    place = run("explain", os.path.join(work, "joined"), "S-00228", "--today", DAY).stdout.decode()
    assert re.search(r"plant\.xlsx:segments![A-Z]+229\b", place.replace("\n", "")), place


def check_faults(work):
    """Every fault of a sheet with its cell, by one command."""
    folder = os.path.join(work, "faulty")
    folder_of_workbooks(folder, True)
    path = os.path.join(folder, "plant.xlsx")
    book = openpyxl.load_workbook(path)
    sheet = book["segments"]
    sheet["F3"] = "#N/A"
    sheet["F4"] = "=F5*2"
    book.save(path)
    told = run("check", folder, "--today", DAY, code=3).stdout.decode()
    for cell in ("plant.xlsx:segments!F3: error [unreadable-cell]",
                 "plant.xlsx:segments!F4: error [unreadable-cell]"):
        assert cell in told, told


def equal(cell, text):
    """A cell of the workbook and a field of the CSV."""
    if cell is None:
        return text == ""
    if isinstance(cell, datetime.datetime):
        return cell.time() == datetime.time() and cell.date().isoformat() == text
    if isinstance(cell, (int, float)):
        # 16 digits are written, 17 would be needed for every double.
        return abs(cell - float(text)) <= 1e-15 * abs(float(text))
    return cell == text


def small_plant(work):
    """The first lines of the plant: a plan of all of it takes long."""
    folder = os.path.join(work, "small")
    shutil.copytree(PLANT, folder)
    for table in ("segments", "inspections"):
        path = os.path.join(folder, table + ".csv")
        with open(path, encoding="utf-8") as file:
            lines = file.readlines()
        kept = [line for line in lines[1:] if line < "S-00041"]
        with open(path, "w", encoding="utf-8") as file:
            file.writelines(lines[:1] + kept)
    return folder


def check_written(work, command, sheet_name):
    path = os.path.join(work, command[0] + ".xlsx")
    arguments = (*command, "--today", DAY, "--format")
    run(*arguments, "xlsx", "--out", path)
    rows = list(csv.reader(io.StringIO(run(*arguments, "csv").stdout.decode())))
    book = openpyxl.load_workbook(path)
    sheet = book[sheet_name]
    cells = list(sheet.iter_rows(values_only=True))
    assert len(cells) == len(rows) > 40
    for row, (have, want) in enumerate(zip(cells, rows), 1):
        assert len(have) == len(want)
        for column, (cell, text) in enumerate(zip(have, want), 1):
            assert equal(cell, text), (command, row, column, cell, text)
    assert sheet.freeze_panes == "A2"
    assert sheet.auto_filter.ref == sheet.dimensions
    assert book.properties.created == datetime.datetime.fromisoformat(DAY)
    heading = rows[0].index("due_date") + 1
    dates = {sheet.cell(row, heading).number_format for row in range(2, len(cells) + 1)
             if sheet.cell(row, heading).value is not None}
    due = any(row[heading - 1] for row in rows[1:])
    assert due or sheet_name == "plan", "the ranking has due dates"
    assert dates == ({"yyyy-mm-dd"} if due else set()), dates
    check_beside(book)
    # The bytes do not depend on the clock or the time zone.
    again = os.path.join(work, "again.xlsx")
    run(*arguments, "xlsx", "--out", again, env={**os.environ, "TZ": "Asia/Tokyo"})
    with open(path, "rb") as one, open(again, "rb") as two:
        assert one.read() == two.read()


def check_beside(book):
    def rows(name):
        return list(book[name].iter_rows(values_only=True))
    sources = rows("sources")
    heading = sources[0]
    assert {"unit", "basis", "source", "valid_from", "valid_to"} <= set(heading), heading
    rates = [dict(zip(heading, row)) for row in sources[1:] if row[0] == "base_rate"]
    severe = [rate for rate in rates if rate["entry"] == "severe at 90 degF"]
    assert len(severe) == 1 and severe[0]["value"] == 10 and severe[0]["unit"] == "mpy", severe
    assert severe[0]["along_unit"] == "degF" and severe[0]["valid_from"] < severe[0]["valid_to"]
    assert any(row[1] == "rule default" for row in rows("assumptions"))
    assert any("screening aid" in row[1] for row in rows("cautions"))
    for sheet in book:
        for row in sheet.iter_rows():
            assert all(cell.data_type != "f" for cell in row), sheet.title


def check_formulas(work):
    """Texts of the plant that a spreadsheet would run, through both forms of output."""
    folder = os.path.join(work, "formulas")
    shutil.copytree(PLANT, folder)
    path = os.path.join(folder, "segments.csv")
    with open(path, encoding="utf-8") as file:
        text = file.read()
    assert "QW-0001," in text
    with open(path, "w", encoding="utf-8") as file:
        file.write(text.replace(",QW-0001,", ',"=HYPERLINK(""x"")",', 1))
    out = os.path.join(folder, "out.xlsx")
    run("rank", folder, "--today", DAY, "--format", "xlsx", "--out", out)
    cells = [cell for row in openpyxl.load_workbook(out)["ranking"].iter_rows() for cell in row
             if isinstance(cell.value, str) and cell.value.startswith("=")]
    assert [(cell.value, cell.data_type) for cell in cells] == [('=HYPERLINK("x")', "s")], cells
    fields = [field for row in csv.reader(io.StringIO(
        run("rank", folder, "--today", DAY, "--format", "csv").stdout.decode())) for field in row]
    assert "'=HYPERLINK(\"x\")" in fields
    assert not any(field.startswith("=") for field in fields)


def check_findings(work):
    """Findings are not added to inspections that stand in a workbook; nothing is written."""
    for joined in (False, True):
        folder = os.path.join(work, f"findings-{joined}")
        folder_of_workbooks(folder, joined)
        before = {name: os.path.getmtime(os.path.join(folder, name)) for name in os.listdir(folder)}
        sheet = os.path.join(work, "findings.csv")
        with open(sheet, "w", encoding="utf-8") as file:
            file.write("segment,date,technique,coverage [%],rust_grade\nS-00001,2026-04-20,strip_and_look,90,2\n")
        ran = run("record", folder, sheet, "--today", DAY, code=3)
        assert b"workbook" in ran.stderr and b"nothing was written" in ran.stderr, ran.stderr
        assert before == {name: os.path.getmtime(os.path.join(folder, name)) for name in os.listdir(folder)}


def main():
    with tempfile.TemporaryDirectory() as work:
        check_reading(work)
        check_faults(work)
        check_written(work, ("rank", PLANT), "ranking")
        check_written(work, ("plan", small_plant(work), "--no-curve"), "plan")
        check_formulas(work)
        check_findings(work)
    print("openpyxl and Lagline agree")


main()
