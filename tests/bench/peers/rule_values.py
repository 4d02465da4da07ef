"""The rule values that the peers need, read from the rule files and plant.yaml, in the units of
calculation: mm, mm/y, MPa, degC, 1/y.  An empty cell is the word "" and has the rules' default.

Text of every scalar is taken as it stands (BaseLoader): `no` and `none` are words here.
"""
import math
import pathlib
import re

import yaml

PSI = 0.45359237 * 9.80665 / 0.0254**2 / 1e6  # MPa: pound, standard gravity, inch, all exact
TO_BASE = {
    "-": lambda x: x,
    "1/y": lambda x: x,
    "y": lambda x: x,
    "mm": lambda x: x,
    "degC": lambda x: x,
    "USD": lambda x: x,
    "NPS": lambda x: x,
    "in": lambda x: x * 25.4,
    "mpy": lambda x: x * 0.0254,
    "psi": lambda x: x * PSI,
    "degF": lambda x: (x - 32.0) * 5.0 / 9.0,
}


def load(folder):
    """All tables and all defaults of the rule files in a folder."""
    tables, defaults = {}, {}
    for path in sorted(pathlib.Path(folder).glob("*.yaml")):
        content = yaml.load(path.read_text(), Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
        tables.update(content.get("tables", {}))
        defaults.update(content.get("defaults", {}))
    return tables, defaults


def with_unit(text):
    """"285 psi" -> MPa; a bare number stays."""
    number, _, unit = text.partition(" ")
    return TO_BASE[unit or "-"](float(number))


class Rules:
    def __init__(self, folder):
        self.tables, self.defaults = load(folder)

    def value(self, name):
        table = self.tables[name]
        return TO_BASE[table.get("unit", "-")](float(table["value"]))

    def words(self, name):
        entries = self.tables[name]["entries"]
        return {k: v["value"] if isinstance(v, dict) else v for k, v in entries.items()}

    def lookup(self, name):
        convert = TO_BASE[self.tables[name].get("unit", "-")]
        return {k: convert(float(v)) for k, v in self.words(name).items()}

    def filled(self, name, column):
        """A lookup in which the empty word stands for the default of a column."""
        table = self.lookup(name)
        if column in self.defaults:
            table[""] = table[self.defaults[column]["take"]]
        return table

    def band(self, name, at):
        """The band of a table without `by` that holds a value of its axis, in the axis' unit."""
        table = self.tables[name]
        if table.get("outside") == "clamp":
            at = min(max(at, float(table["valid"][0])), float(table["valid"][1]))
        for band in table["bands"]:
            below, upto = float(band.get("below", "nan")), float(band.get("upto", "nan"))
            if "above" in band or at < below or at <= upto:
                return band
        raise ValueError(f"{name}: no band for {at}")


def nps_inches(text):
    return sum(float(a) / float(b or 1) for a, _, b in (p.partition("/") for p in text.split()))


def pipe_sizes(rules, source):
    """Outside diameter [mm] from the program's own list of sizes, and what the rules say by size."""
    rows = re.findall(r'PipeSize\{"([^"]+)",\s*[\d.]+,\s*\d+,\s*([\d.]+)', pathlib.Path(source).read_text())
    holes = ("small", "medium", "large", "rupture")
    found = {}
    for nps, outside in rows:
        inches = nps_inches(nps)
        minimum = TO_BASE[rules.tables["structural_minimum"]["unit"]](float(rules.band("structural_minimum", inches)["is"]))
        frequency = rules.band("generic_frequency", inches)
        found[nps] = {
            "outside_mm": float(outside),
            "structural_mm": minimum,
            "frequency": sum(float(frequency[hole]) for hole in holes),
        }
    return found


def mechanisms(rules):
    """wall_loss, cracking or nothing, by material."""
    found = {}
    for material, family in rules.words("material_family").items():
        found[material] = None
        if rules.words("wall_loss_of_family")[family] == "yes":
            found[material] = "wall_loss"
        elif family == "austenitic":
            found[material] = "cracking"
    return found


def base_rate(rules):
    """Temperatures of the bends [degC] and rates there [mm/y] by driver; 0 outside."""
    table = rules.tables["base_rate"]
    at, rate = TO_BASE[table["axis"]["unit"]], TO_BASE[table["unit"]]
    points = [at(float(p["at"])) for p in table["points"]]
    rates = {d: [rate(float(p[d])) for p in table["points"]] for d in ("severe", "moderate", "mild", "dry")}
    if table["outside"] != "zero" or any(r[0] != 0 or r[-1] != 0 for r in rates.values()):
        raise ValueError("base_rate is not 0 outside its points: the peers take it to be")
    rates[""] = rates[rules.defaults["driver"]["take"]]
    return points, rates


LEVELS = {"none": 0, "low": 1, "medium": 2, "high": 3}


def susceptibility(rules):
    """Bands (upper end, whether it belongs to the band, level) by driver."""
    by_driver = {}
    for driver, bands in rules.tables["scc_susceptibility"]["bands"].items():
        by_driver[driver] = [
            (float(b.get("below", b.get("upto", "inf"))), "upto" in b, LEVELS[b["is"]]) for b in bands
        ]
    by_driver[""] = by_driver[rules.defaults["driver"]["take"]]
    return by_driver


def read(rules_folder, plant_folder, sizes_source):
    rules = Rules(rules_folder)
    plant = yaml.load((pathlib.Path(plant_folder) / "plant.yaml").read_text(), Loader=yaml.BaseLoader)
    usd = float(plant["exchange"]["USD"])
    score = float(plant["management_score"].split()[0])
    severity = rules.words("scc_severity")
    damage = rules.tables["scc_base_damage_factor"]["rows"]
    points, rates = base_rate(rules)
    prior = rules.tables["prior_probability"]["rows"][rules.defaults["data_confidence"]["take"]]
    states = ("state_1", "state_2", "state_3")
    by_material = {
        m: {
            "mechanism": mechanism,
            "allowable_mpa": rules.lookup("allowable_stress")[m],
            "yield_mpa": rules.lookup("yield_strength")[m],
            "tensile_mpa": rules.lookup("tensile_strength")[m],
        }
        for m, mechanism in mechanisms(rules).items()
    }
    cost = {k: v * usd for k, v in rules.lookup("consequence_cost").items()}
    cost[""] = cost[rules.defaults["consequence_category"]["take"]]
    return {
        "sizes": pipe_sizes(rules, sizes_source),
        "materials": by_material,
        "rate_factor": {
            "insulation_type": rules.lookup("insulation_factor"),
            "insulation_condition": rules.filled("condition_factor", "insulation_condition"),
            "complexity": rules.filled("complexity_factor", "complexity"),
            "pooling": rules.filled("pooling_factor", "pooling"),
            "ground_or_water_interface": rules.filled("interface_factor", "ground_or_water_interface"),
        },
        "crack_step": {
            "insulation_type": rules.lookup("scc_insulation_step"),
            "insulation_condition": rules.filled("scc_condition_step", "insulation_condition"),
            "complexity": rules.filled("scc_complexity_step", "complexity"),
        },
        "base_rate_degc": points,
        "base_rate": rates,
        "susceptibility": susceptibility(rules),
        "worst_susceptibility": max(LEVELS.values()),
        "base_damage": [float(damage[severity[level]]["n0"]) for level in LEVELS],
        "age_exponent": rules.value("scc_age_exponent"),
        "damage_cap": rules.value("scc_damage_cap"),
        "coating_life": rules.filled("coating_life", "coating_quality"),
        "default_pressure_mpa": with_unit(rules.defaults["design_pressure"]["take"]),
        "joint_efficiency": float(rules.defaults["joint_efficiency"]["take"]),
        "allowance_mm": with_unit(rules.defaults["corrosion_allowance"]["take"]),
        "flow_stress_factor": rules.value("flow_stress_factor"),
        "coefficient_y": rules.value("pressure_coefficient_y"),
        "shape": rules.value("strength_ratio_shape"),
        "prior": [float(prior[s]) for s in states],
        "state_factor": [rules.lookup("damage_state_factor")[s] for s in states],
        "cov_thinning": rules.value("cov_thinning"),
        "cov_flow_stress": rules.value("cov_flow_stress"),
        "cov_pressure": rules.value("cov_pressure"),
        "damage_factor_base": rules.value("damage_factor_base"),
        "probability_cap": rules.value("probability_cap"),
        "management_factor": math.pow(
            10.0, rules.value("management_slope") * score + rules.value("management_offset")
        ),
        "leak_cost": cost,
    }
