#!/usr/bin/env python3
"""Checks by the #include lines that no stage looks at a later one.

Run: check_layers.py [ROOT]        ROOT is the source tree, by default the one this script lies in.
     check_layers.py --self-test   plants each kind of violation in a made-up tree; all must be found.
Exit status: 0 clean, 1 with violations (one line each, FILE:LINE), 2 when there is nothing to check.
"""

import re
import sys
import tempfile
from pathlib import Path

# Which other stages each stage may include, in the order of the data's way. A new stage begins here:
# a folder that this table lacks is an error, so that no stage is left unchecked.
MAY_INCLUDE = {
    "base": set(),
    "model": {"base"},
    "load": {"base", "model"},
    "write": {"base", "model"},
    "job": {"base", "model", "load", "write"},
    "graph": {"base", "model"},
    "expect": {"base", "model", "graph"},
    "check": {"base", "model", "graph", "expect"},
    "compare": {"base", "model", "graph", "expect"},
    "diagnose": {"base", "model", "graph", "expect", "compare"},
    "plan": {"base", "model", "graph", "expect", "compare", "diagnose"},
    "revise": {"base", "model", "write", "graph", "expect", "compare", "diagnose"},
    "power": {"base", "model", "graph", "expect", "compare", "diagnose"},
    "io": {"base", "model", "graph", "expect", "compare", "diagnose"},
    "logic": {"base", "model", "graph", "expect", "compare", "diagnose", "io"},
    "report": {"base", "model", "load", "job", "graph", "expect", "check", "compare", "diagnose", "plan", "revise", "power", "io", "logic"},
    "picture": {"base", "model", "graph", "expect", "compare", "diagnose", "report"},
    "live": {"base", "model", "load", "job", "graph", "expect", "compare", "diagnose", "plan", "revise", "power", "io", "logic", "report"},
    "record": {"base", "model", "write", "job", "graph", "expect", "compare", "diagnose", "revise", "io", "logic", "report", "picture", "live"},
    "serve": {"base", "model", "load", "job", "graph", "expect", "compare", "diagnose", "plan", "power", "io", "logic", "report", "picture", "live"},
    "cli": {"base", "model", "load", "write", "job", "graph", "expect", "check", "compare", "diagnose", "plan", "revise", "power", "io", "logic", "report", "picture", "live", "record", "serve"},
}

# Has no public headers: nobody may include the command itself.
SRC_ONLY = {"cli"}

# A user of the library must need none of these installed. The tl::expected header is the one exception,
# because Result<T> is part of every signature; it comes in through base alone.
THIRD_PARTY = re.compile(r"(boost/|Eigen/|pugi|nlohmann/|spdlog/|fmt/|CLI/|toml\+\+|toml\.hpp|tl/|sqlite3|openssl/|httplib|xlsxwriter|histedit|editline/|gtest/|gmock/)")
ALLOWED_THIRD_PARTY = {"base": {"tl/expected.hpp"}}

SUFFIXES = {".hpp", ".cpp", ".h", ".cc", ".ipp", ".inl"}
INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^>"]+)[>"]', re.MULTILINE)
COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)


