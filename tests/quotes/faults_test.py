"""The check of quotes finds what is wrong, and --rewrite mends that and nothing else.

faults_test.py LAGLINE SOURCE
"""
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM, SOURCE = sys.argv[1], pathlib.Path(sys.argv[2])
CHECK = pathlib.Path(__file__).with_name("check.py")

COMMAND = "lagline rules recalled"
QUOTE = f'<!-- output: {COMMAND} | lines 2-3 -->'
RIGHT = ("Compare them with a licensed copy of the source before you rely on them; put what differs into an\n"
         "overlay (docs/rule-format.md).\n")
FIGURE = f"<!-- figure of: {COMMAND} => (\\w+) them with a licensed -->\n"


def block(comment, body):
    return f"{comment}\n```\n{body}```\n"


class Quotes(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="lagline-quotes-"))
        self.addCleanup(shutil.rmtree, self.folder)
        for name in ("sample-plant", "rules"):
            (self.folder / name).symlink_to(SOURCE / name)

    def check(self, text, *words):
        page = self.folder / "page.md"
        page.write_text(text, encoding="utf-8")
        ran = subprocess.run([sys.executable, CHECK, *words, PROGRAM, self.folder, "page.md"],
                             capture_output=True, text=True, check=False)
        return ran.returncode, ran.stdout + ran.stderr, page.read_text(encoding="utf-8")

    def passes(self, text):
        code, said, _ = self.check(text)
        self.assertEqual(code, 0, said)

    def fails(self, text, what):
        code, said, after = self.check(text)
        self.assertEqual(code, 1, said)
        self.assertIn(what, said)
        self.assertEqual(after, text)

    def test_a_true_quote_passes(self):
        self.passes(block(QUOTE, RIGHT) + FIGURE + "They <!--=of-->Compare<!--/-->.\n")

    def test_a_blank_more_is_a_fault_and_rewritten(self):
        wrong = block(QUOTE, RIGHT.replace(" licensed", "  licensed"))
        self.fails(wrong, "page.md:2: is no longer what the command prints")
        code, _, after = self.check(wrong, "--rewrite")
        self.assertEqual((code, after), (0, block(QUOTE, RIGHT)))

    def test_a_figure_that_drifted(self):
        wrong = FIGURE + "They <!--=of-->compared<!--/-->.\n"
        self.fails(wrong, "the page says 'compared', the program 'Compare'")
        code, _, after = self.check(wrong, "--rewrite")
        self.assertEqual((code, after), (0, wrong.replace("compared", "Compare")))

    def test_output_without_its_command(self):
        table = "rank  today  segment\n\u2500\u2500\u2500\u2500  \u2500\u2500\n"
        self.fails(block("As printed:", table), "names no command")
        self.fails(block("", "600 segments ranked: 51 high.\n"), "names no command")
        self.passes(block("<!-- not output: drawn by hand -->", table))
        code, said, _ = self.check(block("", table), "--rewrite")
        self.assertEqual(code, 1, said)

    def test_comments_that_lead_nowhere(self):
        self.fails(QUOTE + "\n\nand no block\n", "no block follows")
        self.fails(FIGURE, "figure of stands nowhere")
        self.fails("<!--=none-->1<!--/-->\n", "no figure none is declared")
        self.fails(block(QUOTE.replace("2-3", "2-3000"), RIGHT), "lines 2-3000 of")
        self.fails(block('<!-- output: lagline rules recalled | from "no such line" -->', RIGHT), "no line with")
        self.fails(block("<!-- output: rm -r sample-plant -->", RIGHT), "not a command of lagline")
        self.fails(block("<!-- output in nowhere: lagline check my-plant --today 2026-11-25 -->", RIGHT), "no scene nowhere")
        self.fails(block("<!-- output: lagline check sample-plant/plant -->", RIGHT), "drifts with the day")

    def test_comments_within_a_block_are_shown_only(self):
        self.passes(block("", QUOTE + "\n"))


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
