#!/usr/bin/env python3
"""Changes the kernels of the method, one place at a time, and sees whether a test notices.
  tests/mutation/run.py [--seconds S] [--count N] [--seed K] [--only TEXT]... [--again FILE:LINE]...
Works in a copy of the tree below build/mutation/, with the preset dev.  A change that no test notices
survives; one that cannot matter stands in equivalent.txt with the reason and is counted apart.
Results are kept in build/mutation/results.jsonl, and a change judged before is not tried again, as
long as its line is the same; --again tries those of a line afresh.  Runs by hand.
"""
import argparse
import json
import random
import re
import shutil
import subprocess
import sys
import time
from collections import Counter, defaultdict
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
WORK = ROOT / "build/mutation"
TREE = WORK / "tree"
BUILD = TREE / "build/dev"

# Folder, the files with arithmetic (not the descriptions and the rule reading), and the tests that should notice,
# the quickest and nearest first.
KERNELS = [
    ("engine/likelihood", "crack_factor damage_factor likelihood normal remaining_life strength updating wall_left",
     "likelihood extended cracking ranking"),
    ("engine/degradation", "coating_life cracking degradation extreme_value history protection rates readings "
     "site_factor wall_history wall_loss weibull", "degradation coating cracking likelihood extended ranking learning"),
    ("engine/exposure", "dead_leg dew_point exposure findings heat_balance service_cycle wetness",
     "exposure extended degradation ranking"),
    ("engine/consequence", "consequence", "consequence ranking"),
    ("engine/quantity", "date number unit", "quantity intake"),
]

SWAPS = {
    " + ": [" - "], " - ": [" + "], " * ": [" / "], " / ": [" * "],
    " += ": [" -= "], " -= ": [" += "], " *= ": [" /= "], " /= ": [" *= "],
    " < ": [" <= ", " >= "], " <= ": [" < ", " > "], " > ": [" >= ", " <= "], " >= ": [" > ", " < "],
    " == ": [" != "], " != ": [" == "], " && ": [" || "], " || ": [" && "],
    "std::min(": ["std::max("], "std::max(": ["std::min("], ".min(": [".max("], ".max(": [".min("],
}
# clang-format puts spaces around operators of two sides, and none in front of * and & of a type.
SWAP = re.compile("|".join(re.escape(op.rstrip()) + (r"(?=\s)" if op[-1] == " " else "")
                           for op in sorted(SWAPS, key=len, reverse=True)))
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?:[eE][-+]?\d+)?(?=[^\w.])")
NOT = re.compile(r"(?<=[\s(])!(?=[\w(])")
MINUS = re.compile(r"(?:(?<=[(,=?:] )|(?<=return )|(?<=[(\[{]))-(?=[\w(])")
IF = re.compile(r"\bif \((?!const|auto)")


def hidden(text):
    """The text with comments, strings and preprocessor lines blanked, at the same places."""
    pattern = r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])\'|^[ \t]*#[^\n]*|\[\[\w+\]\]'
    return re.sub(pattern, lambda m: re.sub(r"[^\n]", "~", m[0]), text, flags=re.S | re.M)


def end_of(text, start, closers):
    """The first place from start on, outside brackets, with one of closers."""
    depth = 0
    for at in range(start, len(text)):
        if depth == 0 and text[at] in closers:
            return at
        depth += (text[at] in "([{") - (text[at] in ")]}")
    return len(text)


def changed_number(text):
    if "." in text or "e" in text:
        value = float(text)
        return [repr(1.0 if value == 0 else value * 1.5)]
    return [str(int(text) + 1)]


def mutants(text):
    """All (begin, end, new text) of a source."""
    seen = hidden(text)
    found = []
    for m in SWAP.finditer(seen):
        key = m[0] if m[0] in SWAPS else m[0] + " "
        found += [(m.start(), m.end(), new.rstrip() if key[-1] == " " else new) for new in SWAPS[key]]
    for m in NUMBER.finditer(seen):
        found += [(m.start(), m.end(), new) for new in changed_number(m[0])]
    for pattern in (NOT, MINUS):
        found += [(m.start(), m.end(), "") for m in pattern.finditer(seen)]
    for m in IF.finditer(seen):
        end = end_of(seen, m.end(), ")")
        if ";" not in seen[m.end():end]:
            found.append((m.end(), end, f"!({text[m.end():end]})"))
    for m in re.finditer(r"\s\? ", seen):  # the other branch
        colon = seen.find(" : ", m.end())
        end = end_of(seen, m.end(), ",;)}")
        if m.end() < colon < end and " ? " not in seen[m.end():end]:
            found.append((m.end(), end, f"{text[colon + 3:end]} : {text[m.end():colon]}"))
    return sorted(set(found))


class Mutant:
    def __init__(self, path, text, place):
        begin, end, self.new = place
        self.path, self.text, self.begin, self.end = path, text, begin, end
        self.line = text.count("\n", 0, begin) + 1
        self.source = text.splitlines()[self.line - 1].strip()
        column = begin - (text.rfind("\n", 0, begin) + 1)
        self.change = f"{' '.join(text[begin:end].split())} -> {' '.join(self.new.split())}"
        self.key = f"{path}|{self.source}|{column}|{self.change}"

    def apply(self):
        return self.text[:self.begin] + self.new + self.text[self.end:]