class Checker:
    def __init__(self, root):
        self.root = root
        self.public = root / "include" / "ringtrue"
        self.src = root / "src"
        self.violations = []
        self.files = 0

    def complain(self, path, line, text):
        place = path.relative_to(self.root).as_posix()
        self.violations.append(f"{place}:{line}: {text}" if line else f"{place}: {text}")

    def stage_folders(self, tree):
        for folder in sorted(tree.iterdir()) if tree.is_dir() else []:
            if not folder.is_dir():
                continue
            if folder.name not in MAY_INCLUDE:
                self.complain(folder, 0, f"the stage '{folder.name}' is not in the table of check_layers.py")
            elif tree == self.public and folder.name in SRC_ONLY:
                self.complain(folder, 0, f"the stage '{folder.name}' has no public headers")
            else:
                yield folder

    def check(self):
        for tree in (self.public, self.src):
            for folder in self.stage_folders(tree):
                for path in sorted(folder.rglob("*")):
                    if path.suffix in SUFFIXES:
                        self.check_file(path, folder.name, is_public=tree == self.public)
            for path in sorted(tree.glob("*")):
                # ringtrue.hpp gathers the usual headers and stands above the stages; sources may not.
                if tree == self.src and path.suffix in SUFFIXES:
                    self.complain(path, 0, "a source file belongs in the folder of its stage")
                elif path.suffix in SUFFIXES:
                    self.check_file(path, None, is_public=True)
        return self.violations

    def check_file(self, path, stage, is_public):
        self.files += 1
        # Comments go, their line breaks stay, so that the line numbers stay right.
        text = COMMENT.sub(lambda m: "\n" * m.group().count("\n"), path.read_text(encoding="utf-8"))
        for match in INCLUDE.finditer(text):
            line = text.count("\n", 0, match.start(2)) + 1
            self.check_include(path, line, stage, is_public, match.group(1) == '"', match.group(2))

    def check_include(self, path, line, stage, is_public, quoted, name):
        if is_public and THIRD_PARTY.match(name) and name not in ALLOWED_THIRD_PARTY.get(stage, set()):
            self.complain(path, line, f"a public header includes <{name}>; third-party headers belong in src")
            return
        target = self.resolve(path, quoted, name)
        if target is None:
            return
        other, other_is_public = target
        if other is None:
            if stage is not None:
                self.complain(path, line, f"includes {name}, which gathers all stages and is for callers only")
            return
        if stage is None:
            if not other_is_public:
                self.complain(path, line, f"includes {name}, a private header of the stage '{other}'")
            return
        if other not in MAY_INCLUDE:
            self.complain(path, line, f"includes {name} of the stage '{other}', which is not in the table")
        elif other != stage and other not in MAY_INCLUDE[stage]:
            allowed = ", ".join(s for s in MAY_INCLUDE if s in MAY_INCLUDE[stage]) or "no other stage"
            self.complain(path, line, f"the stage '{stage}' includes {name} of the stage '{other}'; allowed: {allowed}")
        elif not other_is_public and is_public:
            self.complain(path, line, f"a public header includes {name}, a private header")
        elif not other_is_public and other != stage:
            self.complain(path, line, f"includes {name}, a private header of the stage '{other}'")

    def resolve(self, path, quoted, name):
        """The stage of an included header and whether it is public; None for one that is not ours.

        A name is looked up as the compiler would: beside the file first when quoted, then from the
        include folders (include/ and src/). A file that is not there yet still counts by its name.
        """
        beside = (path.parent / name).resolve()
        if quoted and beside.is_file():
            return self.place(beside)
        if name.startswith("ringtrue/"):
            return self.place((self.root / "include" / name).resolve())
        if quoted and (name.startswith(("../", "./"))):
            return self.place(beside)
        first, slash, _ = name.partition("/")
        if slash and ((self.src / name).is_file() or (quoted and first in MAY_INCLUDE)):
            return self.place((self.src / name).resolve())
        return None

    def place(self, header):
        for tree, is_public in ((self.public, True), (self.src, False)):
            if header.is_relative_to(tree):
                parts = header.relative_to(tree).parts
                return (parts[0] if len(parts) > 1 else None, is_public)
        return None


