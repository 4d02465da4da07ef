"""The work pack in a real browser: pack_test.py LAGLINE FOLDER

FOLDER takes the plant and the pack.
"""

import base64
import csv
import io
import pathlib
import re
import shutil
import subprocess
import sys
import unittest

import browser

PROGRAM, FOLDER = sys.argv[1], pathlib.Path(sys.argv[2])
SAMPLE = pathlib.Path(__file__).parents[2] / "sample-plant" / "plant"
HOSTILE = "<img src=x onerror=alert(1)>"
PLAN = ["--today", "2026-11-25", "--no-curve", "--gap", "0.05"]
# A4, landscape, in points of 1/72 inch (ISO 216: 297 mm by 210 mm).
A4 = (842, 595)


def plan(plant, *arguments):
    done = subprocess.run([PROGRAM, "plan", str(plant), *PLAN, *arguments], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


def made_plant():
    """The sample plant with text that would be markup: names, groups, windows, lines."""
    plant = FOLDER / "pack-plant"
    shutil.rmtree(plant, ignore_errors=True)
    shutil.copytree(SAMPLE, plant)
    for path in plant.iterdir():
        text = path.read_text()
        for name in ("SG-0014", "S-00105", "TA-2030", "TG-0031", "Quellmarsh Point Works (invented)"):
            hostile = (HOSTILE + name[-3:])
            text = text.replace(name, f"'{hostile}'" if path.suffix == ".yaml" else hostile)
        path.write_text(text)
    return plant


class Pack(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        plant = made_plant()
        cls.pack = plan(plant, "--format", "pack")
        cls.again = plan(plant, "--format", "pack")
        cls.one = plan(plant, "--format", "pack", "--window", "TA-2027")
        cls.rows = list(csv.DictReader(io.StringIO(plan(plant, "--format", "csv"))))
        cls.findings = list(csv.reader(io.StringIO(plan(plant, "--format", "findings"))))
        path = FOLDER / "pack.html"
        path.write_text(cls.pack)
        cls.driver = browser.start()
        cls.driver.get(path.as_uri())
        cls.asked = browser.requests(cls.driver)
        cls.complaints = browser.complaints(cls.driver)
        cls.uri = path.as_uri()

    @classmethod
    def tearDownClass(cls):
        cls.driver.quit()

    def look(self, script):
        return self.driver.execute_script(script)

    def test_it_loads_nothing_runs_nothing_and_breaks_no_policy(self):
        self.assertEqual(self.asked, [self.uri])
        self.assertEqual(self.complaints, [])
        self.assertEqual(self.look("return document.querySelectorAll("
                                   "'script, img, link, iframe, [src], [href], [onerror]').length"), 0)

    def test_what_the_plant_says_stays_text(self):
        self.assertIn(HOSTILE, self.look("return document.querySelector('h1').innerText"))
        names = self.look("return [...document.querySelectorAll('.work .name')].map(e => e.innerText)")
        self.assertIn(HOSTILE + "105", names)
        self.assertIn(HOSTILE, self.look("return document.title"))

    def test_the_same_plan_gives_the_same_bytes(self):
        self.assertEqual(self.pack, self.again)

    def test_every_segment_that_is_worked_on_stands_on_one_sheet_with_a_box(self):
        names = self.look("return [...document.querySelectorAll('.work .name')].map(e => e.innerText)")
        acting = [row["segment"] for row in self.rows if row["action"] != "leave"]
        self.assertGreater(len(acting), 20)
        self.assertEqual(sorted(names), sorted(acting))
        boxes = self.look("return document.querySelectorAll('.work .tick .box').length")
        self.assertEqual(boxes, len(acting))
        empty = self.look("return [...document.querySelectorAll('.work tbody td')]"
                          ".filter(e => e.innerText.trim() === '' && !e.querySelector('.box')).length")
        self.assertEqual(empty, 0)

    def test_the_tables_of_findings_are_the_sheet_to_type_into(self):
        tables = self.look(
            "return [...document.querySelectorAll('table.findings')].map(t => ({"
            "  heads: [...t.querySelectorAll('thead tr:last-child th')].map(e => e.textContent),"
            "  rows: [...t.querySelectorAll('tbody tr')].map(r => [...r.cells].map(c => c.textContent))}))")
        known = []
        for table in tables:
            self.assertEqual(table["heads"], self.findings[0])
            known += [row for row in table["rows"] if row[0]]
            self.assertGreaterEqual(sum(not row[0] for row in table["rows"]), 1)
        self.assertEqual(known, self.findings[1:])
        self.assertEqual(self.findings[0],
                         SAMPLE.joinpath("inspections.csv").read_text().splitlines()[0].split(","))

    def test_each_sheet_has_cautions_and_lines_to_sign(self):
        sheets = self.look("return [...document.querySelectorAll('section.sheet')].map(s => s.innerText)")
        self.assertGreater(len(sheets), 10)
        for sheet in sheets:
            for wanted in ("Cautions", "Permit to work", "Inspector, name", "signature", "Scaffold:"):
                self.assertIn(wanted, sheet)

    def test_it_prints_to_whole_pages_of_a4_that_hold_what_is_on_them(self):
        self.assertFalse(self.look("return document.body.scrollWidth > document.body.clientWidth + 1"))
        printed = self.driver.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})
        boxes = re.findall(rb"/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]", base64.b64decode(printed["data"]))
        self.assertGreater(len(boxes), 10)
        for width, height in boxes:
            self.assertAlmostEqual(float(width), A4[0], delta=1)
            self.assertAlmostEqual(float(height), A4[1], delta=1)

    def test_heads_are_repeated_and_rows_not_cut(self):
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
        style = "return [...document.querySelectorAll('{}')].every(e => getComputedStyle(e).{} === '{}')"
        self.assertTrue(self.look(style.format("table.work thead, table.findings thead", "display",
                                               "table-header-group")))
        self.assertTrue(self.look(style.format("tbody tr", "breakInside", "avoid")))
        self.assertTrue(self.look(style.format("h1, h2, h3", "breakAfter", "avoid")))
        self.assertTrue(self.look(style.format("section.sheet", "breakBefore", "page")))

    def test_one_window_has_its_sheets_alone(self):
        self.assertIn("TA-2027, ", self.one)
        self.assertNotIn("OS-2028, scaffold group", self.one)
        self.assertIn("OS-2028, scaffold group", self.pack)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
