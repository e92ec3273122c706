# SPDX-License-Identifier: Apache-2.0
"""footring serve: where it listens, what it refuses, and that it stops when asked."""
import json
import os
import signal
import subprocess
import urllib.request
from contextlib import contextmanager

from program import BIN
from small_packs import NORTH, write_pack


@contextmanager
def serving(program, *words):
    """The first line that the server prints, and its process; ended with SIGTERM."""
    environment = {**os.environ, "HOME": str(program.folder), "XDG_DATA_HOME": str(program.folder / "share")}
    process = subprocess.Popen([BIN, "serve", "--port", "0", "--quiet", *map(str, words)], cwd=program.folder,
                               env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    try:
        yield process.stdout.readline(), process
    finally:
        process.send_signal(signal.SIGTERM)
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        process.stdout.close()
        process.stderr.close()


def get(address, path):
    with urllib.request.urlopen(address.rstrip("/") + path, timeout=20) as answer:
        return json.loads(answer.read())


def check(program, tally, golden):
    north = write_pack(program.folder / "north", NORTH)
    with serving(program, "--pack", north, "--data", "data", "--json") as (line, process):
        told = json.loads(line)
        health = get(told["address"], "/api/health")
        tally.equal("the server is healthy", health["status"], "ok")
        tally.equal("the server has the pack that it was given, and the laws", [p["id"] for p in health["packs"]],
                    ["north", "law-and-marks"])
        tally.check("the server is on loopback", told["address"].startswith("http://127.0.0.1:"), told)
        second = program.run("serve", "--pack", north, "--data", "data", "--port", "0")
        tally.check("a second server on the same folder is refused in one line",
                    second.status == 1 and second.out == "" and len(second.lines) == 1, second)
        port = told["address"].rsplit(":", 1)[1].strip("/")
        taken = program.run("serve", "--pack", north, "--data", "other", "--port", port)
        tally.check("a port that is taken is refused in one line, with the port named",
                    taken.status == 1 and len(taken.lines) == 1 and port in taken.err, taken)
    tally.equal("SIGTERM ends the server well", process.returncode, 0)

    with serving(program, "--demo") as (line, process):
        tally.check("the page says where it is and how to stop it", "http://127.0.0.1:" in line and "Ctrl+C" in process.stdout.readline(), line)
        address = line[line.index("http://"):].split()[0].rstrip(".,;")
        tally.check("--demo fills an empty cupboard", get(address, "/api/health")["pieces"] > 0)
    tally.check("--demo keeps a folder of its own", (program.folder / "share/footring-demo/footring.db").exists())
    with serving(program, "--json") as (line, process):
        health = get(json.loads(line)["address"], "/api/health")
        tally.equal("without --pack the demo pack is open, and your own folder is empty",
                    (len(health["packs"]), health["pieces"]), (2, 0))

    program.refuses("a port that is none", ["serve", "--pack", north, "--port", "70000"], 2,
                    ["--port: '70000' is not a port: give a number from 1 to 65535, or 0 for any free one"])
    program.refuses("a port that is a word", ["serve", "--pack", north, "--port", "http", "--set", "x=1"], 2,
                    ["setting x: there is no setting of this name: run `footring settings` for the list",
                     "--port: 'http' is not a port: give a number from 1 to 65535, or 0 for any free one"])
    program.refuses("a missing pack", ["serve", "--pack", "nowhere", "--data", "data"], 3,
                    ["nowhere: there is no such folder: check the path of the pack"])
    program.write("file", "x")
    said = program.run("serve", "--pack", north, "--data", "file")
    tally.check("a file for the folder is refused", said.status in (1, 2) and len(said.lines) == 1 and said.out == "", said)
