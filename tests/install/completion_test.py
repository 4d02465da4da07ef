"""Completion in the shells themselves: completion_test.py LAGLINE BASH_SCRIPT ZSH_SCRIPT

What is expected is read from --help, which the shells know nothing of.
"""

import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

import terminal

PROGRAM, BASH_SCRIPT, ZSH_SCRIPT = (pathlib.Path(path).resolve() for path in sys.argv[1:4])


def help_of(*command):
    done = subprocess.run([PROGRAM, *command, "--help"], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


def listed(text, heading):
    """First words of the lines below a heading of a help."""
    block = text.split(f"\n{heading}:\n")[1].split("\n\n")[0]
    return re.findall(r"^  (\S+)", block, re.M)


def options(text):
    names = [name for words in listed(text, "Options") for name in words.split(",")]
    return sorted(re.sub(r"\{.*", "", name) for name in names if name.startswith("-"))


def choices(text):
    """Options with a closed list of words, and the words."""
    found = re.findall(r"^  (--\S+) TEXT:\{([^}]*)\}", text, re.M)
    return {name: words.split(",") for name, words in found}


COMMANDS = listed(help_of(), "Subcommands")
PARTS = [("rules", part) for part in listed(help_of("rules"), "Subcommands")]
HELPS = {command: help_of(*command) for command in [(name,) for name in COMMANDS] + PARTS}


class Folder(unittest.TestCase):
    """With a folder to complete paths in."""

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder)
        (self.folder / "plant one").mkdir()
        (self.folder / "planning").mkdir()
        (self.folder / "plate.csv").write_text("")


class Bash(Folder):
    def completed(self, *words):
        """What the function gives for the last of the words, called as bash calls it."""
        script = """source "$1"; shift
            COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
            "$(complete -p lagline | sed -n 's/.*-F \\([^ ]*\\) .*/\\1/p')"
            if ((${#COMPREPLY[@]})); then printf '%s\\n' "${COMPREPLY[@]}"; fi"""
        done = subprocess.run(
            ["bash", "--norc", "-euo", "pipefail", "-c", script, "bash", BASH_SCRIPT, "lagline", *words],
            capture_output=True, text=True, cwd=self.folder)
        self.assertEqual((done.returncode, done.stderr), (0, ""), words)
        return done.stdout.splitlines()

    def test_commands(self):
        self.assertEqual(self.completed(""), COMMANDS)
        self.assertEqual(self.completed("re"), [name for name in COMMANDS if name.startswith("re")])
        self.assertEqual(self.completed("rules", ""), [part for _, part in PARTS])

    def test_options_of_every_command_are_those_of_its_help(self):
        self.assertEqual(sorted(self.completed("--")), ["--help", "--version"])
        for command, text in HELPS.items():
            self.assertEqual(sorted(self.completed(*command, "-")), options(text), command)

    def test_closed_lists(self):
        seen = 0
        for command, text in HELPS.items():
            for option, words in choices(text).items():
                seen += 1
                self.assertEqual(self.completed(*command, option, ""), words)
                self.assertEqual(self.completed(*command, option, "=", words[0][:1]),
                                 [word for word in words if word[0] == words[0][0]])
                self.assertEqual(self.completed(*command, option, "="), words)
        self.assertGreater(seen, 10)

    def test_folders_and_files(self):
        self.assertEqual(sorted(self.completed("rank", "pl")), ["planning", "plant one"])
        self.assertEqual(sorted(self.completed("rank", "p", "--out", "pl")),
                         ["planning", "plant one", "plate.csv"])
        self.assertEqual(sorted(self.completed("verify", "pla")), ["planning", "plant one", "plate.csv"])
        self.assertEqual(self.completed("rank", "plant one", ""), [])
        self.assertEqual(self.completed("explain", "p", ""), [])

    def test_rule_sets_shipped_and_folders(self):
        self.assertEqual(sorted(self.completed("rank", "--rules", "")),
                         ["extended", "planning", "plant one", "published"])
        self.assertEqual(self.completed("rules", "list", "--rules", "pub"), ["published"])

    def test_a_value_is_no_argument_and_no_command(self):
        self.assertEqual(self.completed("rank", "--top", "3", "plan"), self.completed("rank", "plan"))
        self.assertEqual(self.completed("rank", "--at", ""), [])
        self.assertEqual(self.completed("rank", "--format", "csv", "rules", ""), [])

    def test_on_a_terminal(self):
        with terminal.Terminal(["bash", "--norc", "--noprofile", "-i"], self.folder) as bash:
            bash.send(f"source '{BASH_SCRIPT}'; lagline() {{ printf '<%s>' \"$@\"; echo; }}\n")
            for typed, argument in [("lagline unc\t\n", "<uncertainty>"),
                                    ("lagline rank --format=cs\t\n", "<rank><--format=csv>"),
                                    ("lagline rank plant\t\n", "<rank><plant one/>"),
                                    ("lagline rank 'plant\t\n", "<rank><plant one/>"),
                                    ("lagline rank p --out plat\t\n", "<rank><p><--out><plate.csv>")]:
                bash.send(typed)
                self.assertTrue(bash.shows(argument), (typed, bash.seen))


@unittest.skipUnless(shutil.which("zsh"), "no zsh here")
class Zsh(Folder):
    def test_syntax(self):
        done = subprocess.run(["zsh", "-n", ZSH_SCRIPT], capture_output=True, text=True)
        self.assertEqual((done.returncode, done.stderr), (0, ""))

    def test_on_a_terminal(self):
        functions = self.folder / "functions"
        functions.mkdir()
        shutil.copy(ZSH_SCRIPT, functions / "_lagline")
        with terminal.Terminal(["zsh", "-f", "-i"], self.folder) as zsh:
            zsh.send("PROMPT='' fpath=($PWD/functions $fpath); autoload -Uz compinit; compinit -u -D\n"
                     "lagline() { printf '<%s>' \"$@\"; echo; }\n")
            for typed, argument in [("lagline unc\t\n", "<uncertainty>"),
                                    ("lagline rules sou\t\n", "<rules><sources>"),
                                    ("lagline what-if --bud\tTA=1\n", "<what-if><--budget=TA=1>"),
                                    ("lagline rank --format cs\t\n", "<rank><--format><csv>"),
                                    ("lagline rank --rules pub\t\n", "<rank><--rules><published>"),
                                    ("lagline rank --rules planni\t\n", "<rank><--rules><planning>"),
                                    ("lagline rank plant\t\n", "<rank><plant one>"),
                                    ("lagline rank p --out plat\t\n", "<rank><p><--out><plate.csv>")]:
                zsh.send(typed)
                self.assertTrue(zsh.shows(argument), (typed, zsh.seen))
            zsh.send("lagline \t")
            self.assertTrue(zsh.shows("synthesise"), zsh.seen)
            for name in COMMANDS:
                self.assertIn(name, zsh.seen)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
