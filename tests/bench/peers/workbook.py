#!/usr/bin/python3
"""Writes the published method as a workbook with live formulas over the rows of segments.csv.

  workbook.py TABLES.json segments.csv AT TODAY OUT.xlsx

Sheet `segments` holds the cells of the file, dates as dates (the first day of what the file names),
and a column for each step; sheet `rules` the rule values.  The workbook holds no results: whoever
opens it calculates them.
"""
import csv
import datetime
import json
import sys
import zipfile
from xml.sax.saxutils import escape

NUMBERS = ("nominal_wall", "operating_temperature", "design_pressure")
DATES = ("in_service", "coating_date")
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml"
HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
SHEETS = ("segments", "rules")


def serial(day):
    parts = [int(p) for p in day.split("-")] + [1, 1]
    return (datetime.date(*parts[:3]) - datetime.date(1899, 12, 30)).days


def letters(column):
    text = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def cell(place, value):
    if isinstance(value, str):
        return f'<c r="{place}" t="inlineStr"><is><t>{escape(value)}</t></is></c>'
    return f'<c r="{place}"><v>{value!r}</v></c>'


class RuleSheet:
    """Puts tables on a sheet and remembers where they stand."""

    def __init__(self):
        self.rows = {}
        self.column = 0
        self.cells, self.ranges = {}, {}

    def put(self, row, column, value):
        self.rows.setdefault(row, []).append(cell(f"{letters(column)}{row + 1}", value))

    def table(self, name, rows):
        rows = [list(row) for row in rows if row[0] != ""]
        for i, row in enumerate(rows):
            for j, value in enumerate(row):
                self.put(i, self.column + j, value)
        columns = [letters(self.column + j) for j in range(len(rows[0]))]
        for j, column in enumerate(columns):
            self.ranges[name, j] = f"rules!${column}$1:${column}${len(rows)}"
        self.ranges[name] = f"rules!${columns[0]}$1:${columns[-1]}${len(rows)}"
        self.column += len(columns) + 1

    def number(self, name, value):
        self.put(0, self.column, value)
        self.cells[name] = f"rules!${letters(self.column)}$1"
        self.column += 1

    def xml(self):
        rows = "".join(f'<row r="{i + 1}">{"".join(self.rows[i])}</row>' for i in sorted(self.rows))
        return f'{HEAD}<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'


def fill_rules(sheet, values, at, today):
    for name, table in values["rate_factor"].items():
        sheet.table("rate " + name, table.items())
        if "" in table:
            sheet.number("rate " + name, table[""])
    for name, table in values["crack_step"].items():
        sheet.table("step " + name, table.items())
        if "" in table:
            sheet.number("step " + name, table[""])
    kinds = {"wall_loss": 1, "cracking": 2, None: 0}
    flow = values["flow_stress_factor"] * values["joint_efficiency"] / 2.0
    sheet.table("material", [
        (name, kinds[row["mechanism"]], row["allowable_mpa"] * values["joint_efficiency"],
         (row["yield_mpa"] + row["tensile_mpa"]) * flow)
        for name, row in values["materials"].items()
    ])
    sheet.table("size", [
        (name, row["outside_mm"], row["structural_mm"], row["frequency"]) for name, row in values["sizes"].items()
    ])
    for name, key in (("coating_quality", "coating_life"), ("consequence_category", "leak_cost")):
        sheet.table(name, values[key].items())
        sheet.number(name, values[key][""])
    drivers = [d for d in values["base_rate"] if d]
    sheet.table("driver", [(d, i + 1) for i, d in enumerate(drivers)])
    sheet.number("driver", next(i + 1 for i, d in enumerate(drivers)
                                if values["base_rate"][d] == values["base_rate"][""]))
    at_degc = values["base_rate_degc"]
    curve = []
    for i, degc in enumerate(at_degc):
        inside = i + 1 < len(at_degc)
        rates = [values["base_rate"][d][i] for d in drivers]
        slopes = [(values["base_rate"][d][i + 1] - r) / (at_degc[i + 1] - degc) if inside else 0.0
                  for d, r in zip(drivers, rates)]
        curve.append([degc, *rates, *slopes])
    sheet.table("curve", curve)
    # The bands of all drivers have the same ends; a band starts at `from`, or right behind it.
    ends = [[(upto, inclusive) for upto, inclusive, _ in values["susceptibility"][d]] for d in drivers]
    if any(e != ends[0] for e in ends):
        raise ValueError("scc_susceptibility: the sheet takes the bands of all drivers to have the same ends")
    starts = [-1e9] + [upto + (1e-9 if inclusive else 0.0) for upto, inclusive in ends[0][:-1]]
    sheet.table("crack", [[start, *(values["susceptibility"][d][i][2] for d in drivers)]
                          for i, start in enumerate(starts)])
    sheet.table("base_damage", [(float(i), v) for i, v in enumerate(values["base_damage"])])
    for name, value in values.items():
        if isinstance(value, (float, int)):
            sheet.number(name, value)
    for k in range(3):
        sheet.number(f"prior {k}", values["prior"][k])
        sheet.number(f"state {k}", values["state_factor"][k])
    sheet.number("ranked", serial(at))
    sheet.number("today", serial(today))


