#!/usr/bin/env python3
"""Runs clang-tidy over engine/ and cli/.
  tests/tidy/check.py BUILD_DIR CACHE_DIR
BUILD_DIR is a finished Ninja build.  A file that passed is not looked at again until it, a header of
ours that it includes, its compile command, .clang-tidy or clang-tidy itself changes.

Most of the time of a run goes into the headers of libraries.  So the files to look at are joined,
a dozen of one folder, and those headers are gone through once.  They are joined as text, not by
#include: the analyzer follows paths only through functions that stand in the main file.  faults.cpp
holds a fault for each kind of check; it is looked at first, joined with another file, and a fault
that is not found ends the run.  LAGLINE_TIDY_TIMES=1 shows what each batch took.
"""
import hashlib
import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
MOST = 16  # files of a batch
# The analyzer follows a function through as many states at most.  By default it takes 225 000, and half a
# minute more for a dozen files of ranking (43 s against 12 s of processor time); the planted faults
# are found either way.  What only a longer search would find is not found.
ANALYZER = ["-Xclang", "-analyzer-config", "-Xclang", "max-nodes=20000"]
KEPT_DAYS = 30
TIDY = shutil.which("clang-tidy-14") or shutil.which("clang-tidy")


def digest(*parts):
    sum_ = hashlib.sha256()
    for part in parts:
        sum_.update(part if isinstance(part, bytes) else part.encode())
        sum_.update(b"\0")
    return sum_.hexdigest()


def inside(path):
    """A path of engine/ or cli/, from the root on; none for other files."""
    try:
        name = Path(path).relative_to(ROOT).as_posix()
    except ValueError:
        return None
    return name if name.startswith(("engine/", "cli/")) else None


def commands(build):
    """Of each source: its flags, without warnings, which are g++'s, and the target it belongs to."""
    found = {}
    for entry in json.loads((build / "compile_commands.json").read_text()):
        source = inside(entry["file"])
        if source is None:
            continue
        words = shlex.split(entry["command"])[1:]
        target = words[words.index("-o") + 1].split(".dir/")[0]
        if target.startswith("tests/"):
            continue  # a source that a test builds once more, its own way
        flags = [w for w in words if w.startswith(("-I", "-D", "-f", "-O", "-std"))]
        for i, word in enumerate(words):
            if word in ("-isystem", "-include"):
                flags += words[i:i + 2]
        found[source] = (flags, target)
    return found


def headers(build):
    """Of each source: our headers that it includes, as the compiler saw them."""
    found, source = {}, None
    listed = subprocess.run(["ninja", "-C", build, "-t", "deps"], check=True, capture_output=True, text=True)
    for line in listed.stdout.splitlines():
        if not line.startswith("    "):
            source = None
            continue
        # A compiler cache may write paths that start at the build folder.
        name = inside(os.path.normpath(build / line.strip()))
        if name is None:
            continue
        if source is None:
            source = found.setdefault(name, set())
        source.add(name)
    return found


def alone(build):
    """Sources with private names that clash when joined; written when the build is configured."""
    return {inside(line) for line in (build / "alone.txt").read_text().splitlines() if line}


def private_names(source):
    """What stands at the start of a line in the anonymous namespaces of a source: names that may clash."""
    names = set()
    for inner in re.findall(r"^namespace \{$(.*?)^\}  // namespace$", source.read_text(), flags=re.S | re.M):
        for line in re.findall(r"^[A-Za-z].*", inner, flags=re.M):
            found = (re.search(r"\b(?:struct|class|enum class|using|concept)\s+(\w+)", line)
                     or re.search(r"(\w+)\s*[({=\[;]", line))
            if found:
                names.add(found[1])
    return names


def apart(names):
    """Groups of sources that share no private name."""
    groups = []
    for name in names:
        own = private_names(ROOT / name)
        group = next((g for g in groups if not g[0] & own), None)
        if group is None:
            groups.append((own, [name]))
        else:
            group[0].update(own)
            group[1].append(name)
    return [files for _, files in groups]


def run_tidy(source, flags):
    command = [TIDY, "--quiet", f"--config-file={ROOT}/.clang-tidy", str(source), "--", *flags, *ANALYZER]
    done = subprocess.run(command, capture_output=True, text=True)
    lines = [line for line in done.stdout.splitlines() if not re.match(r"\d+ warnings? generated", line)]
    if done.returncode != 0 and not lines:
        lines = done.stderr.splitlines()  # it did not get as far as a finding
    return done.returncode == 0, "\n".join(lines)


