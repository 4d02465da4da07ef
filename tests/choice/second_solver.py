"""Solves choice problems with a second solver, HiGHS in SciPy, from a formulation of its own.

second_solver.py CASES          runs the program CASES, which prints problems and our answers, and
                                compares; exit status 1 when one differs
second_solver.py --solve FILE --gap G --seconds S
                                solves one problem file and prints objective, bound, wall and CPU seconds
"""

import argparse
import subprocess
import sys
import time

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix


class Rows:
    """Rows of a matrix with their limits."""

    def __init__(self):
        self.row, self.column, self.value, self.low, self.high = [], [], [], [], []

    def add(self, terms, low, high):
        for column, value in terms:
            self.row.append(len(self.low))
            self.column.append(column)
            self.value.append(value)
        self.low.append(low)
        self.high.append(high)

    def constraint(self, columns):
        matrix = csr_matrix((self.value, (self.row, self.column)), shape=(len(self.low), columns))
        return LinearConstraint(matrix, self.low, self.high)


def pairs(words, at):
    count = int(words[at])
    found = [(int(words[at + 1 + 2 * i]), float(words[at + 2 + 2 * i])) for i in range(count)]
    return found, at + 1 + 2 * count


def read_problem(lines):
    head = next(lines).split()
    resources, accesses, units = (int(word) for word in head[1:])
    problem = {"capacity": [], "price": [], "access": [], "units": []}
    for _ in range(resources):
        words = next(lines).split()
        problem["capacity"].append(float(words[1]))
        problem["price"].append(float(words[2]))
    for _ in range(accesses):
        words = next(lines).split()
        problem["access"].append((float(words[1]), pairs(words, 2)[0]))
    for _ in range(units):
        _, bundle, count = next(lines).split()
        strategies = []
        for _ in range(int(count)):
            words = next(lines).split()
            uses, at = pairs(words, 3)
            needs = sorted({int(word) for word in words[at + 1 : at + 1 + int(words[at])]})
            strategies.append((float(words[1]), int(words[2]), uses, needs))
        problem["units"].append((int(bundle), strategies))
    return problem


def solve(problem, gap, seconds):
    """Columns: a 0-1 for each strategy, one for each access, one for each bundle and pattern, and
    an overrun for each resource."""
    cost, rows = [], Rows()
    use = [[] for _ in problem["capacity"]]
    strategies = sum(len(strategies) for _, strategies in problem["units"])
    accesses = len(problem["access"])
    pattern_column = {}
    links = []
    for bundle, own in problem["units"]:
        first = len(cost)
        for price, pattern, uses, needs in own:
            column = len(cost)
            cost.append(price)
            for resource, amount in uses:
                use[resource].append((column, amount))
            for access in needs:
                rows.add([(column, 1.0), (strategies + access, -1.0)], -numpy.inf, 0.0)
        rows.add([(column, 1.0) for column in range(first, len(cost))], 1.0, 1.0)
        if bundle >= 0:
            for pattern in {strategy[1] for strategy in own}:
                follows = [(first + i, 1.0) for i, s in enumerate(own) if s[1] == pattern]
                links.append((bundle, pattern, follows))
    for price, uses in problem["access"]:
        for resource, amount in uses:
            use[resource].append((len(cost), amount))
        cost.append(price)
    for bundle, pattern, follows in links:
        if (bundle, pattern) not in pattern_column:
            pattern_column[bundle, pattern] = len(cost)
            cost.append(0.0)
        rows.add(follows + [(pattern_column[bundle, pattern], -1.0)], 0.0, 0.0)
    # A pattern that a unit of the bundle lacks is no pattern of the bundle.
    members = {}
    for bundle, own in problem["units"]:
        if bundle >= 0:
            members.setdefault(bundle, []).append({strategy[1] for strategy in own})
    upper = [1.0] * len(cost)
    for (bundle, pattern), column in pattern_column.items():
        if not all(pattern in offered for offered in members[bundle]):
            upper[column] = 0.0
    for resource, capacity in enumerate(problem["capacity"]):
        if numpy.isinf(capacity):
            continue
        terms = list(use[resource])
        if not numpy.isinf(problem["price"][resource]):
            terms.append((len(cost), -1.0))
            cost.append(problem["price"][resource])
            upper.append(numpy.inf)
        rows.add(terms, -numpy.inf, capacity)
    integral = numpy.zeros(len(cost))
    integral[: strategies + accesses] = 1
    start, start_cpu = time.monotonic(), time.process_time()
    result = milp(
        c=numpy.array(cost),
        constraints=rows.constraint(len(cost)),
        bounds=Bounds(0.0, numpy.array(upper)),
        integrality=integral,
        options={"mip_rel_gap": gap, "time_limit": seconds},
    )
    return result, (time.monotonic() - start, time.process_time() - start_cpu)


def compare(program):
    text = subprocess.run([program], check=True, capture_output=True, text=True).stdout
    lines = iter(text.splitlines())
    differ = count = infeasible = 0
    for line in lines:
        _, name, status, objective, bound = line.split()
        result, _ = solve(read_problem(lines), 1e-9, 120.0)
        count += 1
        if result.status == 2:
            infeasible += 1
            agrees = status == "overrun"
            told = "infeasible"
        else:
            tolerance = 1e-6 * (1.0 + abs(result.fun))
            agrees = (
                result.status == 0
                and status == "proven"
                and abs(result.fun - float(objective)) <= tolerance
                and float(bound) <= result.fun + tolerance
            )
            told = f"{result.fun:.10g}"
        print(f"{'same' if agrees else 'DIFFERS'}  {name}  ours {status} {objective}  HiGHS {told}")
        differ += 0 if agrees else 1
    print(f"{count} problems, {infeasible} infeasible, {differ} differ")
    return 0 if differ == 0 and count > infeasible > 0 else 1


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program", nargs="?")
    parser.add_argument("--solve")
    parser.add_argument("--gap", type=float, default=1e-3)
    parser.add_argument("--seconds", type=float, default=60.0)
    options = parser.parse_args()
    if options.program:
        return compare(options.program)
    with open(options.solve, encoding="ascii") as file:
        result, seconds = solve(read_problem(file), options.gap, options.seconds)
    objective = numpy.inf if result.x is None else result.fun
    bound = getattr(result, "mip_dual_bound", None)
    bound = -numpy.inf if bound is None else bound
    print(f"{objective!r} {bound!r} {seconds[0]!r} {seconds[1]!r}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