def formulas(rules, place):
    """Column name and formula, the row number left open as {r}; `place` finds cells by column name."""
    c, ranges = rules.cells, rules.ranges

    def word(kind, column, j=2):
        found = f"VLOOKUP({place(column)},{ranges[kind]},{j},0)"
        return f'IF({place(column)}="",{c[kind]},{found})' if kind in c else found

    yield "mechanism", f"VLOOKUP({place('material')},{ranges['material']},2,0)"
    yield "coated", f"IF({place('coating_date')}=\"\",{place('in_service')},{place('coating_date')})"
    for start in ("in_service", "coated"):
        d = place(start)
        for day in ("ranked", "today"):
            at = c[day]
            yield f"whole {start} {day}", f"YEAR({at})-YEAR({d})-(DATE(YEAR({at}),MONTH({d}),DAY({d}))>{at})"
            n = place(f"whole {start} {day}")
            begun, after = (f"DATE(YEAR({d})+{n}{more},MONTH({d}),DAY({d}))" for more in ("", "+1"))
            yield f"{start} {day}", f"MAX(0,{n}+({at}-{begun})/({after}-{begun}))"
    yield "life", word("coating_quality", "coating_quality")
    for day in ("ranked", "today"):
        since, age, life = place(f"in_service {day}"), place(f"coated {day}"), place("life")
        yield f"exposed {day}", f"MAX({since}-MIN({life},{age})+MIN({life},MAX({age}-{since},0)),0)"
    wall, degc = f"MAX({place('nominal_wall')},0.01)", place("operating_temperature")
    yield "driver row", word("driver", "driver")
    row = place("driver row")
    piece = f"MATCH({degc},{ranges['curve', 0]},1)"
    curve = ranges["curve"]
    lines = (f"(INDEX({curve},{piece},1+{row})+INDEX({curve},{piece},5+{row})*({degc}-INDEX({curve},{piece},1)))")
    factors = "*".join(word("rate " + n, n) for n in ("insulation_type", "complexity", "insulation_condition"))
    worse = f"MAX({word('rate pooling', 'pooling')},{word('rate ground_or_water_interface', 'ground_or_water_interface')})"
    yield "loss a year", (f"IF({place('mechanism')}=1,IF({degc}<INDEX({curve},1,1),0,{lines})"
                          f"*{factors}*{worse}/{wall},0)")
    yield "pressure", f"IF({place('design_pressure')}=\"\",{c['default_pressure_mpa']},{place('design_pressure')})"
    yield "outside", word("size", "nominal_size")
    yield "flow", word("material", "material", 4)
    yield "allowable", word("material", "material", 3)
    p, outside, flow, allowable = (place(n) for n in ("pressure", "outside", "flow", "allowable"))
    inside = f"({outside}-2*{wall})"
    twice = f"2*{c['allowance_mm']}"
    y = f"IF({wall}<{outside}/6,{c['coefficient_y']},({inside}+{twice})/({outside}+{inside}+{twice}))"
    minimum = f"MAX({p}*{outside}/(2*({allowable}+{p}*{y})),{word('size', 'nominal_size', 3)})"
    yield "ratio", (f"MAX({allowable}/{flow}*{minimum}/{wall},"
                    f"{p}*{inside}/({c['shape']}*{flow}*{wall}))")
    level = f"INDEX({ranges['crack']},MATCH({degc},{ranges['crack', 0]},1),1+{row})"
    steps = "+".join(word("step " + n, n) for n in ("insulation_type", "complexity", "insulation_condition"))
    yield "level", f"IF({place('mechanism')}=2,{level},0)"
    stepped = f"MAX(0,MIN({c['worst_susceptibility']},{place('level')}+{steps}))"
    yield "base damage", (f"IF({place('mechanism')}=2,INDEX({ranges['base_damage', 1]},"
                          f"1+IF({place('level')}=0,0,{stepped})),0)")
    for day in ("ranked", "today"):
        ratio, exposed = place("ratio"), place(f"exposed {day}")
        fraction = place(f"fraction {day}")
        yield f"fraction {day}", f"{place('loss a year')}*{exposed}"
        terms = []
        for k in range(3):
            lost = f"{c[f'state {k}']}*{fraction}"
            left = f"(1-{lost})"
            scatter = (f"SQRT(({lost}*{c['cov_thinning']})^2+({left}*{c['cov_flow_stress']})^2"
                       f"+({ratio}*{c['cov_pressure']})^2)")
            terms.append(f"{c[f'prior {k}']}*ERFC(({left}-{ratio})/{scatter}*SQRT(0.5))")
        wall_loss = f"0.5/{c['damage_factor_base']}*({'+'.join(terms)})"
        cracking = f"MIN({place('base damage')}*MAX({exposed},1)^{c['age_exponent']},{c['damage_cap']})"
        yield f"damage {day}", f"IF({place('mechanism')}=1,{wall_loss},IF({place('mechanism')}=2,{cracking},0))"
    yield "frequency", f"{word('size', 'nominal_size', 4)}*{c['management_factor']}"
    yield "cost", word("consequence_category", "consequence_category")
    for day in ("ranked", "today"):
        yield f"probability {day}", f"MIN({place('frequency')}*{place(f'damage {day}')},{c['probability_cap']})"
        yield f"risk {day}", f"{place(f'probability {day}')}*{place('cost')}"
    # LibreOffice writes 20 decimals to a CSV file: too few digits of a small probability.
    yield "probability ranked x 1e9", f"{place('probability ranked')}*1E9"


