"""The Debian packages: package_test.py BUILD_FOLDER SOURCE_FOLDER STAGE_FOLDER

Both are built by cpack and looked at with the tools of dpkg.
"""

import gzip
import os
import pathlib
import re
import shutil
import subprocess
import sys
import unittest

BUILD, SOURCE, STAGE = (pathlib.Path(path).resolve() for path in sys.argv[1:4])
TODAY = "2026-11-25"


def output(*command, **options):
    done = subprocess.run([*map(str, command)], capture_output=True, text=True, **options)
    assert done.returncode == 0, (command, done.stdout, done.stderr)
    return done.stdout


def files_below(folder):
    return {str(path.relative_to(folder)): path.read_bytes()
            for path in sorted(folder.rglob("*")) if path.is_file()}


class Package:
    def __init__(self, name):
        [self.deb] = STAGE.glob(f"{name}_*.deb")
        self.root = STAGE / name
        output("dpkg-deb", "-x", self.deb, self.root)
        self.files = files_below(self.root)

    def field(self, name):
        return output("dpkg-deb", "-f", self.deb, name).strip()

    def depends(self):
        return {re.split(r"[ (]", each.strip())[0] for each in self.field("Depends").split(",")}


def setUpModule():
    shutil.rmtree(STAGE, ignore_errors=True)
    STAGE.mkdir(parents=True)
    # Whoever packs may have the strictest umask.
    output("cpack", "--config", BUILD / "CPackConfig.cmake", "-B", STAGE, umask=0o077)
    global USE, DEVELOPMENT
    USE, DEVELOPMENT = Package("lagline"), Package("lagline-dev")


