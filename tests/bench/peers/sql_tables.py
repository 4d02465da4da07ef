"""The rule values as tables of SQL, and the two days."""


def quoted(value):
    return "'" + value + "'" if isinstance(value, str) else repr(value)


def table(name, columns, rows):
    inserted = ",\n  ".join("(" + ", ".join(map(quoted, row)) + ")" for row in rows)
    first = columns[0]
    keys = f"{columns[0]}, {columns[1]}" if columns[1].startswith("from_") or columns[1] == "upto" else first
    return (
        f"CREATE TABLE {name} ({', '.join(columns)}, PRIMARY KEY ({keys})) WITHOUT ROWID;\n"
        f"INSERT INTO {name} VALUES\n  {inserted};\n"
    )


def by_word(values, column):
    rate = values["rate_factor"][column]
    step = values["crack_step"].get(column)
    if step is None:
        return table(column, ["word", "rate"], rate.items())
    return table(column, ["word", "rate", "step"], [(w, rate[w], step[w]) for w in rate])


def base_rate(values):
    """Pieces of the curves: rate at `from_degc` and slope from there on; 0 before and behind."""
    at = values["base_rate_degc"]
    rows = []
    for driver, rates in values["base_rate"].items():
        rows.append((driver, -1e9, 0.0, 0.0))
        for i in range(len(at) - 1):
            rows.append((driver, at[i], rates[i], (rates[i + 1] - rates[i]) / (at[i + 1] - at[i])))
        rows.append((driver, at[-1], 0.0, 0.0))
    return table("base_rate", ["driver", "from_degc", "rate", "slope"], rows)


def susceptibility(values):
    rows = [
        (driver, min(upto, 1e9), int(inclusive), level)
        for driver, bands in values["susceptibility"].items()
        for upto, inclusive, level in bands
    ]
    return table("susceptibility", ["driver", "upto", "inclusive", "level"], rows)


def materials(values):
    flow = values["flow_stress_factor"] * values["joint_efficiency"]
    rows = [
        (
            name,
            row["mechanism"] or "",
            row["allowable_mpa"] * values["joint_efficiency"],
            (row["yield_mpa"] + row["tensile_mpa"]) / 2.0 * flow,
        )
        for name, row in values["materials"].items()
    ]
    return table("material", ["word", "mechanism", "allowable", "flow"], rows)


def scalars(values):
    """One row of the single values, joined to every segment."""
    names = [name for name, value in values.items() if isinstance(value, float)]
    columns = {name: values[name] for name in names}
    for name in ("prior", "state_factor"):
        columns.update({f"{name}_{k + 1}": v for k, v in enumerate(values[name])})
    columns["worst_susceptibility"] = values["worst_susceptibility"]
    return (
        f"CREATE TABLE rules ({', '.join(columns)});\n"
        f"INSERT INTO rules VALUES ({', '.join(map(repr, columns.values()))});\n"
    )


def text(values, at, today):
    parts = [by_word(values, column) for column in values["rate_factor"]]
    parts += [base_rate(values), susceptibility(values), materials(values), scalars(values)]
    sizes = [(nps, s["outside_mm"], s["structural_mm"], s["frequency"]) for nps, s in values["sizes"].items()]
    parts.append(table("nominal_size", ["word", "outside", "structural", "frequency"], sizes))
    parts.append(table("coating_quality", ["word", "life"], values["coating_life"].items()))
    parts.append(table("consequence_category", ["word", "cost"], values["leak_cost"].items()))
    parts.append(table("base_damage", ["level", "factor"], enumerate(values["base_damage"])))
    parts.append(f"CREATE TABLE days AS SELECT '{at}' AS ranked, '{today}' AS today;\n")
    return "".join(parts)
