#!/usr/bin/python3
"""The published method in NumPy, with pandas to read the file and SciPy for erfc.

  with_numpy.py TABLES.json segments.csv AT TODAY TOP OUT.csv

Words and dates are read as categories, so that a rule or a date is worked out once for each
different word; numbers go in blocks that stay in the cache, on as many threads as there are cores.
"""
import concurrent.futures
import json
import math
import os
import sys

import numpy as np
import pandas as pd
from scipy.special import erfc

BLOCK = 32768
WORDS = (
    "material nominal_size in_service insulation_type insulation_condition complexity pooling "
    "ground_or_water_interface driver coating_quality coating_date consequence_category"
).split()
NUMBERS = "nominal_wall operating_temperature design_pressure".split()


def read_segments(path):
    heads = pd.read_csv(path, nrows=0).columns
    plain = {head: head.split(" ")[0] for head in heads}
    types = {h: "category" if k in WORDS else "float64" for h, k in plain.items() if k in WORDS + NUMBERS}
    types.update({h: "str" for h, k in plain.items() if k == "segment"})
    return pd.read_csv(path, usecols=list(types), dtype=types, low_memory=False).rename(columns=plain)


def by_word(column, table):
    """Values for the codes of a column; the empty word has code -1, which is the last value."""
    return np.array([table[word] for word in column.cat.categories] + [table.get("", math.nan)])


def years_to(dates, day):
    """Years from dates (YYYY, YYYY-MM or YYYY-MM-DD) to a day: to the last anniversary, then by days."""
    texts = [text + "-01-01"[len(text) - 4 :] if len(text) < 10 else text for text in dates]
    start = np.array(texts, dtype="datetime64[D]")
    month = start.astype("datetime64[M]")
    year = start.astype("datetime64[Y]").astype(int) + 1970

    def anniversary(years):  # 29 February goes over to 1 March
        return (month + 12 * years).astype("datetime64[D]") + (start - month)

    whole = int(day[:4]) - year
    day = np.datetime64(day)
    whole -= anniversary(whole) > day
    begun = anniversary(whole)
    part = (day - begun).astype(float) / (anniversary(whole + 1) - begun).astype(float)
    return np.maximum(whole + part, 0.0)


