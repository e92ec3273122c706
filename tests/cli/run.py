#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""The built program, command by command: what it prints, what it says when it refuses, and its exit status.

    tests/cli/run.py            compares; FOOTRING_BIN names the program
    tests/cli/run.py --write    makes the golden pages anew (read the difference before committing it)
"""
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]
import backups  # noqa: E402
import check_packs  # noqa: E402
import cupboard  # noqa: E402
import dating  # noqa: E402
import examine  # noqa: E402
import photographs  # noqa: E402
import read_wording  # noqa: E402
import reference  # noqa: E402
import services  # noqa: E402
import serving  # noqa: E402
import sharing  # noqa: E402
import words  # noqa: E402
import worth  # noqa: E402
from program import Program  # noqa: E402
from tally import Tally  # noqa: E402

PARTS = [words, check_packs, examine, reference, dating, photographs, read_wording, cupboard, serving, sharing, backups, services, worth]


class Golden:
    """Pages that are compared in full with tests/cli/golden/NAME."""

    def __init__(self, tally, write):
        self.tally = tally
        self.write = write
        self.used = set()

    def equal(self, name, got):
        path = HERE / "golden" / name
        self.used.add(name)
        if self.write:
            path.write_text(got, encoding="utf-8")
        self.tally.equal(f"golden/{name}", got, path.read_text(encoding="utf-8") if path.exists() else "(no such file)\n")

    def end(self):
        strangers = {p.name for p in (HERE / "golden").iterdir()} - self.used
        self.tally.check("every golden page is compared with something", not strangers, sorted(strangers))


def main():
    tally = Tally()
    golden = Golden(tally, sys.argv[1:] == ["--write"])
    for part in PARTS:
        with tempfile.TemporaryDirectory() as folder:
            part.check(Program(Path(folder), tally), tally, golden)
    golden.end()
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