class Packages(unittest.TestCase):
    def test_fields(self):
        version = re.search(r"VERSION (\S+)", (SOURCE / "CMakeLists.txt").read_text().split("project(")[1])[1]
        architecture = output("dpkg", "--print-architecture").strip()
        for package in (USE, DEVELOPMENT):
            self.assertEqual(package.field("Version"), version)
            self.assertEqual(package.field("Architecture"), architecture)
            self.assertIn("Lagline contributors", package.field("Maintainer"))
            lines = package.field("Description").splitlines()
            self.assertRegex(lines[0], r"^Ranks insulated pipe .{10,60}$")
            self.assertGreater(len(lines), 3)
            self.assertTrue(all(re.match(r" \S", line) for line in lines[1:]), lines)
        self.assertEqual(USE.field("Section"), "science")
        self.assertEqual(DEVELOPMENT.field("Section"), "libdevel")

    def test_every_library_the_program_loads_is_in_its_depends(self):
        loaded = re.findall(r"NEEDED +(\S+)", output("objdump", "-p", USE.root / "usr/bin/lagline"))
        self.assertGreater(len(loaded), 5)
        found = output("ldd", USE.root / "usr/bin/lagline")
        # The loader itself is told by its place alone.
        places = {library: str(pathlib.Path(
                      re.search(rf"(?:{re.escape(library)} => |\t(?=/\S*{re.escape(library)} ))(\S+)", found)[1]).resolve())
                  for library in loaded}
        # The database of dpkg knows some files by their place before /lib became a link to /usr/lib.
        either = [path for place in places.values() for path in (place, place.removeprefix("/usr"))]
        known = subprocess.run(["dpkg", "-S", *either], capture_output=True, text=True).stdout
        for library, place in places.items():
            path = re.escape(place.removeprefix("/usr"))
            owners = re.findall(rf"^([^:\s]+)\S*: (?:/usr)?{path}$", known, re.M)
            self.assertEqual(len(owners), 1, library)
            provided = output("dpkg-query", "-W", "-f", "${Package}, ${Provides}", owners[0])
            names = {re.split(r"[ (]", each)[0] for each in provided.split(", ")}
            self.assertTrue(names & USE.depends(), (library, names))
        self.assertNotIn("RUNPATH", output("objdump", "-p", USE.root / "usr/bin/lagline"))

    def test_whoever_links_the_library_gets_all_its_headers_and_packages(self):
        version = USE.field("Version")
        self.assertIn(f"lagline (= {version})", DEVELOPMENT.field("Depends"))
        needed = (BUILD / "engine/lagline-config.cmake").read_text()
        packages = {"Eigen3": "libeigen3-dev", "yaml-cpp": "libyaml-cpp-dev", "SQLite3": "libsqlite3-dev",
                    "SQLiteCpp": "libsqlitecpp-dev", "OpenSSL": "libssl-dev", "ZLIB": "zlib1g-dev",
                    "CbcSolver": "coinor-libcbc-dev", "EXPAT": "libexpat1-dev", "zip": "libzip-dev",
                    "xlsxwriter": "libxlsxwriter-dev"}
        names = re.findall(r"^find_(?:dependency\(|library\(\S+ )([\w-]+)", needed, re.M)
        self.assertIn("CbcSolver", names)
        self.assertEqual({packages[name] for name in names if name != "Threads"} - DEVELOPMENT.depends(), set())
        headers = {name.removeprefix("usr/include/lagline/") for name in DEVELOPMENT.files if name.endswith(".h")}
        self.assertEqual(headers, {str(path.relative_to(SOURCE / "engine"))
                                   for path in (SOURCE / "engine").rglob("*.h")})
        self.assertEqual(DEVELOPMENT.files["usr/share/doc/lagline/docs/example/main.cpp"],
                         (SOURCE / "docs/example/main.cpp").read_bytes())

    def test_files_of_the_program(self):
        self.assertEqual(files_below(USE.root / "usr/share/lagline/rules"), files_below(SOURCE / "rules"))
        self.assertEqual(files_below(USE.root / "usr/share/lagline/sample-plant/plant"),
                         files_below(SOURCE / "sample-plant/plant"))
        documents = {name for name in USE.files if name.startswith("usr/share/doc/lagline/docs/")}
        self.assertEqual({pathlib.Path(name).name for name in documents},
                         {path.name for path in (SOURCE / "docs").glob("*.md")})
        commands = re.findall(r"^## (lagline.*)$", (SOURCE / "docs/commands.md").read_text(), re.M)
        pages = {f"usr/share/man/man1/{command.replace(' ', '-')}.1.gz" for command in commands}
        self.assertEqual({name for name in USE.files if "/man/" in name}, pages)
        for name in ("usr/bin/lagline", "usr/share/bash-completion/completions/lagline",
                     "usr/share/zsh/vendor-completions/_lagline", "usr/share/doc/lagline/copyright"):
            self.assertIn(name, USE.files)
        changelog = gzip.decompress(USE.files["usr/share/doc/lagline/changelog.gz"]).decode()
        self.assertTrue(changelog.startswith(f"lagline ({USE.field('Version')}) "))

    def test_owners_rights_and_places(self):
        for package in (USE, DEVELOPMENT):
            for line in output("dpkg-deb", "-c", package.deb).splitlines():
                rights, owner, _, _, _, name = line.split(maxsplit=5)
                self.assertEqual(owner, "root/root", line)
                executable = name == "./usr/bin/lagline" or rights.startswith("d")
                self.assertEqual(rights[1:], "rwxr-xr-x" if executable else "rw-r--r--", line)
                self.assertTrue(name == "./" or name.startswith("./usr/"), line)
            for name, content in package.files.items():
                self.assertNotIn(str(SOURCE).encode(), content, name)
        self.assertEqual(USE.files.keys() & DEVELOPMENT.files.keys(), set())

    def test_the_unpacked_program_ranks_the_sample_plant(self):
        environment = {name: value for name, value in os.environ.items() if name != "LAGLINE_RULES"}
        arguments = ["rank", USE.root / "usr/share/lagline/sample-plant/plant", "--today", TODAY,
                     "--format", "csv"]
        unpacked = output(USE.root / "usr/bin/lagline", *arguments, env=environment, cwd="/")
        self.assertEqual(unpacked, output(BUILD / "bin/lagline", *arguments, env=environment))
        self.assertEqual(unpacked.count("\n"), 601)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
