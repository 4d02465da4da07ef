"""The manual pages in man itself: man_test.py LAGLINE FOLDER

FOLDER holds the pages.  What they must say is read from --help.
"""

import gzip
import os
import pathlib
import re
import shutil
import subprocess
import sys
import unittest

PROGRAM, FOLDER = sys.argv[1], pathlib.Path(sys.argv[2])
SECTIONS = ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "EXIT STATUS", "SEE ALSO"]


def help_of(*command):
    done = subprocess.run([PROGRAM, *command, "--help"], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


def page(name):
    [path] = FOLDER.glob(f"{name}.1*")
    return path


def shown(path):
    """The page as a reader has it, and what man had to complain of."""
    environment = os.environ | {"LC_ALL": "C.UTF-8", "MANWIDTH": "80", "MAN_KEEP_FORMATTING": ""}
    done = subprocess.run(["man", "--warnings", "-l", path], capture_output=True, text=True, env=environment)
    return done.stdout, done.stderr


def parts_of(text):
    block = re.search(r"\nSubcommands:\n(.*?)(\n\n|$)", text, re.S)
    return re.findall(r"^  (\S+)", block[1], re.M) if block else []


COMMANDS = parts_of(help_of())


@unittest.skipUnless(shutil.which("man"), "no man here")
class Pages(unittest.TestCase):
    def test_there_is_a_page_for_every_command_and_no_other(self):
        self.assertEqual({path.name.split(".")[0] for path in FOLDER.iterdir()},
                         {"lagline", *(f"lagline-{command}" for command in COMMANDS)})

    def test_pages_say_what_help_says(self):
        for command in COMMANDS:
            helps = [help_of(command)]
            helps += [help_of(command, part) for part in parts_of(helps[0])]
            text, complaints = shown(page(f"lagline-{command}"))
            self.assertEqual(complaints, "", command)
            headings = re.findall(r"^[A-Z][A-Z ]+$", text, re.M)
            self.assertEqual([heading for heading in headings if heading in SECTIONS], SECTIONS, command)
            words = " ".join(text.split())
            for told in helps:
                for option in re.findall(r"^  (?:-h,)?(--[a-z-]+)", told, re.M):
                    self.assertRegex(text, rf"(?m)^ +(-h, )?{option}\b", command)
                prose = told.split("Usage:")[0]
                self.assertIn(" ".join(prose.split()), words, command)
            # Commands to copy stand as they are.
            for line in re.findall(r"^  (lagline .*|cd .*|    --.*)$", helps[0], re.M):
                self.assertIn(line.strip(), text, command)

    def test_page_of_the_program(self):
        text, complaints = shown(page("lagline"))
        self.assertEqual(complaints, "")
        for command in COMMANDS:
            self.assertRegex(text, rf"(?m)^ +lagline {command}$")
            self.assertRegex(text, rf"\blagline-{command}\(1\)")
        codes = re.findall(r"^ +([0-4])  +\S", text.split("EXIT STATUS")[1], re.M)
        self.assertEqual(codes, list("01234"))

    @unittest.skipUnless(shutil.which("mandoc"), "no mandoc here")
    def test_mandoc_has_nothing_to_warn_of(self):
        for path in sorted(FOLDER.iterdir()):
            text = path.read_bytes()
            done = subprocess.run(["mandoc", "-Tlint", "-Wwarning"], capture_output=True,
                                  input=gzip.decompress(text) if path.suffix == ".gz" else text)
            self.assertEqual((done.returncode, done.stdout), (0, b""), path)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
