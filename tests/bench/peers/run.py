#!/usr/bin/python3
"""Lagline beside general tools on the same computation: agreement first, then the time of all.

  tests/bench/peers/run.py [LAGLINE [SEGMENTS]]     build/release/bin/lagline, 1000000 segments

Prints a table in Markdown, each row once its figures stand and its peer agrees to 1e-9; status 1, and
no further row, when one does not.  What was compared, and the packages of peers that had to be left
out, go to the standard error.
"""
import csv
import datetime
import filecmp
import importlib.metadata
import importlib.util
import json
import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True  # leave no trace beside the sources
HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[2]
COLUMNS = (
    "segment line unit material nominal_size nominal_wall in_service operating_temperature insulation_type "
    "insulation_condition complexity pooling ground_or_water_interface driver coating_quality coating_date "
    "design_pressure consequence_category"
).split()
NUMBERS = ("nominal_wall", "operating_temperature", "design_pressure")
AT, TODAY = "2028-06-01", "2026-12-01"  # given to all, so that a run can be repeated on any day
TOP, CHECKED, SHEET_ROWS = 1000, 100000, (10000, 100000)
ROUNDS = {"lagline": 5, "lagline --threads 1": 5, "NumPy": 5, "SQLite": 3}
SHEET_RUNS = {10000: 3, 100000: 1}  # a run of 100 000 rows takes about a minute
EXPORT = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,1"


def missing_packages():
    modules = {"yaml": "python3-yaml", "numpy": "python3-numpy", "pandas": "python3-pandas", "scipy": "python3-scipy"}
    base = [package for module, package in modules.items() if importlib.util.find_spec(module) is None]
    sql = [package for program, package in (("sqlite3", "sqlite3"), ("cc", "gcc")) if not shutil.which(program)]
    if not pathlib.Path("/usr/include/sqlite3ext.h").exists():
        sql.append("libsqlite3-dev")
    sheet = [] if shutil.which("soffice") else ["libreoffice-calc-nogui"]
    return {"NumPy": base, "SQLite": sql, "LibreOffice": sheet}


class Run:
    """One process to its end: wall and processor time [s], peak memory [MB]."""

    def __init__(self, command, **options):
        start = time.monotonic()
        child = subprocess.Popen([str(c) for c in command], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, **options)
        complaint = child.stderr.read()
        _, status, usage = os.wait4(child.pid, 0)
        self.wall = time.monotonic() - start
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode != 0:
            sys.exit(f"{command[0]} failed: {complaint.decode()}")
        self.processor = usage.ru_utime + usage.ru_stime
        self.peak = usage.ru_maxrss / 1024.0


