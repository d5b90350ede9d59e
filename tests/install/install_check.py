#!/usr/bin/env python3
"""Installs the built tree into a scratch folder and uses what is there as a stranger would.

    install_check.py --build BUILD_FOLDER [--cxx-flags FLAGS]

A program is built against the library (with FLAGS, where that was built with a sanitizer), the command runs on the installed panels, every verb and option stands in man
pages that mandoc takes, and three shells complete them.
"""

import argparse
import csv
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent


def run(*arguments, **options):
    done = subprocess.run([str(one) for one in arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          stdin=subprocess.DEVNULL, text=True, **options)
    if done.returncode != 0:
        raise SystemExit(f"install_check.py: {' '.join(map(str, arguments))[:300]} ends with {done.returncode}\n{done.stdout}{done.stderr}")
    return done.stdout


def expect(condition, text):
    if not condition:
        raise SystemExit(f"install_check.py: {text}")


class Help:
    """Verbs, their words and options, by what --help prints."""

    def __init__(self, binary):
        self.options = {}  # by place: "", "compare", "job new"
        self.words = {}
        self.read(binary, "")

    def read(self, binary, place):
        text = run(binary, *place.split(), "--help")
        self.options[place] = re.findall(r"^  (?:-\w,)?(--[\w-]+)", text, re.MULTILINE)
        listed = re.search(r"^(?:Verbs|What to do):\n((?:  .*\n)+)", text, re.MULTILINE)
        self.words[place] = re.findall(r"^  ([\w-]+)", listed[1], re.MULTILINE) if listed else []
        for word in self.words[place]:
            self.read(binary, f"{place} {word}".strip())


def check_library(prefix, folder, flags):
    run("cmake", "-S", HERE, "-B", folder, "-G", "Ninja", f"-DCMAKE_PREFIX_PATH={prefix}",
        f"-DCMAKE_CXX_FLAGS={flags}")
    run("cmake", "--build", folder)
    netlist = prefix / "share/ringtrue/netlists/quickstart"
    with open(netlist / "channels.csv", encoding="utf-8") as file:
        channels = [row for row in csv.DictReader(file) if row["field"]]
    expect(channels, "the installed panel has no channels")
    for row in channels:
        points = run(folder / "trace_channel", netlist, row["tag"]).split()
        expect(points and points[0] == row["point"] and points[-1] == row["field"],
               f"{row['tag']} leads from {row['point']} to {row['field']}, the program prints {points}")


def check_command(binary, prefix):
    expect((prefix / "share/ringtrue/netlists/grain-dryer/netlist.xml").is_file(), "the demo panel isn't installed")
    traced = run(binary, "trace", "netlists/quickstart", "HOPPER_FULL", cwd=prefix / "share/ringtrue")
    expect("HOPPER_FULL" in traced, f"the installed command traces nothing: {traced}")
    version = run(binary, "--version")
    for name, module in [("SQLite", "sqlite3"), ("OpenSSL", "libcrypto"), ("toml++", "tomlplusplus"), ("Eigen", "eigen3"),
                         ("cpp-httplib", "cpp-httplib"), ("spdlog", "spdlog"), ("libedit", "libedit")]:
        number = run("pkg-config", "--modversion", module).strip()
        expect(f"{name} {number}" in version, f"--version names no {name} {number}: {version}")


def check_man_pages(prefix, described):
    pages = prefix / "share/man/man1"
    verbs = described.words[""]
    expect({page.stem for page in pages.iterdir()} == {"ringtrue", *(f"ringtrue-{verb}" for verb in verbs)},
           f"the pages are {sorted(page.name for page in pages.iterdir())}, the verbs {verbs}")
    for page in pages.iterdir():
        # The one thing that mandoc would have otherwise: a page has the version, and no date.
        lint = subprocess.run(["mandoc", "-T", "lint", "-W", "warning", page], capture_output=True, text=True, check=False).stdout
        complaints = [line for line in lint.splitlines() if "missing date" not in line]
        expect(not complaints, "\n".join(complaints))
        text = re.sub(r"\s+", " ", run("mandoc", "-T", "ascii", "-O", "width=200", page).replace("\b", "\0"))
        text = re.sub(r".\0", "", text)
        verb = page.stem.removeprefix("ringtrue").removeprefix("-")
        places = [place for place in described.options if place == verb or (verb and place.startswith(verb + " "))]
        for place in places:
            for name in described.options[place] + described.words[place]:
                expect(re.search(rf"(?<![\w-]){'(ringtrue-)?' if not verb else ''}{name}(?![\w-])", text), f"{page.name} doesn't name {name}")


BASH = """
source "$1"
COMP_WORDS=(ringtrue "${@:2}") COMP_CWORD=$(($# - 1))
_ringtrue
printf '%s\\n' "${COMPREPLY[@]}"
"""
# The two functions of zsh that the script calls, made to print what they are given.
ZSH = r"""
_describe() { print -l -- "${(@)${(P@)2}%%:*}" }
_arguments() { print -l -- "${(@)${(@)argv:#\**}%%[\[=]*}" }
script=$1; shift
words=(ringtrue "$@"); CURRENT=$#words; PREFIX=$words[-1]
source $script
"""


def shells(prefix):
    share = prefix / "share"
    bash = share / "bash-completion/completions/ringtrue"
    zsh = share / "zsh/vendor-completions/_ringtrue"
    fish = share / "fish/vendor_completions.d/ringtrue.fish"

    def ask_fish(words):
        line = " ".join(["ringtrue", *words])
        offers = run("fish", "--no-config", "-c", "source $argv[1]; complete -C $argv[2]", fish, line)
        return [offer.split("\t")[0] for offer in offers.splitlines()]

    yield "bash", lambda words: run("bash", "-c", BASH, "bash", bash, *words).split()
    yield "zsh", lambda words: run("zsh", "-f", "-c", ZSH, "zsh", zsh, *words).split()
    yield "fish", ask_fish


def check_completions(prefix, described):
    for shell, ask in shells(prefix):
        for place, options in described.options.items():
            offered = ask([*place.split(), "--"])
            expect(set(offered) == set(options), f"{shell} offers for ringtrue {place}: {offered}, the help: {options}")
            if described.words[place]:
                offered = ask([*place.split(), ""])
                expect(set(offered) == set(described.words[place]), f"{shell} offers after ringtrue {place}: {offered}")
    by_name = dict(shells(prefix))  # zsh leaves values to _arguments
    # Bash takes = for a word of its own.
    for shell, words in [("bash", ["--goal", ""]), ("bash", ["--goal", "="]), ("bash", ["--goal", "=", "i"]), ("fish", ["--goal", ""])]:
        offered = by_name[shell](["plan", "netlists", *words])
        expected = {"identify"} if words[-1] == "i" else {"detect", "identify"}
        expect(set(offered) == expected, f"{shell} offers for {words}: {offered}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--build", type=Path, required=True)
    parser.add_argument("--cxx-flags", default="")
    call = parser.parse_args()
    for tool in ("mandoc", "bash", "zsh", "fish"):
        expect(shutil.which(tool), f"{tool} is missing (scripts/deps tests)")
    with tempfile.TemporaryDirectory() as scratch:
        prefix = Path(scratch) / "prefix"
        run("cmake", "--install", call.build.resolve(), "--prefix", prefix)
        binary = prefix / "bin/ringtrue"
        described = Help(binary)
        check_library(prefix, Path(scratch) / "program", call.cxx_flags)
        check_command(binary, prefix)
        check_man_pages(prefix, described)
        check_completions(prefix, described)
    print(f"install_check.py: {len(described.words[''])} verbs installed, described and completed; a program uses the library")


if __name__ == "__main__":
    sys.exit(main())
