#!/usr/bin/env python3
"""Rank uncertainty of three segments, coded a second time, apart from the program.

The method of API RP 581 (docs/method.md, eq. 1 to 22, rule set `published`) and the distributions of
rules/published/uncertainty.yaml are written down here again, sampled by SciPy's own scrambled Sobol points, and ranked.
Prints for each segment: name, mean and standard deviation of the damage factor, chance of rank 1, chance of rank 1 or 2.
Needs python3-scipy.  The segments are those of tests/uncertainty/three_segments.cpp.
"""
import datetime
import sys

import numpy as np
from scipy.stats import norm, qmc

SAMPLES = 2 ** int(sys.argv[1]) if len(sys.argv) > 1 else 2**15
MM = 25.4  # millimetres an inch
DAY = datetime.date
RANK_DATE = DAY(2025, 1, 1)

# Table 16.2, mils a year; the three temperatures of the segments are printed points.
RATE = {
    160: {"severe": 20, "moderate": 10, "mild": 5, "dry": 2},
    90: {"severe": 10, "moderate": 5, "mild": 3, "dry": 1},
    225: {"severe": 10, "moderate": 5, "mild": 1, "dry": 1},
}
F_INS = {"cellular_glass": 0.75, "perlite": 1.0}  # every other type 1.25
F_CM = {"below_average": 0.75, "average": 1.0, "above_average": 1.25}
F_IC = {"below_average": 1.25, "average": 1.0, "above_average": 0.75}
COATING_LIFE = {"none": 0.0, "medium": 5.0, "high": 15.0}
T_STRUCTURAL = {2: 0.07, 6: 0.11, 8: 0.11}  # inches
CATEGORY_COST = {"A": 1e4, "B": 1e5, "C": 1e6, "D": 1e7, "E": 1e8}
PRIOR = np.array([0.5, 0.3, 0.2])
CONDITIONAL_A = np.array([0.9, 0.09, 0.01])
STATE_FACTOR = np.array([1.0, 2.0, 4.0])
S, YS, TS = 20000.0, 35000.0, 60000.0  # psi


def pick(u, shares):
    """The word of a share table in which u falls."""
    words = list(shares)
    edges = np.cumsum([shares[w] for w in words])
    edges[-1] = 1.0
    return np.array(words)[np.searchsorted(edges, u, side="right").clip(0, len(words) - 1)]


def anniversary(day, years):
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # 29 February
        return DAY(day.year + years, 3, 1)


def years(start, end):
    """Whole anniversaries, then days over the length of the year begun; never below 0."""
    if end <= start:
        return 0.0
    whole = end.year - start.year
    if anniversary(start, whole) > end:
        whole -= 1
    begun = anniversary(start, whole)
    following = anniversary(start, whole + 1)
    return whole + (end - begun).days / (following - begun).days


def each(function, items):
    known = {}
    return np.array([known[i] if i in known else known.setdefault(i, function(i)) for i in items])


def days_from(first, u, days):
    return [first + datetime.timedelta(days=int(n)) for n in np.floor(u * days)]


def damage_factor(rate_mpy, exposed_y, wall_in, ratio, state):
    """Eq. 8, 17 and 18."""
    fraction = rate_mpy / 1000.0 * exposed_y / wall_in
    failing = 0.0
    for k in range(3):
        lost = STATE_FACTOR[k] * fraction
        index = (1 - lost - ratio) / np.sqrt(
            lost**2 * 0.2**2 + (1 - lost) ** 2 * 0.2**2 + ratio**2 * 0.05**2
        )
        failing = failing + state[k] * norm.cdf(-index)
    return failing / 1.56e-4


def strength_ratio(pressure_psi, outside_in, nominal_in, wall_in, structural_in, efficiency):
    """Eq. 9 to 14."""
    flow = (YS + TS) / 2 * efficiency * 1.1
    t_pressure = pressure_psi * outside_in / (2 * (S * efficiency + pressure_psi * 0.4))
    t_min = np.maximum(t_pressure, structural_in)
    by_minimum = S * efficiency / flow * t_min / wall_in
    by_pressure = pressure_psi * (outside_in - 2 * nominal_in) / (2 * flow * wall_in)
    return np.maximum(by_minimum, by_pressure)


def credit(life_y, coating_age_y, since_wall_y):
    """Eq. 6."""
    return np.minimum(life_y, coating_age_y) - np.minimum(
        life_y, np.maximum(coating_age_y - since_wall_y, 0)
    )


def before_recoat(life_y, service_to_coating_y):
    """Eq. 6 for the coat that was there until `coating_date`, since the day in service."""
    return np.minimum(life_y, service_to_coating_y)


def points(seed, dimensions):
    return qmc.Sobol(d=dimensions, scramble=True, seed=seed).random(SAMPLES)


