"""Compares what the documents quote of the program with what it prints now, or rewrites it.

check.py [--rewrite] LAGLINE SOURCE [PAGE...]

A quoted block stands behind a comment that names its command and what is taken of the output:

    <!-- output: lagline rank sample-plant/plant --today 2026-11-25 | from "rank  today" to "segments ranked" -->

Commands run in a copy of the sample plant, so that none writes into the documents' own.  Pieces behind further
bars are set below each other, an empty line between them.  Of a piece:
from TEXT, to TEXT   from the first line that holds TEXT, up to the next one that does
before TEXT          the same, without that line
paragraph TEXT       from the first line that holds TEXT to the next empty line
lines A-B            by number, from 1, of what is left
without TEXT         leaves lines out that hold TEXT
matching REGEX       leaves only lines that REGEX is found in
quantity NAME        a quantity of explain: its line and those indented below it
"output in SCENE:" makes the folder my-plant of scenes.py first; "file PATH" in place of a command is a file of the plant.

A figure within a sentence is declared above it, and stands between two marks:

    <!-- figure recalled: lagline rules recalled => that is (\\d+ %) -->
    Of the values <!--=recalled-->35 %<!--/--> are recalled.

A block that looks like output but is none says why: <!-- not output: measured once, see there -->
"""
import concurrent.futures
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

import scenes

PAGES = ("README.md", "DEVELOPERS.md", "docs/*.md", "rules/*.md", "sample-plant/*.md")
MADE = ("docs/commands.md", "docs/data-dictionary.md")  # whole pages, compared by tests/commands
OUTPUT = re.compile(r"<!-- output(?: in (?P<scene>[a-z-]+))?: (?P<quote>.*?) -->", re.S)
FIGURE = re.compile(r"<!-- figure (?P<name>[a-z0-9-]+)(?: in (?P<scene>[a-z-]+))?: (?P<command>.*?) => (?P<regex>.*?) -->", re.S)
USE = re.compile(r"<!--=(?P<name>[a-z0-9-]+)-->(?P<text>.*?)<!--/-->", re.S)
NOT_OUTPUT = re.compile(r"<!-- not output: \S.*? -->", re.S)
# What no example of input, command or equation holds.
LOOKS_LIKE_OUTPUT = re.compile(
    "\u2500\u2500|segments ranked|^Ranked at |^rank  today|^Rank \\d+ of |: (?:error|warning) \\[|^ +eq\\. \\d+: |\\[(?:published|recalled)\\]"
    "|^Where to look first|^Plan from |^  [a-z_]+ +[-\\d.e]+ \\S+ +eq\\. ", re.M)
LONGEST_RUN_S = 300


class Fault(Exception):
    """What is wrong with a quote, for people."""


class Program:
    """Runs each command once, in a folder of its own scene."""

    def __init__(self, program, source):
        self.program, self.source = program, source
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="lagline-quotes-"))
        self.made, self.outputs = {}, {}

    def close(self):
        shutil.rmtree(self.folder)

    def run(self, arguments, folder):
        environment = {**os.environ, "LAGLINE_RULES": str(self.source / "rules"), "NO_COLOR": "1"}
        return subprocess.run([self.program, *arguments], cwd=folder, env=environment, capture_output=True,
                              stdin=subprocess.DEVNULL, text=True, check=False, timeout=LONGEST_RUN_S)

    def scene(self, name):
        """A folder with the sample plant, and with what the scene adds to it."""
        if name not in self.made:
            if name and name not in scenes.SCENES:
                raise Fault(f"no scene {name}; there are {', '.join(scenes.SCENES)}")
            folder = self.folder / (name or "sample")
            shutil.copytree(self.source / "sample-plant" / "plant", folder / "sample-plant" / "plant")
            if name:
                scenes.SCENES[name](folder, lambda *words: self.run(words, folder))
            self.made[name] = folder
        return self.made[name]

    def output(self, command, scene):
        words = shlex.split(command)
        folder = self.scene(scene)
        if len(words) == 2 and words[0] == "file":
            return (folder / words[1]).read_text(encoding="utf-8")
        if not words or words[0] != "lagline":
            raise Fault(f"not a command of lagline: {command}")
        if words[1:2] != ["rules"] and "--today" not in words:
            raise Fault(f"drifts with the day: give --today to {command}")
        ran = self.run(words[1:], folder)
        text = ran.stdout or ran.stderr
        if not text:
            raise Fault(f"printed nothing: {command}")
        return text

    def run_all(self, commands):
        """Those that write into a ledger go in order; all others two at a time."""
        for scene in {scene for _, scene in commands}:
            try:
                self.scene(scene)
            except Fault:
                pass  # said where it is asked for
        with concurrent.futures.ThreadPoolExecutor(max_workers=2) as pool:
            jobs = {key: pool.submit(self.output, *key) for key in commands}
        self.outputs = jobs

    def of(self, command, scene):
        return self.outputs[command, scene].result()


