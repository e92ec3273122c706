#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""A whole server under load: a generated pack and cupboard, imported, searched, browsed, and asked by many at once.
Prints lines for bench/RESULTS.md.

    bench/load.py                                 1,000,000 pieces, 5 looks each; 100,000 treatments
    bench/load.py --pieces 100000 --treatments 10000
    bench/load.py --store postgresql              the same over a PostgreSQL database of its own
    bench/load.py --soak 30                       minutes of people reading and writing at the end, watching the memory
    bench/load.py --soak 30 --rest 0.2            each of them rests so many seconds after an answer; 1 otherwise
    bench/load.py --keep DIR                      keeps what was generated, and uses it again

What it imitates: many makers' catalogues at once, and the cupboard of an archive. Everything is made from numbers, the same
each time. The peer of the import is the sqlite3 shell's own .import of the same file, in the same run."""
import argparse
import csv
import http.client
import json
import os
import random
import re
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from urllib.parse import quote

sys.dont_write_bytecode = True
ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "tests/cli")]
from cluster import Cluster  # noqa: E402
from small_packs import write_pack  # noqa: E402

BIN = os.environ.get("FOOTRING_BIN", str(ROOT / "build/release/bin/footring"))
PLACES = ("rim", "edge", "centre", "handle")
FORMS = ("plate", "saucer", "cup", "bowl", "jug", "dish", "platter", "tureen")
TYPED = 300      # words typed letter by letter
ASKED = 300      # pieces examined, pages shown
PEOPLE = 200