class Method:
    def __init__(self, tables, segments, days):
        self.t, self.s = tables, segments
        self.codes = {name: segments[name].cat.codes.to_numpy() for name in WORDS}
        factors = {**{("rate", k): v for k, v in tables["rate_factor"].items()},
                   **{("step", k): v for k, v in tables["crack_step"].items()}}
        self.factors = {key: by_word(segments[key[1]], table) for key, table in factors.items()}
        for key in ("outside_mm", "structural_mm", "frequency"):
            sizes = {size: row[key] for size, row in tables["sizes"].items()}
            self.factors[key] = by_word(segments["nominal_size"], sizes)
        for key in ("allowable_mpa", "yield_mpa", "tensile_mpa"):
            materials = {name: row[key] for name, row in tables["materials"].items()}
            self.factors[key] = by_word(segments["material"], materials)
        self.factors["life"] = by_word(segments["coating_quality"], tables["coating_life"])
        self.factors["cost"] = by_word(segments["consequence_category"], tables["leak_cost"])
        self.service = [years_to(segments["in_service"].cat.categories, day) for day in days]
        coated = segments["coating_date"].cat.categories
        self.coated = [np.append(years_to(coated, day), math.nan) for day in days]
        drivers = list(segments["driver"].cat.categories) + [""]
        # All curves behind one another on one axis: driver k is moved by k spans.
        points = np.array(tables["base_rate_degc"])
        self.least, self.most, self.span = points[0], points[-1], 1000.0
        self.curve_at = np.concatenate([points + self.span * k for k in range(len(drivers))])
        self.curve = np.concatenate([tables["base_rate"][d] for d in drivers])
        self.driver_row = np.arange(len(drivers))  # code -1, the empty word, is the last
        self.drivers = drivers
        self.days = range(len(days))

    def pick(self, key, name, rows):
        return self.factors[key][self.codes[name][rows]]

    def exposed_years(self, rows, k):
        service = self.service[k][self.codes["in_service"][rows]]
        coated = self.codes["coating_date"][rows]
        age = np.where(coated < 0, service, self.coated[k][coated])  # eq. 5
        life = self.pick("life", "coating_quality", rows)
        credit = np.minimum(life, age) - np.minimum(life, np.maximum(age - service, 0.0))  # eq. 6
        return np.maximum(service - credit, 0.0)  # eq. 7

    def rate(self, rows):
        at = np.clip(self.s["operating_temperature"].to_numpy()[rows], self.least, self.most)
        at = at + self.span * self.driver_row[self.codes["driver"][rows]]
        rate = np.interp(at, self.curve_at, self.curve)  # eq. 2
        for name in ("insulation_type", "complexity", "insulation_condition"):
            rate *= self.pick(("rate", name), name, rows)
        pooling = self.pick(("rate", "pooling"), "pooling", rows)
        interface = self.pick(("rate", "ground_or_water_interface"), "ground_or_water_interface", rows)
        return rate * np.maximum(pooling, interface)  # eq. 3

    def strength_ratio(self, rows, wall):
        t = self.t
        pressure = self.s["design_pressure"].to_numpy()[rows]
        pressure = np.where(np.isnan(pressure), t["default_pressure_mpa"], pressure)
        outside = self.pick("outside_mm", "nominal_size", rows)
        allowable = self.pick("allowable_mpa", "material", rows) * t["joint_efficiency"]
        strengths = self.pick("yield_mpa", "material", rows) + self.pick("tensile_mpa", "material", rows)
        flow = strengths / 2.0 * t["joint_efficiency"] * t["flow_stress_factor"]  # eq. 9
        inside = outside - 2.0 * wall
        twice = 2.0 * t["allowance_mm"]
        y = np.where(wall < outside / 6.0, t["coefficient_y"], (inside + twice) / (outside + inside + twice))
        needed = pressure * outside / (2.0 * (allowable + pressure * y))  # eq. 10
        minimum = np.maximum(needed, self.pick("structural_mm", "nominal_size", rows))  # eq. 11
        by_minimum = allowable / flow * minimum / wall  # eq. 12
        by_pressure = pressure * inside / (t["shape"] * flow * wall)  # eq. 13
        return np.maximum(by_minimum, by_pressure)  # eq. 14

    def damage(self, fraction, ratio):
        t = self.t
        resistance = (ratio * t["cov_pressure"]) ** 2
        failing = 0.0
        for prior, state in zip(t["prior"], t["state_factor"]):
            lost = state * fraction
            left = 1.0 - lost
            scatter = np.sqrt((lost * t["cov_thinning"]) ** 2 + (left * t["cov_flow_stress"]) ** 2 + resistance)
            failing += prior * 0.5 * erfc((left - ratio) / scatter * math.sqrt(0.5))  # eq. 17
        return failing / t["damage_factor_base"]  # eq. 18

    def base_damage(self, rows):
        t = self.t
        degc = self.s["operating_temperature"].to_numpy()[rows]
        driver = self.driver_row[self.codes["driver"][rows]]
        level = np.zeros(len(rows), dtype=int)
        for k, name in enumerate(self.drivers):
            bands = t["susceptibility"][name]
            inside = [degc <= upto if inclusive else degc < upto for upto, inclusive, _ in bands]
            level = np.where(driver == k, np.select(inside, [b[2] for b in bands]), level)
        steps = sum(self.pick(("step", n), n, rows) for n in t["crack_step"])
        stepped = np.clip(level + steps, 0, t["worst_susceptibility"]).astype(int)  # eq. 38
        return np.array(t["base_damage"])[np.where(level == 0, 0, stepped)]  # eq. 39, 40

    def fill(self, rows, mechanism, damage, risk):
        """Damage factors of the first day into damage, risks of all days into risk."""
        t = self.t
        per_damage = self.pick("frequency", "nominal_size", rows) * t["management_factor"]
        cost = self.pick("cost", "consequence_category", rows)
        if mechanism == "wall_loss":
            wall = np.maximum(self.s["nominal_wall"].to_numpy()[rows], 0.01)
            loss_a_year = self.rate(rows) / wall
            ratio = self.strength_ratio(rows, wall)
        else:
            base = self.base_damage(rows)
        for k in self.days:
            exposed = self.exposed_years(rows, k)
            if mechanism == "wall_loss":
                found = self.damage(loss_a_year * exposed, ratio)  # eq. 8
            else:
                found = np.minimum(base * np.maximum(exposed, 1.0) ** t["age_exponent"], t["damage_cap"])
            damage[k][rows] = found
            risk[k][rows] = np.minimum(per_damage * found, t["probability_cap"]) * cost  # eq. 20 to 22

    def run(self):
        count = len(self.s)
        damage = [np.zeros(count) for _ in self.days]
        risk = [np.full(count, math.nan) for _ in self.days]
        kinds = [self.t["materials"][m]["mechanism"] for m in self.s["material"].cat.categories]
        mechanism = np.array(kinds, dtype=object)[self.codes["material"]]
        work = []
        for name in ("wall_loss", "cracking"):
            rows = np.flatnonzero(mechanism == name)
            work += [(rows[i : i + BLOCK], name) for i in range(0, len(rows), BLOCK)]
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            list(pool.map(lambda part: self.fill(*part, damage, risk), work))
        return damage[0], risk


def order_of(names, risk):
    """Rows by falling risk, ties by name; rows without a risk left out."""
    ranked = np.flatnonzero(~np.isnan(risk))
    if names.is_monotonic_increasing:  # most files: then a stable order is one by name
        return ranked[np.argsort(-risk[ranked], kind="stable")]
    return ranked[np.lexsort((names[ranked], -risk[ranked]))]


def main(tables, segments, at, today, top, out):
    with open(tables) as file:
        tables = json.load(file)
    segments = read_segments(segments)
    method = Method(tables, segments, [at, today])
    damage, risk = method.run()
    names = pd.Index(segments["segment"])
    orders = [order_of(names, each) for each in risk]
    rank_today = np.zeros(len(segments), dtype=int)
    rank_today[orders[1]] = np.arange(1, len(orders[1]) + 1)
    first = orders[0][: int(top) or None]
    frequency = method.pick("frequency", "nominal_size", first) * tables["management_factor"]
    pd.DataFrame({
        "rank": np.arange(1, len(first) + 1),
        "segment": names[first],
        "rank_today": rank_today[first],
        "damage_factor": damage[first],
        "probability": np.minimum(frequency * damage[first], tables["probability_cap"]),
        "risk": risk[0][first],
    }).to_csv(out, index=False)


if __name__ == "__main__":
    main(*sys.argv[1:])