def words_of(text):
    return " ".join(text.split())


def first_with(lines, text, start=0):
    for i in range(start, len(lines)):
        if (text == "" and lines[i] == "") or (text and text in lines[i]):
            return i
    raise Fault(f"no line with {text!r} in the output")


def piece(lines, cut):
    words = shlex.split(cut)
    if len(words) % 2:
        raise Fault(f"cannot read the cut: {cut}")
    for word, value in zip(words[::2], words[1::2]):
        if word == "from":
            lines = lines[first_with(lines, value):]
        elif word == "to":
            lines = lines[:first_with(lines, value) + 1]
        elif word == "before":
            lines = lines[:first_with(lines, value)]
        elif word == "paragraph":
            lines = lines[first_with(lines, value):]
            lines = lines[:lines.index("")] if "" in lines else lines
        elif word == "matching":
            lines = [line for line in lines if re.search(value, line)]
            if not lines:
                raise Fault(f"no line fits {value!r}")
        elif word == "quantity":
            start = next((i for i, line in enumerate(lines) if re.match(f"  {value}(?: |$)", line)), None)
            if start is None:
                raise Fault(f"no quantity {value} in the output")
            end = next((i for i in range(start + 1, len(lines)) if not lines[i].startswith("      ")), len(lines))
            lines = lines[start:end]
        elif word == "lines":
            first, last = (int(number) for number in value.split("-"))
            if not 1 <= first <= last <= len(lines):
                raise Fault(f"lines {value} of {len(lines)}")
            lines = lines[first - 1:last]
        elif word == "without":
            left = [line for line in lines if value not in line]
            if len(left) == len(lines):
                raise Fault(f"no line with {value!r} to leave out")
            lines = left
        else:
            raise Fault(f"no such cut: {word}")
    return lines


def quoted(program, match):
    """What the block behind an output comment is to hold."""
    command, cuts = split_quote(match["quote"])
    lines = [line.rstrip() for line in program.of(command, match["scene"]).split("\n")]
    while lines and not lines[-1]:
        lines.pop()
    pieces = ["\n".join(piece(lines, cut)) for cut in cuts] or ["\n".join(lines)]
    return "\n\n".join(pieces) + "\n"


def split_quote(quote):
    # A comment may go over several lines; a bar within quotes is none.
    line = re.sub(r"\s*\n\s*", " ", quote)
    command, *cuts = re.split(r'\s\|\s(?=(?:[^"]*"[^"]*")*[^"]*$)', line)
    return command.strip(), cuts


