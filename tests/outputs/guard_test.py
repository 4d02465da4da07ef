"""No output takes the place of an input, a ledger or a rule file, nor of a file of anybody else.

guard_test.py LAGLINE SOURCE: every command that writes, against every kind of file it reads, by
every path that leads there; then every output over an earlier output of its own.
"""
import hashlib
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

import openpyxl

PROGRAM, SOURCE = os.path.abspath(sys.argv[1]), pathlib.Path(sys.argv[2]).resolve()
DAY = ["--today", "2026-11-25"]
WRONG_USE = 2
OTHERS = "notes of somebody else\n"

# What is written with --out; {plant}, {parts} and {ledger} stand for what is read.
COMMANDS = {
    "rank": ["rank", "{plant}", *DAY, "--out"],
    "plan": ["plan", "{plant}", *DAY, "--no-curve", "--out"],
    "report": ["report", "{plant}", *DAY, "--no-plan", "--out"],
    "forecast": ["forecast", "{plant}", *DAY, "--top", "3", "--out"],
    "matrix": ["matrix", "{plant}", *DAY, "--out"],
    "uncertainty": ["uncertainty", "{plant}", *DAY, "--samples", "16", "--out"],
    "backtest": ["backtest", "{plant}", *DAY, "--out"],
    "pool": ["pool", "{plant}", *DAY, "--out"],
    "pool --overlay": ["pool", "{plant}", *DAY, "--overlay"],
    "recoat": ["recoat", "{plant}", "S-00228", *DAY, "--out"],
    "explain": ["explain", "{plant}", "S-00228", *DAY, "--out"],
    "explain --action": ["explain", "{plant}", "S-00228", "--action", "best", *DAY, "--out"],
    "what-if": ["what-if", "{plant}", *DAY, "--budget", "TA-2027=900000", "--out"],
    "compare": ["compare", "{plant}", "1", "2", "--out"],
    "merge": ["merge", "{part}", "--out"],
    "dictionary": ["dictionary", "--out"],
    "dictionary --commands": ["dictionary", "--commands", "--out"],
    "dictionary --completion": ["dictionary", "--completion", "bash", "--out"],
}
FORMATS = {
    "rank": ["table", "csv", "json", "xlsx"],
    "plan": ["table", "csv", "json", "xlsx", "scope", "pack", "findings"],
    "forecast": ["table", "csv", "json", "svg"],
    "matrix": ["table", "csv", "json", "svg"],
    "uncertainty": ["table", "csv", "json"],
    "backtest": ["table", "csv", "json", "svg"],
    "pool": ["table", "csv", "json"],
    "recoat": ["table", "json"],
    "explain": ["text", "json"],
    "compare": ["table", "json"],
}
NO_PLANT = {"merge", "dictionary", "dictionary --commands", "dictionary --completion"}


