#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Nothing lost: the server is killed with SIGKILL at random moments while five clients write, and started again. Every write
that was answered is there, none is half there, and starting needs no help. Prints `N passed, N failed`.

    tests/kill.py                     30 times over a folder, 30 over a PostgreSQL database
    tests/kill.py --times 500         as before a release
    tests/kill.py --only postgresql   one of the two: sqlite or postgresql
    tests/kill.py --seed 7            the moments of another run; a failing run prints its seed

Killing a program cannot show what a power cut does, because the kernel keeps what was written; src/store/power_test.cpp
is about that and about a disk that refuses. Here it is the whole program, with its threads, its lock and its start:
killed, on a full disk, in a folder that may only be read, and two of it on one folder."""
import argparse
import http.client
import json
import os
import random
import resource
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from hashlib import sha256
from pathlib import Path

sys.dont_write_bytecode = True
HERE = Path(__file__).resolve().parent
ROOT = HERE.parent
sys.path[:0] = [str(HERE), str(HERE / "cli")]
from cluster import Cluster  # noqa: E402
from small_packs import NORTH, write_pack  # noqa: E402
from tally import Tally  # noqa: E402

BIN = os.environ.get("FOOTRING_BIN", str(ROOT / "build/test/bin/footring"))
START_SECONDS = 60  # a start on a machine that is busy with other things
MEMBERS = 5         # pieces of the bulk changes


class Home:
    """Where the pieces are: a folder, or a database with its photographs in that folder."""

    def __init__(self, folder, cluster=None):
        self.folder, self.cluster = folder, cluster
        self.data = folder / "data"
        self.words = ["--data", str(self.data)]
        if cluster:
            self.words += ["--store", cluster.new_database("kill")]

    def rows(self, question):
        """The first row as numbers."""
        if self.cluster:
            return tuple(int(value) for value in self.cluster.sql(question, "kill").split("|"))
        with sqlite3.connect(self.data / "footring.db") as db:
            row = db.execute(question).fetchone()
        db.close()
        return row


class Server:
    def __init__(self, home, limit_bytes=None, before=()):
        def limit():
            if limit_bytes:
                resource.setrlimit(resource.RLIMIT_FSIZE, (limit_bytes, resource.RLIM_INFINITY))

        # Python ignores SIGXFSZ, and so does the server then: a file that is too large is an error of its disk.
        self.process = subprocess.Popen(
            [*before, BIN, "serve", "--pack", str(home.folder / "north"), *home.words, "--port", "0", "--json", "--quiet"],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, restore_signals=False,
            preexec_fn=limit)
        line = self.process.stdout.readline()
        if not line:
            raise RuntimeError("it does not start: " + self.process.stderr.read())
        self.port = int(json.loads(line)["address"].rsplit(":", 1)[1].strip("/"))

    def kill(self):
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()
        self.process.stderr.close()


class Client:
    def __init__(self, port):
        self.line = http.client.HTTPConnection("127.0.0.1", port, timeout=START_SECONDS)

    def ask(self, method, path, value=None, kind="application/json"):
        """The status and the answer; raises when the server is gone."""
        body = value if isinstance(value, bytes) or value is None else json.dumps(value).encode()
        self.line.request(method, path, body, {"Content-Type": kind} if body is not None else {})
        answer = self.line.getresponse()
        content = answer.read()
        return answer.status, (json.loads(content) if answer.headers["Content-Type"].startswith("application/json")
                               else content)

    def want(self, method, path, value=None, kind="application/json"):
        status, answer = self.ask(method, path, value, kind)
        if status not in (200, 201):
            raise ValueError(f"{method} {path}: {status} {answer}")
        return answer


GONE = (OSError, http.client.HTTPException)


class Worker(threading.Thread):
    """Writes until the server is gone. What was answered is in `told`; `tried` is the one whose answer never came."""

    def __init__(self, port, work):
        super().__init__(daemon=True)
        self.client, self.work, self.told, self.tried, self.fault = Client(port), work, [], None, None
        self.start()

    def run(self):
        try:
            for number in range(1, 10**9):
                self.work(self, number)
        except GONE:
            pass
        except Exception as fault:  # what no server should answer
            self.fault = fault

    def write(self, token, method, path, value, kind="application/json"):
        self.tried = token
        answer = self.client.want(method, path, value, kind)
        self.told.append((token, answer))
        self.tried = None
        return answer


def adder(name):
    def work(worker, number):
        worker.write(f"{name}-{number}", "POST", "/api/pieces",
                     {"piece": {"form": "dish", "looks": []}, "note": f"{name}-{number}"})
    return work


def changer(piece):
    state = {"record": piece}

    def work(worker, number):
        record = {**state["record"], "note": f"change {number}"}
        state["record"] = worker.write(record["note"], "PUT", f"/api/pieces/{record['piece']['id']}", record)
    return work


def bulk(ids, name):
    def work(worker, number):
        place = f"{name} shelf {number}"
        worker.write(place, "POST", "/api/pieces/bulk", {"ids": ids, "set": {"place": place}})
    return work


def photographer(piece, picture, name):
    def work(worker, number):
        comment = f"{name}-{number}".encode()
        # A comment right after the beginning of the JPEG makes it another file with the same picture.
        bytes_of_it = picture[:2] + b"\xff\xfe" + (len(comment) + 2).to_bytes(2, "big") + comment + picture[2:]
        worker.write(sha256(bytes_of_it).hexdigest(), "POST", f"/api/pieces/{piece}/photos", bytes_of_it, "image/jpeg")
    return work


def own_record(client, form="dish"):
    return client.want("POST", "/api/pieces", {"piece": {"form": form, "looks": []}})


def round_of_writing(server, number, picture, rng):
    """What was told, from five clients, until the server was killed."""
    client = Client(server.port)
    changed = own_record(client)
    members = [own_record(client)["piece"]["id"] for _ in range(MEMBERS)]
    before = client.want("GET", "/api/pieces?limit=0")["total"]
    workers = {"one": Worker(server.port, adder(f"{number}-one")), "two": Worker(server.port, adder(f"{number}-two")),
               "changer": Worker(server.port, changer(changed)), "bulk": Worker(server.port, bulk(members, number)),
               "photos": Worker(server.port, photographer(members[0], picture, number))}
    until = time.monotonic() + START_SECONDS
    while not all(w.told or w.fault for w in workers.values()) and time.monotonic() < until:
        time.sleep(0.001)
    time.sleep(rng.uniform(0, 0.25))
    server.kill()
    for worker in workers.values():
        worker.join(START_SECONDS)
    return workers, changed["piece"]["id"], members, before


def look(server, tally, number, found):
    workers, changed, members, before = found
    client = Client(server.port)
    for name, worker in workers.items():
        tally.check(f"round {number}: {name} was answered well until the end", worker.fault is None and worker.told,
                    worker.fault)
    adders = [workers["one"], workers["two"]]
    lost = [token for w in adders for token, answer in w.told
            if client.want("GET", f"/api/pieces/{answer['piece']['id']}")["note"] != token]
    tally.equal(f"round {number}: every piece whose storing was answered is there", lost, [])
    told, tried = sum(len(w.told) for w in adders), sum(w.tried is not None for w in adders)
    more = client.want("GET", "/api/pieces?limit=0")["total"] - before
    tally.check(f"round {number}: and no more than were sent", told <= more <= told + tried, (told, more, tried))

    def last(worker):
        return [worker.told[-1][0], worker.tried]
    note = client.want("GET", f"/api/pieces/{changed}")["note"]
    tally.check(f"round {number}: a piece is as the last answer said, or as the change after it", note in
                last(workers["changer"]), (note, last(workers["changer"])))
    places = {client.want("GET", f"/api/pieces/{one}")["place"] for one in members}
    tally.check(f"round {number}: a change of {MEMBERS} pieces happened to all of them or to none",
                len(places) == 1 and places <= set(last(workers["bulk"])), (places, last(workers["bulk"])))
    kept = {photo["sha256"] for photo in client.want("GET", f"/api/pieces/{members[0]}")["photos"]}
    sent = {token for token, _ in workers["photos"].told}
    tally.check(f"round {number}: every photograph that was answered is there", sent <= kept, sent - kept)
    rotten = [one for one in kept if sha256(client.want("GET", f"/api/photos/{one}")).hexdigest() != one]
    tally.equal(f"round {number}: every photograph is whole", rotten, [])


def check_killing(tally, home, times, rng, picture):
    server = Server(home)
    for number in range(1, times + 1):
        found = round_of_writing(server, number, picture, rng)
        server = Server(home)  # raises when it needs help
        look(server, tally, number, found)
    server.kill()
    if not home.cluster:
        tally.equal("the database is sound", home.rows("PRAGMA integrity_check"), ("ok",))
    tally.equal("each piece has its record and its words", home.rows(
        "SELECT (SELECT COUNT(*) FROM piece) - (SELECT COUNT(*) FROM piece_record), "
        "(SELECT COUNT(*) FROM piece) - (SELECT COUNT(*) FROM piece_words)"), (0, 0))
    tally.equal("each piece is as its newest change left it", home.rows(
        "SELECT COUNT(*) FROM piece p JOIN piece_record r ON r.no = p.no JOIN change c ON c.id = p.revision "
        "WHERE c.record_key <> p.id OR c.record_after <> r.record"), (0,))
    tally.equal("no number of a change is missing", home.rows("SELECT COUNT(*) - MAX(id) FROM change"), (0,))
    data = home.data
    if home.cluster:  # a backup is one of a folder
        data = home.folder / "moved"
        until = time.monotonic() + START_SECONDS
        while True:  # the database notices within moments that the killed server is gone
            moved = subprocess.run([BIN, "move", "--from", home.words[-1], "--from-photos", str(home.data), "--to",
                                    str(data)], capture_output=True, text=True)
            if moved.returncode == 0 or "has this store open" not in moved.stderr or time.monotonic() > until:
                break
            time.sleep(0.2)
        tally.check("it can be moved to a folder, whole", moved.returncode == 0, moved)
    made = subprocess.run([BIN, "backup", str(home.folder / "after.tar"), "--data", str(data)],
                          capture_output=True, text=True)
    tally.check("a backup of it has every photograph", made.returncode == 0 and "note:" not in made.stdout, made)


def check_full_disk(tally, home, picture):
    server = Server(home, limit_bytes=1_500_000)
    client, stored, refused = Client(server.port), [], None
    try:
        for number in range(400):
            status, answer = client.ask("POST", "/api/pieces", {"piece": {"form": "dish", "looks": []},
                                                                "note": f"{number} " + "n" * 20_000})
            if status != 201:
                refused = (status, answer)
                break
            stored.append((answer["piece"]["id"], answer["note"]))
        tally.check("a full disk is told, with what to do", refused is not None and refused[0] == 503
                    and refused[1]["problems"][0]["code"] == "store" and refused[1]["problems"][0]["remedy"], refused)
        here = all(client.want("GET", f"/api/pieces/{one}")["note"] == note for one, note in stored)
        tally.check("what was stored before is still shown", stored and here, len(stored))
    finally:
        server.kill()
    server = Server(home)
    client = Client(server.port)
    tally.equal("after a full disk exactly what was answered is there",
                [client.want("GET", f"/api/pieces/{one}")["note"] == note for one, note in stored], [True] * len(stored))
    tally.equal("and nothing else", client.want("GET", "/api/pieces?limit=0")["total"], len(stored))
    client.want("POST", "/api/pieces", {"piece": {"form": "dish", "looks": []}})
    server.kill()


def check_read_only(tally, home, picture):
    """A folder that may only be read, before the start and while it serves. Root may write anywhere, so it gives that up."""
    humble = ["setpriv", "--bounding-set", "-dac_override"] if os.geteuid() == 0 else []

    def may_write(path, allowed):
        for one in [path, *path.rglob("*")]:
            one.chmod((0o755 if allowed else 0o555) if one.is_dir() else (0o644 if allowed else 0o444))

    data = home.data
    server = Server(home, before=humble)
    client = Client(server.port)
    kept = own_record(client)["piece"]["id"]
    may_write(data, False)
    status, answer = client.ask("POST", f"/api/pieces/{kept}/photos", picture, "image/jpeg")
    tally.check("a photograph that may not be written is refused, in words", status == 503 and "may not be written" in
                answer["problems"][0]["what"], (status, answer))
    tally.equal("and the piece has none", client.want("GET", f"/api/pieces/{kept}")["photos"], [])
    server.kill()
    before = {one.name: one.read_bytes() for one in data.iterdir() if one.is_file() and one.suffix == ".db"}
    started = subprocess.run([*humble, BIN, "serve", "--pack", str(home.folder / "north"), *home.words, "--port", "0",
                              "--quiet"], capture_output=True, text=True, timeout=START_SECONDS)
    tally.check("a folder that may only be read is refused in one line", started.returncode == 1 and
                len(started.stderr.splitlines()) == 1 and "write" in started.stderr, started)
    tally.equal("and is left as it was", {one.name: one.read_bytes() for one in data.iterdir() if one.name in before}, before)
    may_write(data, True)
    server = Server(home, before=humble)
    client = Client(server.port)
    tally.equal("given the right to write it goes on", client.want("GET", "/api/pieces?limit=0")["total"], 1)
    client.want("POST", f"/api/pieces/{kept}/photos", picture, "image/jpeg")
    server.kill()


def check_two_at_once(tally, folder):
    """Two servers that start on one folder at the same moment: one has it, the other says so and leaves it alone."""
    first = [subprocess.Popen([BIN, "serve", "--pack", str(folder / "north"), "--data", str(folder / "data"), "--port", "0",
                               "--json", "--quiet"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
             for _ in range(2)]
    lines = [process.stdout.readline() for process in first]
    tally.equal("of two servers one starts", sum(bool(line) for line in lines), 1)
    for process, line in zip(first, lines):
        if line:
            client = Client(int(json.loads(line)["address"].rsplit(":", 1)[1].strip("/")))
            own_record(client)
            tally.equal("and it serves", client.want("GET", "/api/pieces?limit=0")["total"], 1)
            process.kill()
            process.wait(START_SECONDS)
        else:
            tally.check("the other is refused in one line", process.wait(START_SECONDS) == 1 and
                        len(process.stderr.read().splitlines()) == 1, process.returncode)
        process.stdout.close()
        process.stderr.close()


def check_on_database(tally, folder, times, rng, picture):
    cluster = Cluster()
    try:
        check_killing(tally, Home(folder, cluster), times, rng, picture)
    finally:
        cluster.stop()


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--times", type=int, default=30)
    options.add_argument("--only", choices=["sqlite", "postgresql"])
    options.add_argument("--seed", type=int, default=None)
    asked = options.parse_args()
    seed = asked.seed if asked.seed is not None else int.from_bytes(os.urandom(4), "big")
    tally = Tally()
    picture = min((ROOT / "demo/cupboard/photos").glob("**/*.jpg"), key=lambda file: file.stat().st_size).read_bytes()
    for store, check in (
            ("sqlite", lambda at: check_killing(tally, Home(at), asked.times, random.Random(seed), picture)),
            ("sqlite", lambda at: check_full_disk(tally, Home(at), picture)),
            ("sqlite", lambda at: check_read_only(tally, Home(at), picture)),
            ("sqlite", lambda at: check_two_at_once(tally, at)),
            ("postgresql", lambda at: check_on_database(tally, at, asked.times, random.Random(seed), picture))):
        if asked.only in (None, store):
            with tempfile.TemporaryDirectory() as folder:
                write_pack(Path(folder) / "north", NORTH)
                check(Path(folder))
    if tally.failed:
        print(f"the seed of this run is {seed}")
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