# file, its text, and a part of the message expected (None: none)
SELF_TEST = [
    ("include/ringtrue/ringtrue.hpp", '#include "ringtrue/model/point.hpp"', None),
    ("include/ringtrue/base/result.hpp", "#include <tl/expected.hpp>", None),
    ("include/ringtrue/base/late.hpp", '#include "ringtrue/model/point.hpp"', "'base' includes ringtrue/model/point.hpp"),
    ("include/ringtrue/model/point.hpp", '#include "ringtrue/base/result.hpp"\n#include <vector>', None),
    ("include/ringtrue/model/tl.hpp", "#include <tl/expected.hpp>", "third-party headers belong in src"),
    ("include/ringtrue/graph/g.hpp", "#include <boost/graph/graph_traits.hpp>", "third-party headers belong in src"),
    ("include/ringtrue/load/x.hpp", "#  include <pugixml.hpp>", "third-party headers belong in src"),
    ("include/ringtrue/job/s.hpp", "#include <sqlite3.h>", "third-party headers belong in src"),
    ("src/job/j.cpp", '#include "ringtrue/graph/g.hpp"', "'job' includes"),
    ("include/ringtrue/load/t.hpp", "#include <toml++/toml.h>", "third-party headers belong in src"),
    ("include/ringtrue/load/d.hpp", '#include "../graph/g.hpp"', "'load' includes ../graph/g.hpp of the stage 'graph'"),
    ("include/ringtrue/load/own.hpp", '#include "load/bytes.hpp"', "includes load/bytes.hpp, a private header"),
    ("include/ringtrue/expect/all.hpp", "#include <ringtrue/ringtrue.hpp>", "gathers all stages"),
    ("src/load/bytes.hpp", "#include <pugixml.hpp>", None),
    ("src/load/csv.cpp", '#include "bytes.hpp"\n// #include "ringtrue/graph/g.hpp"', None),
    ("src/load/old.cpp", '/* #include "ringtrue/graph/g.hpp" */\n#include "load/bytes.hpp"', None),
    ("src/graph/nets.cpp", '#include <boost/graph/graph_traits.hpp>\n#include "load/bytes.hpp"', ":2: the stage 'graph' includes"),
    ("src/graph/loader.cpp", '#include "ringtrue/load/x.hpp"', "'graph' includes ringtrue/load/x.hpp of the stage 'load'"),
    ("src/report/text.cpp", '#include "load/bytes.hpp"', "a private header of the stage 'load'"),
    ("src/report/ok.cpp", '#include "ringtrue/diagnose/not_written_yet.hpp"', None),
    ("src/compare/c.cpp", '#include "ringtrue/diagnose/not_written_yet.hpp"', "'compare' includes"),
    ("src/cli/main.cpp", '#include "ringtrue/report/r.hpp"\n#include <CLI/CLI.hpp>\n#include "verbs.hpp"', None),
    ("src/main.cpp", "#include <vector>", "belongs in the folder of its stage"),
    ("src/plot/p.cpp", "#include <vector>", "the stage 'plot' is not in the table"),
    ("include/ringtrue/cli/c.hpp", "#include <vector>", "has no public headers"),
]


def self_test():
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder).resolve()
        for name, text, _ in SELF_TEST:
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text + "\n", encoding="utf-8")
        found = Checker(root).check()
    for name, _, expected in SELF_TEST:
        said = [v for v in found if v.startswith((name + ":", str(Path(name).parent) + ": the stage"))]
        if (expected is None) != (not said) or (expected and not any(expected in v for v in said)):
            print(f"self-test: {name}: expected {expected or 'no violation'}, found {said or 'none'}")
            wrong += 1
    print(f"check_layers: self-test {len(SELF_TEST) - wrong} passed, {wrong} failed")
    return 1 if wrong else 0


def main():
    if sys.argv[1:] == ["--self-test"]:
        return self_test()
    root = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parent.parent).resolve()
    checker = Checker(root)
    violations = checker.check()
    for violation in violations:
        print(violation)
    if violations:
        print(f"check_layers: {len(violations)} violations in {checker.files} files")
        return 1
    if checker.files == 0:
        print(f"check_layers: no source files under {root}/include/ringtrue and {root}/src")
        return 2
    print(f"check_layers: {checker.files} files, no stage includes a later one")
    return 0


if __name__ == "__main__":
    sys.exit(main())