def pack(folder, treatments):
    """Each shape some 20 treatments; each treatment one to three ornaments."""
    rng = random.Random(1)
    shapes, glazes, ornaments = max(1, treatments // 20), 60, 400
    tables = {
        "sources": [{"id": "s-1", "kind": "catalogue", "title": "Generated", "date": "1932"}],
        "makers": [{"id": f"maker-{i}", "name": f"Maker {i}", "role": "pottery", "years": "1900/1960", "source": "s-1"}
                   for i in range(max(1, shapes // 10))],
        "forms": [{"id": form, "name": form, "ware": "hollow" if form in ("cup", "bowl", "jug", "tureen") else "flat",
                   "outline": "round"} for form in FORMS],
        "ornaments": [{"id": f"ornament-{i}", "name": f"Ornament {i}", "kind": "stamp", "finish": "gold", "source": "s-1"}
                      for i in range(ornaments)]}
    makers = len(tables["makers"])
    tables["shapes"] = [{"id": f"shape-{i}", "maker": f"maker-{i % makers}", "name": f"Shape {i}",
                         "years": "1900/1960", "source": "s-1"} for i in range(shapes)]
    tables["glazes"] = [{"id": f"glaze-{i}", "maker": f"maker-{i % makers}", "name": f"Glaze {i}", "source": "s-1"}
                        for i in range(glazes)]
    tables["treatments"], tables["treatment_ornaments"] = [], []
    for i in range(treatments):
        first = 1905 + i % 40
        tables["treatments"].append({"id": f"t-{i}", "shape": f"shape-{i % shapes}", "glaze": f"glaze-{i % glazes}",
                                     "number": str(100 + i), "name": f"Treatment {i}", "grade": "any",
                                     "years": f"{first}/{first + 8}", "source": "s-1"})
        for place in rng.sample(PLACES, 1 + i % 3):
            tables["treatment_ornaments"].append({"treatment": f"t-{i}", "place": place,
                                                  "ornament": f"ornament-{rng.randrange(ornaments)}", "on": "*",
                                                  "source": "s-1"})
    return write_pack(folder, tables, "generated")


def cupboard(path, pieces, treatments):
    """Five looks a piece: shape, glaze and three places."""
    rng = random.Random(2)
    shapes = max(1, treatments // 20)
    notes = ("chip at the foot", "crazed", "from a box of odds", "gilding worn", "hairline", "repaired handle", "", "")
    with open(path, "w", newline="", encoding="utf-8") as out:
        table = csv.writer(out, lineterminator="\n")
        table.writerow(["id", "form", "shape", "glaze", *PLACES[:3], "number", "place_kept", "note"])
        for i in range(pieces):
            table.writerow([f"p-{i + 1:07}", FORMS[i % len(FORMS)], f"shape-{rng.randrange(shapes)}",
                            f"glaze-{rng.randrange(60)}", *(f"ornament-{rng.randrange(400)}" for _ in range(3)),
                            str(rng.randrange(100, 100 + treatments)), f"shelf {rng.randrange(2000)}", rng.choice(notes)])


class Line:
    def __init__(self, port):
        self.port = port

    def ask(self, method, path, value=None):
        """The status and the seconds until the whole answer was here."""
        status, took, _ = self.hear(method, path, value)
        return status, took

    def hear(self, method, path, value=None):
        """The same, and the answer itself."""
        began = time.perf_counter()
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=300)
        body = None if value is None else json.dumps(value).encode()
        line.request(method, path, body, {"Content-Type": "application/json"} if body else {})
        answer = line.getresponse()
        text = answer.read()
        line.close()
        return answer.status, time.perf_counter() - began, text


def percentile(seconds, share):
    ordered = sorted(seconds)
    return 1000 * ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def row(what, measured, limit, ratio, target="at most 1"):
    print(f"| {what} | {measured} | {limit} | {ratio:.2f} | {target} |", flush=True)


def memory_mb(process, field):
    return int(re.search(rf"{field}:\s+(\d+)", Path(f"/proc/{process}/status").read_text()).group(1)) / 1024


def time_import(file, words, folder, pieces):
    began = time.perf_counter()
    subprocess.run(["sqlite3", str(folder / "peer.db"), ".mode csv", f".import {file} piece"], check=True,
                   stdout=subprocess.DEVNULL)
    peer = time.perf_counter() - began
    (folder / "peer.db").unlink()
    began = time.perf_counter()
    done = subprocess.run([BIN, "import", *words, str(file)], capture_output=True, text=True)
    own = time.perf_counter() - began
    if done.returncode != 0:
        sys.exit(f"import: {done.stderr[:2000]}")
    row(f"import {pieces:,} pieces", f"{own:.1f} s", f"sqlite3 .import of the same file: {peer:.1f} s", own / peer,
        "at most 3")


def time_search(line, treatments):
    rng = random.Random(3)
    seconds = []
    kinds = (lambda: f"p-{rng.randrange(1, 999999):07}", lambda: f"shape-{rng.randrange(max(1, treatments // 20))}",
             lambda: f"ornament-{rng.randrange(400)} {rng.choice(FORMS)}", lambda: str(100 + rng.randrange(treatments)),
             lambda: rng.choice(("crazed", "hairline", "gilding worn")))
    for _ in range(TYPED):
        word = rng.choice(kinds)()
        for end in range(1, len(word) + 1):
            status, took = line.ask("GET", f"/api/pieces?limit=20&counted=false&q={quote(word[:end])}")
            assert status == 200, status
            seconds.append(took)
    slow = percentile(seconds, 0.99)
    row(f"search as one types, {len(seconds):,} questions, 99th percentile (median {percentile(seconds, 0.5):.1f} ms)",
        f"{slow:.1f} ms", "50 ms", slow / 50)


def time_bench(line, treatments):
    rng = random.Random(4)
    seconds = []
    for i in range(ASKED):
        piece = {"id": "p-x", "form": FORMS[i % len(FORMS)],
                 "shape": {"value": f"shape-{rng.randrange(max(1, treatments // 20))}", "sure": "likely"},
                 "looks": [{"place": place, "value": f"ornament-{rng.randrange(400)}"} for place in ("rim", "edge")]}
        status, took = line.ask("POST", "/api/examine", {"piece": piece})
        assert status == 200, status
        if i >= len(FORMS):  # each form is laid out once
            seconds.append(took)
    slow = percentile(seconds, 0.99)
    row(f"Bench answer, 99th percentile (median {percentile(seconds, 0.5):.1f} ms)", f"{slow:.1f} ms", "50 ms", slow / 50)


def time_pages(line):
    rng = random.Random(5)
    page, facets = [], []
    for _ in range(ASKED):
        sort = rng.choice(("changed", "id", "form", "shape", "number", "place"))
        status, took = line.ask("GET", f"/api/pieces?limit=100&sort={sort}&offset={rng.randrange(0, 1000, 100)}")
        assert status == 200, status
        page.append(took)
        facets.append(line.ask("GET", "/api/pieces/facets")[1])
    for what, seconds in (("Cupboard page, 100 rows", page), ("Cupboard's filters with their counts", facets)):
        slow = percentile(seconds, 0.99)
        row(f"{what}, 99th percentile (median {percentile(seconds, 0.5):.1f} ms)", f"{slow:.1f} ms", "100 ms", slow / 100)


def many_people(port, seconds):
    done = subprocess.run(["wrk", "-t2", f"-c{PEOPLE}", f"-d{seconds}s", "--timeout", "30s", "-s", "/dev/stdin",
                           f"http://127.0.0.1:{port}"], text=True, capture_output=True, input="""
local paths = {"/api/pieces?limit=20&counted=false&q=shape-1", "/api/pieces?limit=100", "/api/pieces?limit=20&counted=false&q=crazed", "/api/health",
               "/api/pieces/p-0000001", "/api/changes?limit=20"}
local at = 0
request = function() at = at % #paths + 1; return wrk.format("GET", paths[at]) end
""")
    errors = re.search(r"Non-2xx or 3xx responses: (\d+)", done.stdout)
    # "connect 0, read 0, write 0, timeout 0"; each answer closes its connection, which is no error.
    sockets = re.search(r"Socket errors: connect (\d+), read (\d+), write (\d+), timeout (\d+)", done.stdout)
    bad = int(errors.group(1)) if errors else 0
    if sockets:
        bad += sum(int(sockets.group(i)) for i in (1, 3, 4))
    rate = re.search(r"Requests/sec:\s+([\d.]+)", done.stdout)
    print(f"| {PEOPLE} people at once for {seconds} s (wrk) | {bad} errors, {rate.group(1) if rate else '?'} answers/s | 0 errors "
          f"| | 0 |", flush=True)


SOAK_WARM = 1 / 2   # of its time. A sixth until 2026-12-01: memory still grew then, and stood from the thirteenth minute on


def soak(process, port, asked):
    """People who search, page, look closer and write, each resting between; the memory each minute.
    A third of the pieces that are written are new, so that the store grows as well."""
    ends = time.monotonic() + 60 * asked.soak
    answers, refused = [0] * PEOPLE, []

    def ask_once(who, rng, line):
        """One of the things that people do; its status."""
        searches = ("shape-1", "crazed", "p-00", "ornament-12 cup", "gilding worn")
        piece = f"/api/pieces/p-{rng.randrange(1, asked.pieces + 1):07}"
        what = rng.randrange(10)
        if what < 4:
            return line.ask("GET", f"/api/pieces?limit=20&counted=false&q={quote(rng.choice(searches))}")[0]
        if what < 6:
            return line.ask("GET", f"/api/pieces?limit=100&offset={rng.randrange(0, 1000, 100)}")[0]
        if what < 7:
            return line.ask("GET", "/api/changes?limit=20")[0]
        if what < 9:
            return line.ask("POST", "/api/examine", {"piece": {
                "id": "p-x", "form": rng.choice(FORMS), "looks": [{"place": "rim", "value": f"ornament-{rng.randrange(400)}"}]}})[0]
        if rng.randrange(3) == 0:
            return line.ask("POST", "/api/pieces", {"piece": {"id": "", "form": rng.choice(FORMS)}})[0]
        status, _, text = line.hear("GET", piece)
        if status != 200:
            return status
        kept = json.loads(text)
        kept["piece"]["note"] = f"seen by {who}"
        return line.ask("PUT", piece, {"piece": kept["piece"], "revision": kept["revision"]})[0]

    def person(who):
        rng, line = random.Random(1000 + who), Line(port)
        while time.monotonic() < ends:
            try:
                status = ask_once(who, rng, line)
            except (OSError, http.client.HTTPException) as fault:
                status = repr(fault)
            if status not in (200, 201, 409):  # 409: somebody else was quicker
                refused.append(status)
            answers[who] += 1
            time.sleep(rng.random() * 2 * asked.rest)

    people = [threading.Thread(target=person, args=(who,), daemon=True) for who in range(PEOPLE)]
    for one in people:
        one.start()
    seen = []  # MB, a minute each
    while time.monotonic() < ends:
        time.sleep(min(60, max(0, ends - time.monotonic())))
        seen.append(memory_mb(process, "VmRSS"))
        print(f"memory after {len(seen)} minutes: {seen[-1]:.0f} MB, {sum(answers):,} answers", file=sys.stderr, flush=True)
    for one in people:
        one.join()
    warm = max(seen[:max(1, int(len(seen) * SOAK_WARM))])
    row(f"memory after {asked.soak:g} minutes of {PEOPLE} people reading and writing ({sum(answers):,} answers, "
        f"{len(refused)} errors)", f"{seen[-1]:.0f} MB", f"{warm:.0f} MB in the first half of them", seen[-1] / warm, "at most 1.1")


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--pieces", type=int, default=1_000_000)
    options.add_argument("--treatments", type=int, default=100_000)
    options.add_argument("--store", choices=["sqlite", "postgresql"], default="sqlite")
    options.add_argument("--soak", type=float, default=0, help="minutes")
    options.add_argument("--rest", type=float, default=1, help="seconds")
    options.add_argument("--keep")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(asked.keep or scratch)
        folder.mkdir(parents=True, exist_ok=True)
        if not (folder / "pack/datapackage.json").exists():
            pack(folder / "pack", asked.treatments)
            cupboard(folder / "pieces.csv", asked.pieces, asked.treatments)
        cluster = Cluster(settings=["fsync=on"]) if asked.store == "postgresql" else None
        try:
            run(asked, folder, Path(scratch), cluster)
        finally:
            if cluster:
                cluster.stop()


def run(asked, folder, scratch, cluster):
    words = ["--data", str(scratch / "data"), "--pack", str(folder / "pack")]
    if cluster:
        words += ["--store", cluster.new_database("load")]
    print(f"\n## load: {asked.pieces:,} pieces, {asked.treatments:,} treatments, {asked.store}\n")
    print("| what | measured | limit or peer, same run | ratio | target |\n| --- | --- | --- | --- | --- |", flush=True)
    time_import(folder / "pieces.csv", words, scratch, asked.pieces)
    server = subprocess.Popen([BIN, "serve", *words, "--port", "0", "--json", "--quiet"], stdout=subprocess.PIPE, text=True)
    try:
        port = int(json.loads(server.stdout.readline())["address"].rsplit(":", 1)[1].strip("/"))
        line = Line(port)
        time_search(line, asked.treatments)
        time_bench(line, asked.treatments)
        time_pages(line)
        many_people(port, 20)
        most = memory_mb(server.pid, "VmHWM")
        row("memory of the server, the most", f"{most:.0f} MB", "1,024 MB", most / 1024)
        if asked.soak:
            soak(server.pid, port, asked)
    finally:
        server.terminate()
        server.wait()


if __name__ == "__main__":
    main()