class Bench:
    def __init__(self, lagline, folder):
        self.lagline, self.folder = lagline, folder
        self.environment = {**os.environ, "LAGLINE_RULES": str(ROOT / "rules")}

    def make_plant(self, segments):
        """A plant of the 18 columns only; heads and cells as they were."""
        whole, cut = self.folder / f"whole-{segments}", self.folder / f"plant-{segments}"
        Run([self.lagline, "synthesise", whole, "--segments", segments, "--seed", 7], env=self.environment)
        cut.mkdir()
        for name in ("plant.yaml", "turnarounds.csv"):
            shutil.copy(whole / name, cut)
        with open(whole / "segments.csv", newline="") as source, open(cut / "segments.csv", "w", newline="") as out:
            rows = csv.reader(source)
            writer = csv.writer(out, lineterminator="\n")
            heads = next(rows)
            plain = [head.split(" ")[0] for head in heads]
            chosen = [plain.index(column) for column in COLUMNS]
            writer.writerow([heads[i] for i in chosen])
            writer.writerows([row[i] for i in chosen] for row in rows)
        shutil.rmtree(whole)
        return cut

    def prepare(self, plant):
        """Tables of rule values and the compiled erfc(): made once, outside the time of the peers."""
        import rule_values
        import sql_tables

        values = rule_values.read(ROOT / "rules/published", plant, ROOT / "engine/quantity/pipe_size.cpp")
        (self.folder / "tables.json").write_text(json.dumps(values))
        (self.folder / "tables.sql").write_text(sql_tables.text(values, AT, TODAY))
        if not missing_packages()["SQLite"]:
            Run(["cc", "-O2", "-fPIC", "-shared", "-o", self.folder / "erfc.so", HERE / "erfc.c", "-lm"])

    def sql(self, plant, top, out):
        types = ", ".join(f"{c} {'REAL' if c in NUMBERS else 'TEXT'}" for c in COLUMNS)
        script = self.folder / "run.sql"
        script.write_text(
            f".bail on\n.load {self.folder}/erfc\n.read {self.folder}/tables.sql\nCREATE TABLE segments ({types});\n"
            f".import --csv --skip 1 {plant}/segments.csv segments\n.read {HERE}/method.sql\n"
            f".mode csv\n.headers on\n.output {out}\n"
            "SELECT row_number() OVER (ORDER BY risk DESC, segment) AS rank, segment,"
            " row_number() OVER (ORDER BY risk_today DESC, segment) AS rank_today,"
            f" damage_factor, probability, risk FROM scored ORDER BY rank LIMIT {top or -1};\n"
        )
        return ["sqlite3", "-batch", ":memory:", f".read {script}"]

    def run(self, name, plant, top, out):
        segments = plant / "segments.csv"
        if name.startswith("lagline"):
            threads = name.split()[1:]
            return Run([self.lagline, "rank", plant, "--rules", "published", "--at", AT, "--today", TODAY,
                        "--format", "csv", "--top", top, "--out", out, *threads], env=self.environment)
        if name == "NumPy":
            return Run([sys.executable, HERE / "with_numpy.py", self.folder / "tables.json", segments, AT, TODAY, top, out])
        return Run(self.sql(plant, top, out))

    def write_workbook(self, plant, rows):
        book = self.folder / f"book-{rows}.xlsx"
        Run([sys.executable, HERE / "workbook.py", self.folder / "tables.json", plant / "segments.csv", AT, TODAY, book])
        return book

    def calculate(self, book):
        profile = f"-env:UserInstallation=file://{self.folder}/profile"
        run = Run(["soffice", "--headless", profile, "--convert-to", EXPORT, "--outdir", self.folder, book])
        return run, self.folder / f"{book.stem}-segments.csv"

    def agree(self, name, ours, theirs):
        if name.startswith("lagline"):
            if not filecmp.cmp(ours, theirs, shallow=False):
                sys.exit(f"{name}: other bytes than with all threads")
            return
        done = subprocess.run([sys.executable, HERE / "compare.py", ours, theirs], capture_output=True, text=True)
        print(f"{name}: {done.stdout.strip()}{done.stderr.strip()}", file=sys.stderr)
        if done.returncode != 0:
            sys.exit(f"{name} does not agree with lagline: no figures")


def in_turns(bench, names, plant, label):
    """Runs in rounds, so that a change of the machine's load meets all; outputs are compared."""
    runs = {name: [] for name in names}
    outputs = {name: bench.folder / f"{label}-{i}.csv" for i, name in enumerate(names)}
    for turn in range(max(ROUNDS.values())):
        for name in names:
            if turn < ROUNDS[name]:
                runs[name].append(bench.run(name, plant, TOP, outputs[name]))
    for name in names:
        if name != "lagline":
            bench.agree(f"{name}, first {TOP} of {label}", outputs["lagline"], outputs[name])
    return runs


def median(runs, what):
    return statistics.median(getattr(run, what) for run in runs)


