#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""An archive read by several hosts: three hosts, each with a reader, reach a database and a store of objects over a network.
In the middle one host is cut off and the reader of another is killed; every photograph is read all the same, and has one
result. Prints `N passed, N failed`.

    tests/hosts.py                 24 photographs
    tests/hosts.py --photographs N
    tests/hosts.py --lines         without network namespaces

The hosts are network namespaces where this machine lets us make some (root, and a kernel that allows it); packets of the
one that is cut off vanish without a word. Elsewhere, and with --lines, each host is a process that reaches the others
through lines of its own, which are torn."""
import argparse
import json
import os
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from hashlib import sha256
from pathlib import Path

sys.dont_write_bytecode = True
HERE = Path(__file__).resolve().parent
ROOT = HERE.parent
sys.path[:0] = [str(HERE), str(HERE / "cli")]
from cluster import Cluster  # noqa: E402
from kill import Client  # noqa: E402
from small_packs import NORTH, write_pack  # noqa: E402
from tally import Tally  # noqa: E402

BIN = os.environ.get("FOOTRING_BIN", str(ROOT / "build/test/bin/footring"))
PATIENCE = 600  # seconds, on a machine that is busy with other things
LEASE = 5
KEY, SECRET = "footring-test", "a secret that is none"


def ip(*words):
    subprocess.run(["ip", *words], check=True, capture_output=True)


class Network:
    """A bridge with one address, and hosts on it; all of it goes with us."""

    def __init__(self, hosts):
        self.tag = f"fr{os.getpid() % 100000}"
        net = 1 + os.getpid() % 250
        self.address = f"10.77.{net}.1"
        self.hosts = []
        try:
            self._build(hosts, net)
        except BaseException:
            self.close()
            raise

    def _build(self, hosts, net):
        ip("link", "add", self.tag, "type", "bridge")
        ip("addr", "add", f"{self.address}/24", "dev", self.tag)
        ip("link", "set", self.tag, "up")
        for number in range(1, hosts + 1):
            name = f"{self.tag}-{number}"
            ip("netns", "add", name)
            self.hosts.append(name)
            ip("link", "add", self.wire(number), "type", "veth", "peer", "name", "eth0", "netns", name)
            ip("link", "set", self.wire(number), "master", self.tag, "up")
            ip("-n", name, "addr", "add", f"10.77.{net}.{number + 1}/24", "dev", "eth0")
            ip("-n", name, "link", "set", "eth0", "up")
            ip("-n", name, "link", "set", "lo", "up")

    def wire(self, number):
        return f"{self.tag}w{number}"

    def cut(self, number):
        ip("link", "set", self.wire(number), "down")

    def mend(self, number):
        ip("link", "set", self.wire(number), "up")

    def way_to(self, _host, port):
        return f"{self.address}:{port}"

    def command(self, host):
        return ["ip", "netns", "exec", host]

    def close(self):
        for name in self.hosts:
            subprocess.run(["ip", "netns", "del", name], capture_output=True)
        subprocess.run(["ip", "link", "del", self.tag], capture_output=True)


class Line:
    """From a port of its own to one of this machine, until it is torn; mended, it is at the same port again."""

    def __init__(self, port):
        self.target, self.ends, self.lock = port, [], threading.Lock()
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = self.listener.getsockname()[1]
        threading.Thread(target=self._take, args=[self.listener], daemon=True).start()

    def _take(self, listener):
        while True:
            try:
                near, _ = listener.accept()
                far = socket.create_connection(("127.0.0.1", self.target))
            except OSError:
                return
            with self.lock:
                if listener is not self.listener:  # torn meanwhile
                    near.close()
                    far.close()
                    return
                self.ends += [near, far]
            for one, other in ((near, far), (far, near)):
                threading.Thread(target=self._carry, args=[one, other], daemon=True).start()

    @staticmethod
    def _carry(one, other):
        try:
            while data := one.recv(1 << 16):
                other.sendall(data)
            other.shutdown(socket.SHUT_WR)
        except OSError:
            pass

    def tear(self):
        with self.lock:
            listener, self.listener = self.listener, None
            listener.shutdown(socket.SHUT_RDWR)  # wakes whoever waits for the next one
            listener.close()
            for end in self.ends:
                try:
                    end.shutdown(socket.SHUT_RDWR)
                except OSError:
                    pass
                end.close()
            self.ends = []

    def mend(self):
        self.listener = socket.create_server(("127.0.0.1", self.port))
        threading.Thread(target=self._take, args=[self.listener], daemon=True).start()


class Lines:
    """Hosts that are processes of this machine, each with lines of its own to what it needs."""

    address = "127.0.0.1"

    def __init__(self, hosts):
        self.hosts = [f"host-{number}" for number in range(1, hosts + 1)]
        self.lines = {name: {} for name in self.hosts}

    def way_to(self, host, port):
        if host is None:
            return f"127.0.0.1:{port}"
        line = self.lines[host].setdefault(port, None) or Line(port)
        self.lines[host][port] = line
        return f"127.0.0.1:{line.port}"

    def command(self, _host):
        return []

    def cut(self, number):
        for line in self.lines[self.hosts[number - 1]].values():
            line.tear()

    def mend(self, number):
        for line in self.lines[self.hosts[number - 1]].values():
            line.mend()

    def close(self):
        pass


def network_of(hosts, lines):
    if not lines and os.geteuid() == 0:
        try:
            return Network(hosts)
        except (OSError, subprocess.CalledProcessError):
            pass  # not allowed here, as in many containers
    return Lines(hosts)


class Reader:
    """A reader on a host, and what it says it did."""

    def __init__(self, network, host, words, environment):
        self.said = []
        self.process = subprocess.Popen(
            [*network.command(host), BIN, "reader", *words, "--until-empty", "--lease", str(LEASE), "--name", host,
             "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment)
        self.hearing = threading.Thread(target=self._hear, daemon=True)
        self.hearing.start()

    def _hear(self):
        for line in self.process.stdout:
            self.said.append(json.loads(line))

    def end(self):
        self.process.wait(PATIENCE)
        self.hearing.join()
        return self.process.stderr.read()


def store_photographs(home, words, environment, many):
    """Their names; stored as a person does, over HTTP."""
    picture = min((ROOT / "demo/cupboard/photos").glob("**/*.jpg"), key=lambda file: file.stat().st_size).read_bytes()
    process = subprocess.Popen([BIN, "serve", *words, "--data", str(home / "server"), "--port", "0", "--json", "--quiet"],
                               stdout=subprocess.PIPE, text=True, env=environment)
    try:
        client = Client(int(json.loads(process.stdout.readline())["address"].rsplit(":", 1)[1].strip("/")))
        piece = client.want("POST", "/api/pieces", {"piece": {"form": "dish", "looks": []}})["piece"]["id"]
        names = set()
        for number in range(many):
            comment = f"photograph {number}".encode()
            one = picture[:2] + b"\xff\xfe" + (len(comment) + 2).to_bytes(2, "big") + comment + picture[2:]
            client.want("POST", f"/api/pieces/{piece}/photos", one, "image/jpeg")
            names.add(sha256(one).hexdigest())
        return names
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait()


def wait_for(what):
    until = time.monotonic() + PATIENCE
    while not what() and time.monotonic() < until:
        time.sleep(0.05)
    return what()


def check(tally, home, network, many):
    port = 20000 + os.getpid() % 20000
    cluster = Cluster(listen=network.address, port=port)
    objects = subprocess.Popen([str(HERE / "objects.py"), "--bucket", "archive", "--key", KEY, "--secret", SECRET,
                                "--host", network.address], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    try:
        endpoint = objects.stdout.readline().strip()
        cluster.new_database("archive")
        objects_port = int(endpoint.rsplit(":", 1)[1].strip("/"))

        def words_on(host):
            return ["--store", f"postgresql://footring@{network.way_to(host, port)}/archive", "--photos",
                    f"s3://archive/plates?endpoint=http://{network.way_to(host, objects_port)}", "--pack", str(home / "north")]
        words = words_on(None)
        environment = {**os.environ, "AWS_ACCESS_KEY_ID": KEY, "AWS_SECRET_ACCESS_KEY": SECRET,
                       "XDG_DATA_HOME": str(home), "OMP_NUM_THREADS": "1"}
        names = store_photographs(home, words, environment, many)
        tally.equal("the photographs are stored", len(names), many)
        filled = subprocess.run([BIN, "reader", *words, "--fill", "--look", "--json"], capture_output=True, text=True,
                                env=environment)
        tally.equal("all of them wait", json.loads(filled.stdout)["waiting"] if filled.returncode == 0 else filled, many)
        # Every result that is ever kept is written down by the database itself.
        cluster.sql("CREATE TABLE kept_result (sha256 TEXT); CREATE FUNCTION note() RETURNS trigger LANGUAGE plpgsql AS "
                    "$$ BEGIN INSERT INTO kept_result VALUES (NEW.sha256); RETURN NEW; END $$; CREATE TRIGGER note AFTER "
                    "INSERT OR UPDATE ON reading FOR EACH ROW EXECUTE FUNCTION note()", "archive")
        readers = [Reader(network, host, words_on(host), environment) for host in network.hosts]
        tally.check("every host reads", wait_for(lambda: all(reader.said for reader in readers)),
                    [reader.said for reader in readers])
        network.cut(2)
        readers[2].process.kill()
        third = network.hosts[2]
        readers.append(Reader(network, third, words_on(third), environment))  # another one takes its place there
        tally.equal("the others end when nothing is left", [readers[0].end(), readers[3].end()], ["", ""])
        tally.equal("their work is whole while one host is cut off",
                    cluster.sql("SELECT COUNT(*) FROM reading", "archive"), str(many))
        network.mend(2)
        tally.equal("the one that was cut off ends too, when it is back", readers[1].end(), "")
        kept = Counter(cluster.sql("SELECT sha256 FROM kept_result", "archive").split("\n"))
        tally.equal("every photograph has a result", set(kept), names)
        tally.equal("and one only", [name for name, times in kept.items() if times != 1], [])
        said = Counter(line["sha256"] for reader in readers for line in reader.said if line["how"] == "read")
        tally.equal("no two readers say that they read the same", [name for name, times in said.items() if times > 1], [])
        # Whoever was killed may have kept one result that it had no time to tell of.
        tally.check("what they say is what was kept", set(said) <= names and len(names - set(said)) <= 1, said)
        left = subprocess.run([BIN, "reader", *words, "--look", "--json"], capture_output=True, text=True, env=environment)
        tally.equal("nothing waits, nothing is dead", {name: json.loads(left.stdout)[name] for name in
                                                      ("waiting", "leased", "dead")}, {"waiting": 0, "leased": 0, "dead": []})
    finally:
        objects.stdin.close()
        objects.wait()
        cluster.stop()


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--photographs", type=int, default=24)
    options.add_argument("--lines", action="store_true")
    asked = options.parse_args()
    tally = Tally()
    network = network_of(3, asked.lines)
    print(f"three hosts: {'processes with lines of their own' if isinstance(network, Lines) else 'network namespaces'}")
    try:
        with tempfile.TemporaryDirectory() as folder:
            write_pack(Path(folder) / "north", NORTH)
            check(tally, Path(folder), network, asked.photographs)
    finally:
        network.close()
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
