#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""What the documentation promises is what the program does.

    tests/docs.py           compares (environment: FOOTRING_BIN, the built program)
    tests/docs.py --write   makes docs/settings.md, docs/footring.1 and the output of the examples anew

An example is a block ```console in README.md or docs/*.md: `$ command` and what it prints, standard error included.
A line `...` stands for any lines; `[exit 2]` as the last line says that the command ends so. Examples run in a folder
of their own that has packs/ and demo/ in it; commands of one page see each other's files.
"""
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
from tally import Tally  # noqa: E402

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(os.environ.get("FOOTRING_BIN", ROOT / "build/test/bin/footring"))


def footring(*words):
    run = subprocess.run([BIN, *words], capture_output=True, text=True, timeout=60)
    assert run.returncode == 0, f"footring {' '.join(words)}: {run.stderr}"
    return run.stdout


def pages():
    return [p for p in [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))] if p.exists()]


def example_environment(folder):
    for name in ("packs", "demo", "docs", "tests"):
        if (ROOT / name).exists():
            (folder / name).symlink_to(ROOT / name)
    kept = {"HOME": str(folder), "XDG_DATA_HOME": str(folder / "share"), "COLUMNS": "80", "NO_COLOR": "1",
            "LC_ALL": "C.UTF-8", "TZ": "UTC", "PATH": f"{BIN.parent}:/usr/bin:/bin"}
    for name in ("FOOTRING_UI_DIST", "ASAN_OPTIONS"):
        if name in os.environ:
            kept[name] = os.environ[name]
    return kept


def run_example(command, folder, environment):
    run = subprocess.run(["bash", "-c", command], cwd=folder, env=environment, text=True, timeout=120,
                         stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    printed = run.stdout.splitlines()
    if run.returncode != 0:
        printed.append(f"[exit {run.returncode}]")
    return printed


def matches(expected, printed):
    """Line by line; `...` is any run of lines."""
    pattern = "".join(r"(?:.*\n)*" if line.strip() == "..." else re.escape(line) + r"\n" for line in expected)
    return re.fullmatch(pattern, "".join(line + "\n" for line in printed)) is not None


def blocks(text):
    """(start of the body, body) of each ```console block."""
    return [(m.start(1), m.group(1)) for m in re.finditer(r"^```console\n(.*?)^```", text, re.M | re.S)]


def steps(body):
    """[(command, [expected line])]; a command goes on after a backslash at the end of its line."""
    found = []
    lines = iter(body.splitlines())
    for line in lines:
        if line.startswith("$ "):
            command = line[2:]
            while command.endswith("\\"):
                command = command[:-1] + next(lines).strip().removeprefix("> ")
            found.append((command, line, []))
        elif found:
            found[-1][2].append(line)
    return found


def check_examples(tally):
    total = 0
    for page in pages():
        with tempfile.TemporaryDirectory() as scratch:
            folder = Path(scratch)
            environment = example_environment(folder)
            for _, body in blocks(page.read_text()):
                for command, _, expected in steps(body):
                    total += 1
                    printed = run_example(command, folder, environment)
                    tally.check(f"{page.relative_to(ROOT)}: $ {command}", matches(expected, printed),
                                "expected\n" + "\n".join(expected) + "\nprinted\n" + "\n".join(printed))
    tally.check("the documentation has examples", total >= 10, f"only {total} commands in console blocks")


def write_examples():
    for page in pages():
        text = page.read_text()
        with tempfile.TemporaryDirectory() as scratch:
            folder = Path(scratch)
            environment = example_environment(folder)
            for _, body in blocks(text):
                made = ""
                for command, line, expected in steps(body):
                    printed = run_example(command, folder, environment)
                    kept = expected if any(e.strip() == "..." for e in expected) and matches(expected, printed) else printed
                    shown = re.search(r"^" + re.escape(line) + r"(?:\n(?:> |  ).*)*", body, re.M).group(0) \
                        if line.endswith("\\") else line
                    made += "\n".join([shown, *kept]) + "\n"
                text = text.replace(f"```console\n{body}```", f"```console\n{made}```")
        page.write_text(text)


def check_commands(tally):
    page = (ROOT / "docs/commands.md").read_text()
    common = set(re.findall(r"--[a-z-]+", page[:page.index("\n## ")]))  # what all commands have in common
    sections = dict(re.findall(r"^## ([a-z]+)\n(.*?)(?=^## |\Z)", page, re.M | re.S))
    listed = re.findall(r"^  ([a-z]+)  ", footring("--help").split("Commands:\n")[1], re.M)
    tally.check("the program lists its commands", len(listed) >= 12, listed)
    for command in listed:
        if not tally.check(f"docs/commands.md has a heading for {command}", command in sections):
            continue
        options = set(re.findall(r"^  (--[a-z-]+)", footring(command, "--help"), re.M)) - {"--json"}
        told = common | set(re.findall(r"--[a-z-]+", sections[command]))
        tally.check(f"docs/commands.md tells of every option of {command}", options <= told,
                    ", ".join(sorted(options - told)))
    unknown = sorted(set(sections) - set(listed))
    tally.check("docs/commands.md has no heading for what is no command", not unknown, unknown)


def check_links(tally):
    broken = []
    for page in pages():
        text = re.sub(r"^```.*?^```", "", page.read_text(), flags=re.M | re.S)
        for target in re.findall(r"\]\(([^)#:\s]+)(?:#[^)]*)?\)", text):
            if not (page.parent / target).exists():
                broken.append(f"{page.relative_to(ROOT)}: {target}")
    tally.check("links between pages lead somewhere", not broken, "\n".join(broken))


def check_threats(tally):
    """Every line of the threat model names a test: `file: name`, and the file has a test of that name."""
    rows = re.findall(r"^\| (?!threat|---)(.*) \| (.*) \| (.*) \|$", (ROOT / "docs/security.md").read_text(), re.M)
    tally.check("the threat model has its lines", len(rows) > 40, len(rows))
    for threat, _, named in rows:
        found = re.fullmatch(r"`(\S+): (.+)`", named)
        if not tally.check(f"threat names a test: {threat}", found is not None, named):
            continue
        path, name = ROOT / found[1], found[2]
        text = path.read_text() if path.exists() else ""
        ways = {".cpp": rf"^TEST(_F|_P)?\([A-Za-z]+,\s*{re.escape(name)}\)", ".py": rf"^def {re.escape(name)}\(",
                ".mjs": rf"^test\('{re.escape(name)}'"}
        tally.check(f"there is a test {found[1]}: {name}", re.search(ways[path.suffix], text, re.M) is not None)


def main():
    settings, manual = ROOT / "docs/settings.md", ROOT / "docs/footring.1"
    if sys.argv[1:] == ["--write"]:
        settings.write_text(footring("settings", "--markdown"))
        manual.write_text(footring("manual"))
        write_examples()
        return 0
    tally = Tally()
    tally.equal("docs/settings.md is what the program prints", settings.read_text(), footring("settings", "--markdown"))
    tally.equal("docs/footring.1 is what the program prints", manual.read_text(), footring("manual"))
    check_commands(tally)
    check_links(tally)
    check_threats(tally)
    check_examples(tally)
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
