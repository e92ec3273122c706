#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""What the sources promise about themselves: rooms face one way, files stay short, every file names its licence.

Reads the order of the rooms from src/CMakeLists.txt and what each may use from src/ROOM/CMakeLists.txt, so that
neither is written down twice.
"""
import re
import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
from tally import Tally  # noqa: E402

ROOT = Path(__file__).resolve().parent.parent
MOST_LINES = 600
CODE = {".cpp", ".h", ".py", ".sh", ".js", ".mjs", ".ts", ".svelte", ".css"}
SCRIPTS = {"run", "test", ".ci/run", "fuzz/run"}
# Libraries that one room alone, or two, may include, so that they stay replaceable.
OWNERS = {
    "photo": re.compile(r"opencv2?/|exiv2/|tesseract/|libheif/|lcms2|hnswlib/"),
    "papers": re.compile(r"pango/|hyphen\.h|qrencode\.h"),
    "services": re.compile(r"coin/|Cbc|Clp|Cgl|Osi"),
    "store": re.compile(r"soci/|sqlite3\.h|libpq-fe\.h"),
    "server store": re.compile(r"httplib\.h"),
    "cli": re.compile(r"CLI/"),
}


def files():
    listed = subprocess.run(["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
                            cwd=ROOT, capture_output=True, text=True)
    if listed.returncode == 0:
        names = [n for n in listed.stdout.split("\0") if n]
    else:  # an archive without git
        names = [str(p.relative_to(ROOT)) for p in ROOT.rglob("*") if p.is_file()]
        names = [n for n in names if not re.search(r"(^|/)(build|node_modules|dist)/", n)]
    return sorted(n for n in names if (ROOT / n).is_file())


def is_code(name):
    return Path(name).suffix in CODE or name in SCRIPTS


def room_order():
    text = (ROOT / "src/CMakeLists.txt").read_text()
    return re.search(r"set\(FOOTRING_ROOMS\s+([^)]*)\)", text).group(1).split()


def rooms_used(room):
    """The rooms named after USES, and those that they use in turn."""
    text = (ROOT / "src" / room / "CMakeLists.txt").read_text()
    call = re.search(rf"\broom\(\s*{room}\b([^)]*)\)", text)
    words = call.group(1).split() if call else []
    direct = []
    if "USES" in words:
        for word in words[words.index("USES") + 1:]:
            if word == "LINK":
                break
            direct.append(word)
    found = set(direct)
    for used in direct:
        if (ROOT / "src" / used / "CMakeLists.txt").exists():
            found |= rooms_used(used)
    return found


def includes(text):
    return [(n, m.group(1)) for n, line in enumerate(text.splitlines(), 1)
            if (m := re.match(r'\s*#\s*include\s*["<]([^">]+)[">]', line))]


def check_rooms(tally, names, text_of):
    order = room_order()
    present = [room for room in order if (ROOT / "src" / room / "CMakeLists.txt").exists()]
    folders = {n.split("/")[1] for n in names if n.startswith("src/") and n.count("/") >= 2}
    tally.check("every folder in src/ is a room of src/CMakeLists.txt", folders <= set(order),
                f"not listed: {', '.join(sorted(folders - set(order)))}")
    for room in present:
        above = order[:order.index(room)]
        used = rooms_used(room)
        tally.check(f"room {room} uses only rooms above it", used <= set(above),
                    f"USES names {', '.join(sorted(used - set(above)))}; the rooms above are {', '.join(above)}")
        wrong, unnamed, foreign = [], [], []
        for name in names:
            if not name.startswith(f"src/{room}/") or Path(name).suffix not in {".h", ".cpp"}:
                continue
            for number, header in includes(text_of(name)):
                at = f"{name}:{number}: {header}"
                other = header.split("/")[0]
                if other in order and other != room:
                    if other not in above:
                        wrong.append(at)
                    elif other not in used:
                        unnamed.append(at)
                foreign += [f"{at} (belongs to {owner})" for owner, library in OWNERS.items()
                            if room not in owner.split() and library.match(header)]
        tally.check(f"room {room} includes only rooms above it", not wrong, "\n".join(wrong))
        tally.check(f"room {room} includes only rooms that its CMakeLists.txt names", not unnamed, "\n".join(unnamed))
        tally.check(f"room {room} leaves other rooms' libraries alone", not foreign, "\n".join(foreign))


def check_lengths(tally, names, text_of):
    excused = {}
    for number, line in enumerate(text_of("tests/long_files.txt").splitlines(), 1):
        if line.strip() and not line.startswith("#"):
            name, _, reason = line.partition("  ")
            excused[name] = reason.strip()
            tally.check(f"tests/long_files.txt:{number} gives a reason", len(reason.split()) >= 4, line)
    long = {n: text_of(n).count("\n") for n in names if is_code(n)}
    long = {n: lines for n, lines in long.items() if lines > MOST_LINES}
    tally.check(f"no file is over {MOST_LINES} lines without a reason in tests/long_files.txt",
                long.keys() <= excused.keys(),
                "\n".join(f"{n}: {lines} lines" for n, lines in long.items() if n not in excused))
    tally.check("tests/long_files.txt lists only files that are long", excused.keys() <= long.keys(),
                "\n".join(sorted(excused.keys() - long.keys())))


def check_licences(tally, names, text_of):
    wanted = "SPDX-License-Identifier: Apache-2.0"
    # In a header the line stands below the contract, which a reader needs first.
    bare = [n for n in names if is_code(n) and wanted not in text_of(n)[:4000]]
    tally.check("every source file names its licence", not bare, "\n".join(bare))
    unguarded = [n for n in names if n.endswith(".h") and "#pragma once" not in text_of(n)]
    tally.check("every header is guarded", not unguarded, "\n".join(unguarded))
    silent = [n for n in names if re.match(r"src/.*\.h$", n) and not text_of(n).startswith(f"// {n[4:]} - ")]
    tally.check("every header opens with its name and its contract", not silent, "\n".join(silent))


def check_layout(tally, names):
    sources = [n for n in names if Path(n).suffix in {".cpp", ".h"}]
    run = subprocess.run(["clang-format-14", "--dry-run", "-Werror", *sources], cwd=ROOT, capture_output=True, text=True)
    first = "\n".join(line for line in run.stderr.splitlines() if "error:" in line)
    tally.check("every C++ file is laid out as .clang-format says (clang-format-14 -i FILE mends it)",
                run.returncode == 0, first[:4000])


def main():
    names = files()
    texts = {}

    def text_of(name):
        if name not in texts:
            texts[name] = (ROOT / name).read_text(encoding="utf-8", errors="replace")
        return texts[name]

    tally = Tally()
    tally.check("there are sources to check", sum(n.endswith(".cpp") for n in names) > 5, ROOT)
    check_rooms(tally, names, text_of)
    check_lengths(tally, names, text_of)
    check_licences(tally, names, text_of)
    check_layout(tally, names)
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