def print_row(name, segments, runs, ours):
    wall, processor, peak = (median(runs, what) for what in ("wall", "processor", "peak"))
    by_wall, by_processor = wall / median(ours, "wall"), processor / median(ours, "processor")
    by_peak = peak / median(ours, "peak")
    print(
        f"| {name} | {segments:,} | {wall:.2f} s | {processor:.2f} s | {peak:.0f} MB | {by_wall:.1f} | "
        f"{by_processor:.1f} | {by_peak:.1f} | {len(runs)} |".replace(",", " "), flush=True
    )


def first_line(*command):
    return subprocess.run([str(c) for c in command], capture_output=True, text=True).stdout.strip().split("\n")[0]


def print_machine(bench, load):
    with open("/proc/cpuinfo") as file:
        model = next((line.split(":")[1].strip() for line in file if line.startswith("model name")), "")
    versions = [first_line(bench.lagline, "--version"), first_line("git", "-C", ROOT, "log", "-1", "--format=commit %h"),
                "Python " + sys.version.split()[0]]
    for name in ("numpy", "pandas", "scipy"):
        versions.append(f"{name} {importlib.metadata.version(name)}")
    if shutil.which("sqlite3"):
        versions.append("SQLite " + first_line("sqlite3", "--version").split()[0])
    if shutil.which("soffice"):
        versions.append(" ".join(first_line("soffice", "--version").split()[:2]))
    print(f"\n{datetime.date.today()}, {model}, {os.cpu_count()} cores, load before the first run {load:.1f};")
    print(", ".join(versions) + ".")


def calculate_sheet(bench, plant, rows):
    book = bench.write_workbook(plant, rows)
    if rows == min(SHEET_ROWS):
        bench.calculate(book)  # makes the user's profile
    whole = bench.folder / "whole.csv"
    bench.run("lagline", plant, 0, whole)
    ours = [bench.run("lagline", plant, TOP, bench.folder / "ours.csv") for _ in range(ROUNDS["lagline"])]
    sheets = []
    for _ in range(SHEET_RUNS[rows]):
        run, found = bench.calculate(book)
        sheets.append(run)
    bench.agree(f"LibreOffice, all of {rows}", whole, found)
    print_row("lagline", rows, ours, ours)
    print_row("LibreOffice", rows, sheets, ours)


def main(lagline, segments):
    missing = missing_packages()
    for name, packages in missing.items():
        if packages:
            print(f"{name} is left out, missing: {' '.join(packages)}", file=sys.stderr)
    if missing["NumPy"]:
        sys.exit("rule values and comparison need these too: nothing to compare")
    load = os.getloadavg()[0]
    with tempfile.TemporaryDirectory(prefix="lagline-peers-") as folder:
        bench = Bench(lagline, pathlib.Path(folder))
        plants = {rows: bench.make_plant(rows) for rows in {CHECKED, *SHEET_ROWS}}
        bench.prepare(plants[CHECKED])
        names = [name for name in ROUNDS if not missing.get(name)]
        for name in names:
            out = bench.folder / f"all-{names.index(name)}.csv"
            bench.run(name, plants[CHECKED], 0, out)
            if name != "lagline":
                bench.agree(f"{name}, all of {CHECKED}", bench.folder / "all-0.csv", out)
        runs = in_turns(bench, names, bench.make_plant(segments), segments)
        print("| program | segments | wall | processor | peak | wall / lagline | processor / lagline | peak / lagline | runs |")
        print("|---|---:|---:|---:|---:|---:|---:|---:|---:|")
        for name in names:
            print_row(name, segments, runs[name], runs["lagline"])
        for rows in () if missing["LibreOffice"] else SHEET_ROWS:
            calculate_sheet(bench, plants[rows], rows)
        print_machine(bench, load)


if __name__ == "__main__":
    program = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else ROOT / "build/release/bin/lagline").resolve()
    if not program.exists():
        sys.exit(f"no {program}: build it (cmake --preset release && cmake --build --preset release), or name another")
    main(program, int(sys.argv[2]) if len(sys.argv) > 2 else 1000000)