def parts_around_the_sheets():
    """The other parts that a workbook has (ECMA-376, Part 1)."""
    sheets = "".join(f'<sheet name="{s}" sheetId="{i}" r:id="r{i}"/>' for i, s in enumerate(SHEETS, 1))
    yield "xl/workbook.xml", f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>{sheets}</sheets></workbook>'
    links = "".join(f'<Relationship Id="r{i}" Type="{OFFICE}/worksheet" Target="worksheets/{s}.xml"/>'
                    for i, s in enumerate(SHEETS, 1))
    yield "xl/_rels/workbook.xml.rels", f'<Relationships xmlns="{PACKAGE}/relationships">{links}</Relationships>'
    yield "_rels/.rels", (f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="r1" '
                          f'Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>')
    kinds = "".join(f'<Override PartName="/xl/worksheets/{s}.xml" ContentType="{SHEET_TYPE}.worksheet+xml"/>'
                    for s in SHEETS)
    yield "[Content_Types].xml", (
        f'<Types xmlns="{PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{SHEET_TYPE}.sheet.main+xml"/>{kinds}</Types>')


def input_cells(heads, row, number):
    for column, (head, text) in enumerate(zip(heads, row)):
        if text == "":
            continue
        if head in NUMBERS:
            value = float(text)
        else:
            value = serial(text) if head in DATES else text
        yield cell(f"{letters(column)}{number}", value)


def live_rows(first_column, live, last_row):
    """Cells of the formulas, for row 2 and, with the number left open as {r}, for those below.

    A formula stands once and is shared down its column, as after filling it down.
    """
    first, below = [], []
    for i, formula in enumerate(live):
        column = letters(first_column + i)
        shared = f't="shared" si="{i}"'
        text = escape(formula.replace("{r}", "2"))
        first.append(f'<c r="{column}2"><f {shared} ref="{column}2:{column}{last_row}">{text}</f></c>')
        below.append(f'<c r="{column}{{r}}"><f {shared}/></c>')
    return "".join(first), "".join(below)


def write(values, segments, at, today, out):
    rules = RuleSheet()
    fill_rules(rules, values, at, today)
    with open(segments, newline="") as file:
        heads, *rows = csv.reader(file)
    heads = [head.split(" ")[0] for head in heads]
    columns = heads + [name for name, _ in formulas(rules, lambda name: "")]
    at_column = {name: letters(i) for i, name in enumerate(columns)}
    live = [text for _, text in formulas(rules, lambda name: at_column[name] + "{r}")]
    first, below = live_rows(len(heads), live, len(rows) + 1)
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as book:
        for name, text in parts_around_the_sheets():
            book.writestr(name, HEAD + text)
        book.writestr("xl/worksheets/rules.xml", rules.xml())
        with book.open("xl/worksheets/segments.xml", "w", force_zip64=True) as sheet:
            sheet.write(f'{HEAD}<worksheet xmlns="{MAIN}"><sheetData><row r="1">'.encode())
            sheet.write("".join(cell(f"{letters(i)}1", name) for i, name in enumerate(columns)).encode())
            for number, row in enumerate(rows, 2):
                given = "".join(input_cells(heads, row, number))
                calculated = first if number == 2 else below.replace("{r}", str(number))
                sheet.write(f'</row><row r="{number}">{given}{calculated}'.encode())
            sheet.write(b"</row></sheetData></worksheet>")


if __name__ == "__main__":
    with open(sys.argv[1]) as tables:
        write(json.load(tables), *sys.argv[2:])