class Guard(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = pathlib.Path(tempfile.mkdtemp(prefix="lagline-outputs-"))
        cls.addClassCleanup(shutil.rmtree, cls.folder)
        cls.plant = cls.folder / "plant"
        shutil.copytree(SOURCE / "sample-plant" / "plant", cls.plant)
        cls.rules = cls.folder / "rules"
        shutil.copytree(SOURCE / "rules", cls.rules)
        cls.environment = {**os.environ, "LAGLINE_RULES": str(cls.rules)}
        (cls.plant / "rules").mkdir()
        (cls.plant / "rules" / "site.yaml").write_text(
            "ruleset: {name: site, meaning: ours, based_on: extended}\n")
        (cls.plant / "columns.yaml").write_text("segments.csv: {}\n")
        (cls.plant / "overrides.csv").write_text("segment,quantity,value,reason,who,when,until\n")
        cls.part = cls.folder / "part.csv"
        cls.run_now("rank", cls.plant, *DAY, "--top", "0", "--format", "csv", "--out", cls.part)
        for at in ("2027-04-05", "2030-04-08"):
            cls.run_now("rank", cls.plant, *DAY, "--at", at, "--store", "--top", "1")

    @classmethod
    def run_now(cls, *arguments, code=0, **more):
        ran = subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, check=False,
                             env=cls.environment, **more)
        assert ran.returncode == code, (arguments, ran.returncode, ran.stderr.decode())
        return ran

    def command(self, name, *more):
        words = [word.format(plant=self.plant, part=self.part) for word in COMMANDS[name]]
        return [*words, *more]

    def state(self):
        """Every file that must not change, with its content."""
        files = [f for f in (*self.plant.rglob("*"), *self.rules.rglob("*"), self.part) if f.is_file()]
        return {f: hashlib.sha256(f.read_bytes()).hexdigest() for f in files
                if not f.name.endswith(("-wal", "-shm"))}

    def refused(self, arguments, what=b"nothing was written", **more):
        ran = self.run_now(*arguments, code=WRONG_USE, **more)
        self.assertIn(what, ran.stderr, arguments)
        self.assertEqual(ran.stdout, b"", arguments)

    def inputs_of(self, name):
        shipped = [self.rules / "published" / "inspection.yaml", self.rules / "extended" / "words.yaml"]
        if name == "merge":
            return [*shipped, self.part, self.plant / "lagline.db"]
        if name in NO_PLANT:
            return [*shipped, self.plant / "lagline.db"]
        names = ["plant.yaml", "segments.csv", "inspections.csv", "turnarounds.csv", "overrides.csv",
                 "columns.yaml", "lagline.db", "rules/site.yaml"]
        return [*shipped, *(self.plant / each for each in names)]

    def paths_to(self, target, links):
        """The ways that lead to a file."""
        soft, hard, folder = links / "soft", links / "hard", links / "folder"
        soft.symlink_to(target)
        os.link(target, hard)
        folder.symlink_to(target.parent)
        return [target, soft, hard, folder / target.name,
                target.parent / ".." / target.parent.name / target.name]

    def test_no_command_writes_over_an_input_by_any_path(self):
        before = self.state()
        for name in COMMANDS:
            for target in self.inputs_of(name):
                with tempfile.TemporaryDirectory(dir=self.folder) as links:
                    for path in self.paths_to(target, pathlib.Path(links)):
                        with self.subTest(command=name, path=path):
                            self.refused(self.command(name, path, "--force"))
                            self.assertTrue(path.exists())
        self.assertEqual(self.state(), before)

    def test_workbooks_that_are_read_are_inputs(self):
        plant = self.folder / "books"
        shutil.copytree(self.plant, plant)
        for name in ("segments.xlsx", "inspections.xlsx", "plant.xlsx"):
            (plant / name).write_bytes(b"PK")
            self.refused(["rank", plant, *DAY, "--out", plant / name, "--force"])
            self.assertEqual((plant / name).read_bytes(), b"PK")

    def test_places_of_inputs_that_are_not_there_yet(self):
        before = self.state()
        for name in ("plant.xlsx", "Segments.CSV", "TURNAROUNDS.xlsx", "lagline.db-wal",
                     "LAGLINE.DB-journal", "rules/new.yaml", "rules/deep/new.YML"):
            path = self.plant / name
            with self.subTest(name=name):
                self.refused(self.command("rank", path, "--force"))
        self.refused(self.command("dictionary", self.rules / "published" / "new.yaml", "--force"))
        self.refused(["show", self.plant, "1", "--extract", self.plant / "rules" / "run"])
        self.refused(["new", self.rules / "published" / "plant"])
        self.assertEqual(self.state(), before)

    def test_ledgers_of_others_and_their_parts(self):
        elsewhere = self.folder / "shelf.sqlite"
        shutil.copy(self.plant / "lagline.db", elsewhere)
        before = elsewhere.read_bytes()
        self.refused(self.command("rank", elsewhere, "--force"), b"ledger")
        self.refused(self.command("dictionary", f"{elsewhere}-wal", "--force"), b"ledger")
        self.assertEqual(elsewhere.read_bytes(), before)
        new = self.folder / "new.db"
        self.refused(self.command("rank", new, "--ledger", new), b"ledger")
        self.assertFalse(new.exists())

    def test_no_run_is_stored_in_an_input(self):
        before = self.state()
        for path in (self.plant / "segments.csv", self.plant / "Overrides.XLSX",
                     self.plant / "rules" / "x.yaml", self.rules / "published" / "wall.yaml"):
            with self.subTest(path=path):
                self.refused(["rank", self.plant, *DAY, "--ledger", path])
        self.assertEqual(self.state(), before)

    def test_standard_streams(self):
        segments = self.folder / "some.csv"
        shutil.copy(self.plant / "segments.csv", segments)
        before = segments.read_bytes()
        with open(segments, "rb") as rows:
            self.refused(["rank", self.plant, "--stdin", *DAY, "--out", segments, "--force"], stdin=rows)
        with open(self.plant / "segments.csv", "ab") as appended:
            ran = subprocess.run([PROGRAM, "rank", self.plant, *DAY], stdout=appended,
                                 stderr=subprocess.PIPE, check=False, env=self.environment)
        self.assertEqual(ran.returncode, WRONG_USE)
        self.assertEqual((self.plant / "segments.csv").read_bytes(), before)
        self.assertEqual(segments.read_bytes(), before)

    def test_devices_and_pipes_are_written_to(self):
        self.run_now(*self.command("matrix", "/dev/null"))
        shown = self.run_now(*self.command("matrix", "/dev/stdout"))
        self.assertIn(b"Segments by probability", shown.stdout)
        pipe = self.folder / "pipe"
        os.mkfifo(pipe)
        with subprocess.Popen(["cat", pipe], stdout=subprocess.PIPE) as reader:
            self.run_now(*self.command("matrix", pipe))
            self.assertIn(b"Segments by probability", reader.stdout.read())
        self.assertTrue(pipe.is_fifo())

    def test_a_file_of_somebody_else_only_with_force(self):
        out = self.folder / "notes.txt"
        for name in COMMANDS:
            with self.subTest(command=name):
                out.write_text(OTHERS)
                self.refused(self.command(name, out), b"--force")
                self.assertEqual(out.read_text(), OTHERS)
        for name in ("rank", "dictionary", "merge", "matrix"):
            out.write_text(OTHERS)
            self.run_now(*self.command(name, out, "--force"))
            self.assertNotIn(OTHERS, out.read_text())
        pages = self.folder / "man"
        pages.mkdir()
        (pages / "lagline-rank.1").write_text(OTHERS)
        self.refused(["dictionary", "--man", pages], b"--force")
        self.assertEqual([p.name for p in pages.iterdir()], ["lagline-rank.1"])
        self.run_now("dictionary", "--man", pages, "--force")
        self.run_now("dictionary", "--man", pages)

    def test_an_output_takes_the_place_of_an_earlier_one(self):
        for name in COMMANDS:
            for form in FORMATS.get(name, [None]):
                out = self.folder / f"again-{name}-{form}"
                command = self.command(name, out, *(["--format", form] if form else []))
                with self.subTest(command=name, form=form):
                    self.run_now(*command)
                    first = out.read_bytes()
                    self.run_now(*command)
                    self.assertEqual(out.read_bytes(), first)
                    # A copy of it that says something else first is not one.
                    out.write_bytes(OTHERS.encode() * 2000 + first)
                    self.refused(command, b"--force")
        empty = self.folder / "empty"
        empty.touch()
        self.run_now(*self.command("matrix", empty))

    def test_work_of_people_in_an_output_is_not_lost(self):
        sheet = self.folder / "findings.csv"
        command = self.command("plan", sheet, "--format", "findings")
        self.run_now(*command)
        rows = sheet.read_text().splitlines(keepends=True)
        fields = rows[1].split(",")
        fields[1] = "2027-04-20"
        sheet.write_text("".join([rows[0], ",".join(fields), *rows[2:]]))
        self.refused(command, b"--force")
        self.run_now(*command, "--force")
        self.assertEqual(sheet.read_text().splitlines(keepends=True), rows)

        book = self.folder / "ranking.xlsx"
        command = self.command("rank", book, "--format", "xlsx")
        self.run_now(*command)
        opened = openpyxl.load_workbook(book)
        opened.worksheets[0]["A2"] = "a note"
        opened.save(book)
        self.refused(command, b"--force")

    def test_two_outputs_of_one_name(self):
        both = self.folder / "both"
        self.refused(["pool", self.plant, *DAY, "--out", both, "--overlay", both])


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