def all_mutants(only):
    tests_of, made = {}, []
    for folder, files, tests in KERNELS:
        for name in files.split():
            path = f"{folder}/{name}.cpp"
            if only and not any(part in path for part in only):
                continue
            text = (ROOT / path).read_text()
            tests_of[path] = tests.split()
            made += [Mutant(path, text, place) for place in mutants(text)]
    return made, tests_of


def equivalents():
    """Of `path | line | change | reason` the first three."""
    lines = (HERE / "equivalent.txt").read_text().splitlines()
    return {tuple(part.strip() for part in line.split(" | ")[:3]) for line in lines if line and line[0] != "#"}


def build(*targets, seconds=900):
    try:
        done = subprocess.run(["ninja", "-C", BUILD, "-j1", *targets], capture_output=True, text=True, timeout=seconds)
    except subprocess.TimeoutExpired:
        return False, "timeout"
    return done.returncode == 0, done.stdout


def run_test(name, seconds):
    """passed, failed or timeout, and how long it took."""
    start = time.monotonic()
    try:
        done = subprocess.run([BUILD / "bin" / f"test_{name}", "--abort-after=1"], cwd=BUILD, capture_output=True,
                              timeout=seconds)
        return "passed" if done.returncode == 0 else "failed", time.monotonic() - start
    except subprocess.TimeoutExpired:
        return "timeout", seconds


def prepare(tests):
    """A copy of the tree as it is now, built; how long each test takes."""
    TREE.mkdir(parents=True, exist_ok=True)
    for name in subprocess.run(["git", "ls-files", "-co", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True,
                               check=True).stdout.splitlines():
        source, target = ROOT / name, TREE / name
        if source.is_file() and (not target.exists() or source.read_bytes() != target.read_bytes()):
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, target)
    subprocess.run(["cmake", "--preset", "dev"], cwd=TREE, capture_output=True, check=True)
    built, told = build(*(f"test_{name}" for name in tests), seconds=3600)
    if not built:
        sys.exit("the tree does not build unchanged:\n" + told[-2000:])
    times = {}
    for name in tests:
        outcome, times[name] = run_test(name, 600)
        if outcome != "passed":
            sys.exit(f"test_{name}: {outcome} on the unchanged tree")
    return times


def judge(mutant, tests, times):
    """How the mutant ends and by which test."""
    target = TREE / mutant.path
    target.write_text(mutant.apply())
    try:
        for name in tests:
            built, told = build(f"test_{name}")
            if not built:
                return ("not compiled", "") if "error" in told else ("killed", "build")
            outcome, _ = run_test(name, 30 + 10 * times[name])
            if outcome != "passed":
                return "killed", name if outcome == "failed" else f"{name} (timeout)"
        return "survived", ""
    finally:
        target.write_text(mutant.text)


def report(results, known):
    table = defaultdict(Counter)
    for one in results:
        equal = one["outcome"] == "survived" and (one["path"], one["source"], one["change"]) in known
        table[one["path"]]["equivalent" if equal else one["outcome"]] += 1
    columns = ("killed", "survived", "equivalent", "not compiled")
    print(f"{'file':44} " + " ".join(f"{c:>12}" for c in columns) + "   killed of those that matter")
    total = Counter()
    for path, row in [*sorted(table.items()), ("all", total)]:
        if path != "all":
            total.update(row)
        matter = row["killed"] + row["survived"]
        share = f"{100 * row['killed'] / matter:.0f} %" if matter else "-"
        print(f"{path:44} " + " ".join(f"{row[c]:12}" for c in columns) + f"   {share}")
    for one in results:
        if one["outcome"] == "survived" and (one["path"], one["source"], one["change"]) not in known:
            print(f"survived  {one['path']}:{one['line']}: {one['change']}    in  {one['source']}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=float, default=3600)
    parser.add_argument("--count", type=int, default=10**6)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", action="append", default=[])
    parser.add_argument("--again", action="append", default=[])
    options = parser.parse_args()

    made, tests_of = all_mutants(options.only)
    WORK.mkdir(parents=True, exist_ok=True)
    kept = WORK / "results.jsonl"
    judged = {}
    if kept.exists():
        for line in kept.read_text().splitlines():
            one = json.loads(line)
            judged[one["key"]] = one  # the last word stands
    again = {m.key for m in made if f"{m.path}:{m.line}" in options.again}
    todo = [m for m in made if m.key in again or (m.key not in judged and not options.again)]
    # In turn from each file, so that a long table does not take the sample.
    random.Random(options.seed).shuffle(todo)
    turn = Counter()
    place = {}
    for m in todo:
        turn[m.path] += 1
        place[m.key] = turn[m.path]
    todo.sort(key=lambda m: place[m.key])
    print(f"{len(made)} changes possible, {len(judged)} judged before", flush=True)

    times = prepare(list(dict.fromkeys(name for tests in tests_of.values() for name in tests)))
    start = time.monotonic()
    for tried, mutant in enumerate(todo):
        if tried >= options.count or time.monotonic() - start > options.seconds:
            break
        outcome, test = judge(mutant, tests_of[mutant.path], times)
        one = {"key": mutant.key, "path": mutant.path, "line": mutant.line, "source": mutant.source,
               "change": mutant.change, "outcome": outcome, "test": test}
        judged[mutant.key] = one
        with kept.open("a") as file:
            file.write(json.dumps(one) + "\n")
    current = {m.key for m in made}
    report([one for key, one in judged.items() if key in current], equivalents())


if __name__ == "__main__":
    main()
