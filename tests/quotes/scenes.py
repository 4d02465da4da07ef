"""Folders that quoted commands run in, beside the sample plant: my-plant, as a page describes it."""


def replaced(path, before, now):
    text = path.read_text(encoding="utf-8")
    assert before in text, (path, before)
    path.write_text(text.replace(before, now, 1), encoding="utf-8")


def starter(folder, lagline):
    ran = lagline("new", "my-plant")
    assert ran.returncode == 0, ran.stderr
    return folder / "my-plant"


def wrong_unit(folder, lagline):
    """A length in the column of a temperature."""
    replaced(starter(folder, lagline) / "segments.csv", "Sch 40,82,", "Sch 40,93 mm,")


def overridden(folder, lagline):
    """The overrides that docs/plant-folder.md shows."""
    with open(starter(folder, lagline) / "overrides.csv", "a", encoding="utf-8") as rows:
        rows.write('EX-001,insulation_condition,average,"jacket renewed, walk-down of 2026",integrity engineer,'
                   "2026-06-01,2031-12-31\n"
                   "EX-003,minimum_thickness,3.2 mm,calculation 114,integrity engineer,2025-03-01,\n")


SCENES = {"starter": starter, "wrong-unit": wrong_unit, "overridden": overridden}