class Page:
    def __init__(self, path, source):
        self.path, self.name = path, path.relative_to(source).as_posix()
        self.text = path.read_text(encoding="utf-8")
        self.faults, self.stale = [], []
        # Comments within a block are shown, not meant.
        self.prose = self.text
        for shown in [*(block.span("body") for block in self.blocks()),
                      *(code.span() for code in re.finditer(r"`[^`\n]+`", self.text))]:
            blank = re.sub(r"[^\n]", " ", self.text[slice(*shown)])
            self.prose = self.prose[:shown[0]] + blank + self.prose[shown[1]:]

    def at(self, place, what):
        return f"{self.name}:{self.text.count(chr(10), 0, place) + 1}: {what}"

    def fault(self, place, what):
        self.faults.append(self.at(place, what))

    def blocks(self):
        return list(re.finditer(r"^```(?P<word>\w*)\n(?P<body>.*?)^```$", self.text, re.S | re.M))

    def commands(self):
        found = [(split_quote(m["quote"])[0], m["scene"]) for m in OUTPUT.finditer(self.prose)]
        return found + [(words_of(m["command"]), m["scene"]) for m in FIGURE.finditer(self.prose)]

    def comment_before(self, block):
        """The output comment right above a block, if there is one."""
        for kind in (OUTPUT, NOT_OUTPUT):
            for match in kind.finditer(self.prose, 0, block.start()):
                if self.text[match.end():block.start()].strip() == "":
                    return match
        return None

    def check_blocks(self, program, edits):
        named = set()
        for block in self.blocks():
            comment = self.comment_before(block)
            if comment is None:
                if LOOKS_LIKE_OUTPUT.search(block["body"]):
                    self.fault(block.start(), "looks like output of lagline and names no command: put "
                               "<!-- output: COMMAND | CUT --> above it")
                continue
            named.add(comment.start())
            if comment.re is NOT_OUTPUT:
                continue
            try:
                now = quoted(program, comment)
            except Fault as fault:
                self.fault(comment.start(), str(fault))
                continue
            if now != block["body"]:
                edits.append((block.start("body"), block.end("body"), now))
                self.stale.append(self.at(block.start(), "is no longer what the command prints:\n" + changed(block["body"], now)))
        for comment in [*OUTPUT.finditer(self.prose), *NOT_OUTPUT.finditer(self.prose)]:
            if comment.start() not in named:
                self.fault(comment.start(), "no block follows this comment")

    def check_figures(self, program, edits):
        declared = {}
        for match in FIGURE.finditer(self.prose):
            if match["name"] in declared:
                self.fault(match.start(), f"figure {match['name']} is declared twice")
            declared[match["name"]] = match
        used = set()
        for use in USE.finditer(self.prose):
            match = declared.get(use["name"])
            if match is None:
                self.fault(use.start(), f"no figure {use['name']} is declared on this page")
                continue
            used.add(use["name"])
            try:
                now = figure(program, match)
            except Fault as fault:
                self.fault(match.start(), str(fault))
                continue
            if now != use["text"]:
                edits.append((*use.span("text"), now))
                self.stale.append(self.at(use.start(), f"{use['name']}: the page says {use['text']!r}, the program {now!r}"))
        for name in declared.keys() - used:
            self.fault(declared[name].start(), f"figure {name} stands nowhere")

    def rewrite(self, edits):
        for start, end, now in sorted(edits, reverse=True):
            self.text = self.text[:start] + now + self.text[end:]
        self.path.write_text(self.text, encoding="utf-8")


def figure(program, match):
    # Line breaks of the output are blanks: a sentence is one whatever the width.
    output = words_of(program.of(words_of(match["command"]), match["scene"]))
    found = re.search(words_of(match["regex"]), output)
    if not found:
        raise Fault(f"nothing in the output fits {match['regex']!r}")
    return " ".join(found.groups())


def changed(before, now):
    a, b = before.split("\n"), now.split("\n")
    lines = []
    for old, new in zip(a + [""] * (len(b) - len(a)), b + [""] * (len(a) - len(b))):
        if old != new:
            lines += [f"    - {old}", f"    + {new}"]
    more = len(lines) - 12
    return "\n".join(lines[:12] + ([f"    and {more} lines more"] if more > 0 else []))


def main():
    words = sys.argv[1:]
    rewrite = "--rewrite" in words
    words = [word for word in words if word != "--rewrite"]
    if len(words) < 2:
        sys.exit(__doc__)
    source = pathlib.Path(words[1]).resolve()
    paths = [source / name for name in words[2:]] or sorted(
        path for pattern in PAGES for path in source.glob(pattern)
        if path.relative_to(source).as_posix() not in MADE)
    pages = [Page(path, source) for path in paths]
    program = Program(os.path.abspath(words[0]), source)
    try:
        program.run_all(dict.fromkeys(command for page in pages for command in page.commands()))
        quotes, faults, rewritten = 0, [], []
        for page in pages:
            edits = []
            page.check_blocks(program, edits)
            page.check_figures(program, edits)
            quotes += len(page.commands())
            faults += page.faults
            if rewrite and edits:
                page.rewrite(edits)
                rewritten.append(page.name)
            else:
                faults += page.stale
    finally:
        program.close()
    for name in rewritten:
        print(f"rewrote {name}; see what changed, and whether the words around it still hold")
    for fault in faults:
        print(fault)
    print(f"{quotes} quotes and figures of {len(pages)} pages, {len(faults)} faults")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
