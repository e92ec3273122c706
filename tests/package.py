#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""The Debian package and its unit, made from the test build: what is in it, that it runs from where it is unpacked, and
that making it twice makes the same bytes.

    tests/package.py             environment: FOOTRING_BIN, the built program; its folder has a CPackConfig.cmake
    FOOTRING_CLEAN_ROOT=1        besides, as root: installs it into a new Debian 12 root (debootstrap) and runs it there
"""
import hashlib
import json
import os
import re
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
from tally import Tally  # noqa: E402

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(os.environ.get("FOOTRING_BIN", ROOT / "build/test/bin/footring")).resolve()
BUILD = BIN.parent.parent
SUITE = "bookworm"
MIRROR = os.environ.get("FOOTRING_MIRROR", "http://deb.debian.org/debian")


def run(*words, **how):
    return subprocess.run([str(word) for word in words], capture_output=True, text=True, timeout=1500, **how)


def make(folder):
    made = run("cpack", "-G", "DEB", "--config", BUILD / "CPackConfig.cmake", "-B", folder, cwd=folder,
               env={**os.environ, "SOURCE_DATE_EPOCH": "1772357400"})
    files = list(Path(folder).glob("*.deb"))
    return (files[0], "") if len(files) == 1 else (None, made.stdout + made.stderr)


def served(command, tally, name, **how):
    """Starts `serve --demo --json` with this command before it, and asks for the pieces."""
    process = subprocess.Popen([*map(str, command), "serve", "--demo", "--port", "0", "--json", "--quiet"],
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **how)
    try:
        line = process.stdout.readline()
        if not tally.check(f"{name}: it serves", line.startswith("{"), line + (process.stderr.read() if process.poll() else "")):
            return
        address = json.loads(line)["address"]
        with urllib.request.urlopen(address + "api/health", timeout=30) as answer:
            tally.check(f"{name}: it has the demo", json.loads(answer.read())["pieces"] > 100)
        with urllib.request.urlopen(address, timeout=30) as answer:
            tally.check(f"{name}: it has its web app", b'id="app"' in answer.read())
    finally:
        process.terminate()
        process.wait(30)


def check_contents(deb, tally):
    listed = run("dpkg-deb", "--contents", deb).stdout
    for path in ["usr/bin/footring", "usr/bin/footring-darkroom", "usr/share/footring/packs/ambrel-valley/datapackage.json",
                 "usr/share/footring/packs/law-and-marks/datapackage.json", "usr/share/footring/demo/cupboard/pieces/p-0041.json",
                 "usr/share/footring/ui/dist/index.html", "usr/share/man/man1/footring.1", "usr/lib/systemd/system/footring.service",
                 "etc/default/footring", "usr/share/doc/footring/copyright"]:
        tally.check(f"the package has {path}", re.search(rf" \./{re.escape(path)}$", listed, re.M) is not None)
    owners = {line.split()[1] for line in listed.splitlines()}
    tally.equal("everything in it is root's", owners, {"root/root"})
    tally.check("nothing in it can be written by others", not re.search(r"^.{8}w", listed, re.M))
    fields = dict(line.split(": ", 1) for line in run("dpkg-deb", "--field", deb).stdout.splitlines() if ": " in line)
    tally.equal("its name", fields["Package"], "footring")
    for library in ["libc6", "libssl3", "libsodium23", "libsqlite3-0", "tesseract-ocr-eng", "fonts-ebgaramond"]:
        tally.check(f"it depends on {library}", library in fields["Depends"], fields["Depends"])
    tally.check("it depends on nothing that is for building", "-dev" not in fields["Depends"], fields["Depends"])


def check_unit(tally):
    unit = ROOT / "packaging/footring.service"
    with tempfile.TemporaryDirectory() as folder:
        # The programs that it names need not be installed here.
        copy = Path(folder) / "footring.service"
        copy.write_text(unit.read_text().replace("/usr/bin/footring", "/bin/true"))
        verified = run("systemd-analyze", "verify", "--man=no", copy)
        mine = [line for line in verified.stderr.splitlines() if "footring" in line]
        tally.check("systemd understands every line of the unit", not mine and verified.returncode == 0, verified.stderr)
        judged = run("systemd-analyze", "security", "--offline=yes", "--threshold=20", copy)
        tally.check("systemd calls it little exposed (at most 2.0 of 10)", judged.returncode == 0, judged.stdout[-400:])


def check_unpacked(deb, tally, folder):
    root = Path(folder) / "root"
    run("dpkg-deb", "--extract", deb, root)
    program = root / "usr/bin/footring"
    env = {"HOME": str(folder), "PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8"}
    tally.equal("unpacked, it says its version", run(program, "version", env=env).returncode, 0)
    served([program], tally, "unpacked", env=env, cwd=folder)


def check_clean_root(deb, tally):
    """A root that never saw the source, with apt alone to bring what the package depends on."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "root"
        made = run("debootstrap", "--variant=minbase", SUITE, root, MIRROR)
        if not tally.check("there is a clean root", made.returncode == 0, made.stdout[-2000:] + made.stderr[-2000:]):
            return
        (root / deb.name).write_bytes(deb.read_bytes())
        inside = ["chroot", root, "/usr/bin/env", "DEBIAN_FRONTEND=noninteractive", "PATH=/usr/sbin:/usr/bin:/sbin:/bin", "HOME=/root"]
        installed = run(*inside, "sh", "-c", f"apt-get update && apt-get install -y --no-install-recommends ./{deb.name}")
        if not tally.check("it installs there", installed.returncode == 0, installed.stdout[-2000:] + installed.stderr[-2000:]):
            return
        run("mount", "-t", "proc", "proc", root / "proc")
        try:
            served([*inside, "footring"], tally, "in a clean root")
            read = run(*inside, "footring", "examine", "--pack", "/usr/share/footring/packs/ambrel-valley",
                       "/usr/share/footring/demo/cupboard/pieces/p-0041.json", "--json")
            tally.check("in a clean root: it examines a piece", read.returncode == 0 and '"candidates"' in read.stdout, read.stderr)
            added = run(*inside, "footring", "account", "add", "ada", "--role", "keeper", "--data", "/var/lib/footring",
                        input="twelve blue saucers\n")
            tally.equal("in a clean root: a keeper", added.stdout, "ada is now a keeper\n")
            removed = run(*inside, "apt-get", "remove", "-y", "footring")
            tally.check("it goes, and what one has stays", removed.returncode == 0 and (root / "var/lib/footring/footring.db").exists())
        finally:
            time.sleep(1)
            run("umount", root / "proc")


def main():
    tally = Tally()
    check_unit(tally)
    with tempfile.TemporaryDirectory() as folder:
        first, fault = make(tempfile.mkdtemp(dir=folder))
        if tally.check("the package can be made", first is not None, fault[-2000:]):
            check_contents(first, tally)
            check_unpacked(first, tally, folder)
            second, _ = make(tempfile.mkdtemp(dir=folder))
            tally.equal("made twice it is the same, byte by byte", *(hashlib.sha256(one.read_bytes()).hexdigest() for one in (second, first)))
            if os.environ.get("FOOTRING_CLEAN_ROOT"):
                check_clean_root(first, tally)
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
