# SPDX-License-Identifier: Apache-2.0
"""Runs the built program the way a person does, and compares all that it says."""
import json
import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
BIN = Path(os.environ.get("FOOTRING_BIN", ROOT / "build/test/bin/footring")).resolve()
DEMO = ROOT / "packs/ambrel-valley"


@dataclass
class Said:
    status: int
    out: str
    err: str

    @property
    def lines(self):
        return self.err.splitlines()

    def json(self):
        return json.loads(self.out)


class Program:
    """Every call runs in `folder`, with an environment of its own."""

    def __init__(self, folder, tally):
        self.folder = folder
        self.tally = tally

    def run(self, *words, stdin="", binary=b"", env=None):
        environment = {"HOME": str(self.folder), "COLUMNS": "80", "LC_ALL": "C.UTF-8", "PATH": "/usr/bin:/bin"}
        environment.update(env or {})
        for name in ("ASAN_OPTIONS", "UBSAN_OPTIONS"):
            if name in os.environ:
                environment[name] = os.environ[name]
        run = subprocess.run([BIN, *map(str, words)], cwd=self.folder, env=environment, timeout=120,
                             input=binary or stdin.encode(), capture_output=True)
        return Said(run.returncode, run.stdout.decode("utf-8", "replace"), run.stderr.decode("utf-8", "replace"))

    def refuses(self, name, words, status, lines, **how):
        """The command ends with this status, says exactly these lines, and prints nothing."""
        said = self.run(*words, **how)
        self.tally.equal(f"{name}: what it says", said.err, "".join(line + "\n" for line in lines))
        self.tally.equal(f"{name}: exit status", said.status, status)
        self.tally.equal(f"{name}: nothing on standard output", said.out, "")
        return said

    def answers(self, name, words, **how):
        """The command ends well and says nothing on standard error."""
        said = self.run(*words, **how)
        self.tally.equal(f"{name}: exit status and standard error", (said.status, said.err), (0, ""))
        return said

    def write(self, name, content):
        path = self.folder / name
        if isinstance(content, bytes):
            path.write_bytes(content)
        else:
            path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
        return name