def run_joined(path, sources, flags):
    """Looks at several sources as one, and names their own lines in what is found."""
    path.parent.mkdir(parents=True, exist_ok=True)
    origin, text = [], []
    for source in sources:
        lines = source.read_text().splitlines()
        origin += [(source, number) for number in range(1, len(lines) + 1)]
        text += lines
    path.write_text("\n".join(text) + "\n")

    def own(match):
        source, number = origin[int(match[1]) - 1]
        return f"{source}:{number}:"

    clean, found = run_tidy(path, flags)
    return clean, re.sub(rf"{re.escape(str(path))}:(\d+):", own, found)


def check_batch(number, batch, flags, folder):
    """Whether the files of the batch are clean, and what was found."""
    sources = [ROOT / name for name in batch]
    if len(batch) == 1:
        return run_tidy(sources[0], flags)
    clean, found = run_joined(folder / f"batch_{number}.cpp", sources, flags)
    if "clang-diagnostic-error" not in found:
        return clean, found
    # New names that clash: not a matter of style, and the joined builds will say so.
    each = [run_tidy(source, flags) for source in sources]
    return all(clean for clean, _ in each), "\n".join(found for _, found in each if found)


def find_faults(folder, flags):
    """Sees that every fault of faults.cpp is found when that file is joined with another."""
    faults, neighbour = HERE / "faults.cpp", ROOT / "engine/diagnostics/nearest.cpp"
    _, found = run_joined(folder / "with_faults.cpp", [neighbour, faults], flags)
    seen = set(re.findall(rf"{re.escape(str(faults))}:(\d+):\d+: (?:error|warning): .*\[([a-z][^,\]]*)", found))
    expected = {(str(number), check)
                for number, line in enumerate(faults.read_text().splitlines(), 1)
                for check in re.findall(r"// finds ([^ ]+)", line)}
    missed = sorted(expected - seen, key=lambda fault: int(fault[0]))
    for number, check in missed:
        print(f"tests/tidy/faults.cpp:{number}: {check} was not found when joined")
    return not missed and bool(expected), len(expected)


def batches(todo, command_of, clashing):
    """Files of one target and equal flags together, evenly, at most MOST; the largest batches first.
    Those that clash with others of their target may still go with one another."""
    groups = {}
    for name in todo:
        flags, target = command_of[name]
        groups.setdefault((target, name in clashing, tuple(flags)), []).append(name)
    made = []
    for (_, clash, flags), names in groups.items():
        if clash:
            made += [(files, flags) for files in apart(names)]
            continue
        count = -(-len(names) // MOST)
        made += [(names[i * len(names) // count:(i + 1) * len(names) // count], flags) for i in range(count)]
    return sorted(made, key=lambda batch: -len(batch[0]))


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__.split("\n\n")[0])
    build, cache = Path(sys.argv[1]).resolve(), Path(sys.argv[2])
    cache.mkdir(parents=True, exist_ok=True)
    folder = build / "tidy"
    command_of, headers_of, clashing = commands(build), headers(build), alone(build)
    if not command_of:
        sys.exit(f"clang-tidy: {build} holds no object of engine/ or cli/")

    version = subprocess.run([TIDY, "--version"], capture_output=True, text=True, check=True).stdout
    settings = version + (ROOT / ".clang-tidy").read_text() + " ".join(ANALYZER)
    content = {}

    def key_of(name):
        for path in headers_of[name] - content.keys():
            content[path] = digest((ROOT / path).read_bytes())
        return digest(settings, *command_of[name][0], *sorted(path + content[path] for path in headers_of[name]))

    # A header list without its file is left over from a file that is gone.
    keys = {name: key_of(name) for name in sorted(command_of) if all((ROOT / p).exists() for p in headers_of[name])}
    todo = [name for name, key in keys.items() if not (cache / key).exists()]
    made = batches(todo, command_of, clashing)
    print(f"clang-tidy: {len(todo)} files to check in {len(made)} batches, {len(keys) - len(todo)} unchanged", flush=True)
    for name, key in keys.items():
        if (cache / key).exists():
            (cache / key).touch()
    for old in cache.iterdir():
        if old.stat().st_mtime < time.time() - KEPT_DAYS * 86400:
            old.unlink()
    if not todo:
        return 0

    found_all, faults = find_faults(folder, command_of["engine/diagnostics/nearest.cpp"][0])
    print(f"clang-tidy: {'all' if found_all else 'NOT all'} of {faults} planted faults found", flush=True)
    if not found_all:
        return 1

    def check(numbered):
        number, (batch, flags) = numbered
        start = time.monotonic()
        clean, found = check_batch(number, batch, flags, folder)
        if clean:
            for name in batch:
                (cache / keys[name]).touch()
        if found:
            print(found, flush=True)
        if os.environ.get("LAGLINE_TIDY_TIMES"):
            print(f"{time.monotonic() - start:6.1f} s  {len(batch):2}  {batch[0]}", flush=True)
        return clean

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        results = list(pool.map(check, enumerate(made)))
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())