def first_segment():
    """Insulation material, condition, complexity and day of coating are not known."""
    u = points(11, 4)
    insulation = pick(u[:, 0], {"calcium_silicate": 0.20, "mineral_wool": 0.45, "fibreglass": 0.10, "perlite": 0.10,
                                "cellular_glass": 0.08, "polyurethane_foam": 0.04, "elastomeric_foam": 0.03})
    condition = pick(u[:, 1], {"below_average": 0.30, "average": 0.55, "above_average": 0.15})
    complexity = pick(u[:, 2], {"below_average": 0.20, "average": 0.55, "above_average": 0.25})
    service, insulated = DAY(1985, 3, 1), DAY(2000, 6, 1)
    coated = days_from(service, u[:, 3], (insulated - service).days + 1)
    rate = RATE[160]["dry"] * each(lambda w: F_INS.get(w, 1.25), insulation)
    rate = rate * each(F_CM.get, complexity) * each(F_IC.get, condition)
    since = years(service, RANK_DATE)
    age = each(lambda d: years(d, RANK_DATE), coated)
    credited = credit(COATING_LIFE["medium"], age, age)
    credited = credited + before_recoat(COATING_LIFE["medium"], each(lambda d: years(service, d), coated))
    exposed = np.maximum(since - credited, 0)
    ratio = strength_ratio(250.0, 6.625, 0.280, 0.280, T_STRUCTURAL[6], 1.0)
    damage = damage_factor(rate, exposed, 0.280, ratio, PRIOR)
    return damage, np.full(SAMPLES, CATEGORY_COST["C"])


def second_segment():
    """Day of service to the year only; pooling, coating quality and consequence are not known."""
    u = points(12, 4)
    service = days_from(DAY(1998, 1, 1), u[:, 0], 365)
    pooling = pick(u[:, 1], {"no": 0.90, "yes": 0.10})
    quality = pick(u[:, 2], {"none": 0.12, "medium": 0.48, "high": 0.40})  # coated in 2003
    category = pick(u[:, 3], {"A": 0.10, "B": 0.25, "C": 0.35, "D": 0.22, "E": 0.08})
    rate = RATE[90]["dry"] * 1.25 * np.where(pooling == "yes", 2.0, 1.0)
    since = each(lambda d: years(d, RANK_DATE), service)
    age = years(DAY(2003, 5, 10), RANK_DATE)
    life = each(COATING_LIFE.get, quality)
    earlier = before_recoat(life, each(lambda d: years(d, DAY(2003, 5, 10)), service))
    exposed = np.maximum(since - credit(life, age, age) - earlier, 0)
    ratio = strength_ratio(150.0, 2.375, 0.218, 0.218, T_STRUCTURAL[2], 1.0)
    return damage_factor(rate, exposed, 0.218, ratio, PRIOR), each(CATEGORY_COST.get, category)


def third_segment():
    """A wall reading with its error; driver, pressure and joint efficiency are not known."""
    u = points(13, 4)
    driver = pick(u[:, 0], {"severe": 0.20, "moderate": 0.45, "mild": 0.30, "dry": 0.05})
    pressure = np.interp(u[:, 1], [0, 0.25, 0.60, 0.90, 1], [50, 150, 285, 740, 1480])
    efficiency = np.interp(u[:, 2], [0, 0.10, 0.30, 1], [0.80, 0.85, 1, 1])
    wall = np.maximum((0.200 * MM + 0.25 * norm.ppf(u[:, 3])).clip(0, 200), 0.01) / MM
    rate = each(RATE[225].get, driver) * 1.25 * F_IC["below_average"]
    exposed = years(DAY(2015, 6, 1), RANK_DATE)
    ratio = strength_ratio(pressure, 8.625, 0.322, wall, T_STRUCTURAL[8], efficiency)
    state = PRIOR * CONDITIONAL_A
    damage = damage_factor(rate, exposed, wall, ratio, state / state.sum())
    return damage, np.full(SAMPLES, CATEGORY_COST["D"])


def main():
    segments = {"T1": first_segment(), "T2": second_segment(), "T3": third_segment()}
    # Each segment's samples in an order of their own: what is not known of one says nothing of another.
    mix = np.random.default_rng(14)
    damage, risk = {}, {}
    for name, (factor, cost) in segments.items():
        order = mix.permutation(SAMPLES)
        damage[name] = factor
        risk[name] = (np.minimum(3.06e-5 * factor, 1.0) * cost)[order]
    table = np.array([risk[name] for name in segments])
    rank = 1 + (table[None, :, :] > table[:, None, :]).sum(axis=1)
    for i, name in enumerate(segments):
        print(name, repr(float(damage[name].mean())), repr(float(damage[name].std())),
              repr(float((rank[i] <= 1).mean())), repr(float((rank[i] <= 2).mean())))


main()
