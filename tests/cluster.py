#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""A throw-away PostgreSQL server for tests: its files in a new folder, reached through a socket there and from nowhere
else. Prints one line, the address of its first database, and ends, leaving nothing, when its standard input is closed:
so it goes with whoever started it, however that one ended.

    tests/cluster.py              prints postgresql://footring@/postgres?host=...
    tests/cluster.py --listen IP  listens on that address of this machine besides
    tests/cluster.py --databases 3  holds the empty databases scratch_1 to scratch_3 besides

PostgreSQL refuses to run as root; started by root, it runs as the user `postgres` of its package."""
import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

PROGRAMS = Path("/usr/lib/postgresql/15/bin")
# Nothing of it has to survive the power: what is tested is the program, not the disk.
FAST = ["fsync=off", "full_page_writes=off", "autovacuum_naptime=5s", "max_connections=200", "shared_buffers=128MB",
        "log_min_messages=fatal", "logging_collector=off"]


class Cluster:
    """Runs from here to stop()."""

    def __init__(self, listen="", port=5432, settings=()):
        if not (PROGRAMS / "postgres").exists():
            raise RuntimeError(f"{PROGRAMS} holds no PostgreSQL: install the package postgresql, as ./test does")
        self.folder = Path(tempfile.mkdtemp(prefix="footring-pg-"))
        self.as_user = []
        if os.geteuid() == 0:
            shutil.chown(self.folder, "postgres", "postgres")
            self.as_user = ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"]
        # Others reach the socket, and only that: the folder of the data lets nobody else in by itself.
        self.folder.chmod(0o755)
        self._run("initdb", "-D", self.folder / "data", "-U", "footring", "-A", "trust", "-E", "UTF8", "--locale=C",
                  "--no-sync", "--no-instructions")
        if listen:
            with open(self.folder / "data/pg_hba.conf", "a") as rules:
                rules.write("host all all samenet trust\n")
        self.port = port
        self.log = open(self.folder / "log", "w")
        command = [*self.as_user, PROGRAMS / "postgres", "-D", self.folder / "data", "-k", self.folder,
                   "-p", str(port), "-c", f"listen_addresses={listen}"]
        for setting in [*FAST, *settings]:
            command += ["-c", setting]
        # Its own group: Ctrl+C in a terminal reaches us, and we stop it in order.
        self.server = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=self.log, stderr=self.log,
                                       cwd=self.folder, process_group=0)
        self._wait()

    def _run(self, program, *words):
        done = subprocess.run([*self.as_user, PROGRAMS / program, *words], capture_output=True, text=True,
                              cwd=self.folder)
        if done.returncode != 0:
            shutil.rmtree(self.folder, ignore_errors=True)
            raise RuntimeError(f"{program}: {done.stderr}")

    def _wait(self):
        until = time.monotonic() + 60
        while subprocess.run([PROGRAMS / "pg_isready", "-q", "-h", self.folder, "-p", str(self.port)], cwd=self.folder).returncode != 0:
            if self.server.poll() is not None or time.monotonic() > until:
                said = (self.folder / "log").read_text()
                self.stop()
                raise RuntimeError(f"PostgreSQL does not start: {said}")
            time.sleep(0.02)

    def address(self, database="postgres"):
        port = "" if self.port == 5432 else f"&port={self.port}"
        return f"postgresql://footring@/{database}?host={self.folder}{port}"

    def sql(self, text, database="postgres"):
        """The rows as text, a line a row, columns apart by '|'."""
        done = subprocess.run([PROGRAMS / "psql", "-X", "-q", "-A", "-t", "-v", "ON_ERROR_STOP=1", "-h", self.folder,
                               "-p", str(self.port), "-U", "footring", "-d", database, "-c", text], capture_output=True, text=True)
        if done.returncode != 0:
            raise RuntimeError(done.stderr)
        return done.stdout.strip()

    def new_database(self, name):
        self.sql(f'CREATE DATABASE "{name}"')
        return self.address(name)

    def stop(self):
        if self.server.poll() is None:
            self.server.send_signal(2)  # SIGINT: ends open sessions
            try:
                self.server.wait(20)
            except subprocess.TimeoutExpired:
                self.server.kill()
                self.server.wait()
        self.log.close()
        shutil.rmtree(self.folder, ignore_errors=True)


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--listen", default="")
    options.add_argument("--databases", type=int, default=0)
    asked = options.parse_args()
    cluster = Cluster(asked.listen)
    try:
        for number in range(1, asked.databases + 1):
            cluster.new_database(f"scratch_{number}")
        print(cluster.address(), flush=True)
        while sys.stdin.buffer.read(4096):
            pass
    except KeyboardInterrupt:
        pass
    finally:
        cluster.stop()


if __name__ == "__main__":
    try:
        main()
    except RuntimeError as fault:
        sys.exit(f"cluster: {fault}")
