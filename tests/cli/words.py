# SPDX-License-Identifier: Apache-2.0
"""The command line itself: help, wrong words, settings, man page, completions."""
import os
import pty
import subprocess

from program import BIN, ROOT

COMMANDS = ["examine", "date", "apart", "key", "clue", "code", "sequence", "unseen", "assemblage", "leach", "check", "glyph",
            "read", "card", "serve", "import", "export", "settings", "completions", "manual", "version"]


def check(program, tally, golden):
    check_help(program, tally, golden)
    check_wrong_words(program)
    check_settings(program, tally)
    check_terminal(program, tally)
    check_version_and_manual(program, tally)
    check_completions(program, tally)


def check_help(program, tally, golden):
    said = program.answers("help", ["--help"])
    golden.equal("help.txt", said.out)
    for words in (["-h"], ["help"]):
        tally.equal(f"footring {words[0]} is the same help", program.run(*words).out, said.out)
    for command in COMMANDS:
        helped = program.answers(f"help of {command}", [command, "--help"])
        tally.check(f"help of {command} shows how it is used", f"Usage: footring {command}" in helped.out, helped.out)
        tally.check(f"help of {command} fits the page", max(map(len, helped.out.splitlines())) <= 80, helped.out)
        tally.equal(f"footring help {command} is the same", program.run("help", command).out, helped.out)
        tally.check(f"help of {command} tells of --json", "--json" in helped.out, helped.out)
    narrow = program.run("--help", env={"COLUMNS": "50"})
    tally.check("a narrow terminal gets narrow help", max(map(len, narrow.out.splitlines())) <= 50, narrow.out)
    wide = program.run("--help", env={"COLUMNS": "99999999999999999999"})
    tally.equal("an absurd width falls back to 80", wide.out, said.out)
    coloured = program.run("settings", env={"TERM": "xterm-256color"})
    tally.check("no colours when it is no terminal", "\x1b" not in coloured.out, coloured.out[:200])


def check_wrong_words(program):
    r = program.refuses
    r("no command", [], 2, ["footring: no command is given: see `footring --help` for the list"])
    r("unknown command", ["exmine"], 2, ["footring: there is no command 'exmine': did you mean 'examine'?"])
    r("unknown command of help", ["help", "xyz"], 2,
      ["footring: there is no command 'xyz': see `footring --help` for the list"])
    r("option before a command", ["--json"], 2,
      ["footring: '--json' stands before a command: see `footring --help` for the list"])
    r("unknown option", ["version", "--jsn"], 2,
      ["footring version: there is no option '--jsn': did you mean '--json'?"])
    r("short option", ["version", "-j"], 2,
      ["footring version: there is no option '-j': see `footring version --help`"])
    r("missing pack", ["examine", "p.json"], 2, ["footring examine: --pack is missing: add --pack DIR"])
    r("missing everything", ["apart"], 2,
      ["footring apart: --pack is missing: add --pack DIR",
       "footring apart: --form is missing: add --form FORM",
       "footring apart: at least two TREATMENT are needed: see `footring apart --help`"])
    r("missing piece", ["examine", "--pack", "p"], 2,
      ["footring examine: PIECE.json is missing: see `footring examine --help`"])
    r("missing value at the end", ["key", "--pack"], 2, ["--pack: this option needs a value: write --pack DIR"])
    r("empty value", ["key", "--pack="], 2, ["--pack: this option needs a value: write --pack DIR"])
    r("value of a switch", ["version", "--json=1"], 2, ["--json: this option takes no value: write --json alone"])
    r("word too many", ["manual", "x"], 2,
      ["footring manual: 'x' is one word too many: the command takes none: see `footring manual --help`"])
    r("wrong choice", ["export", "--data", "d", "--format", "xml"], 2,
      ["--format: 'xml' is not one of its values: choose one of csv, json, xlsx"])


def check_settings(program, tally):
    said = program.answers("settings", ["settings", "--markdown"])
    tally.equal("docs/settings.md is the program's", said.out, (ROOT / "docs/settings.md").read_text())
    rows = program.answers("settings as JSON", ["settings", "--json", "--set", "sure_guess=0.7"]).json()
    tally.equal("members of a setting", list(rows[0]), ["name", "value", "default", "lowest", "highest", "sentence"])
    guess = next(row for row in rows if row["name"] == "sure_guess")
    tally.equal("a setting set", (guess["value"], guess["default"]), (0.7, 0.6))
    page = program.answers("settings as a page", ["settings"]).out
    for row in rows:
        tally.check(f"setting {row['name']} is on the page", f"{row['name']} = " in page)
        tally.check(f"setting {row['name']} is in the table", f"| `{row['name']}` |" in said.out)
    r = program.refuses
    r("setting without a value", ["settings", "--set", "sure_guess"], 2,
      ["--set: 'sure_guess' has no '=': write --set name=value, as in --set sure_guess=0.5"])
    r("setting out of range", ["settings", "--set", "sure_guess=1.5"], 2,
      ["setting sure_guess: '1.5' is not a number from 0 to 1: give a number in that range (the default is 0.6)"])
    r("setting no number", ["settings", "--set", "sure_guess=nan"], 2,
      ["setting sure_guess: 'nan' is not a number from 0 to 1: give a number in that range (the default is 0.6)"])
    r("setting unknown", ["settings", "--set", "sure_gues=0.5"], 3,
      ["setting sure_gues: there is no setting of this name: did you mean 'sure_guess'?"])
    r("two settings wrong", ["settings", "--set", "a=1", "--set", "loss_none=-1"], 2,
      ["setting a: there is no setting of this name: run `footring settings` for the list",
       "setting loss_none: '-1' is not a number from 0 to 1: give a number in that range (the default is 0)"])
    r("years that end before they begin", ["settings", "--set", "first_year=1950", "--set", "last_year=1900"], 2,
      ["setting last_year: 1900 is before first_year (1950): set first_year to the earlier year"])


def on_terminal(program, **variables):
    """What `footring settings` writes to a terminal of 100 columns."""
    master, slave = pty.openpty()
    environment = {"PATH": "/usr/bin:/bin", "TERM": "xterm", "COLUMNS": "100", **variables}
    process = subprocess.Popen([BIN, "settings"], cwd=program.folder, env=environment, stdout=slave, stdin=slave)
    os.close(slave)
    written = b""
    try:
        while part := os.read(master, 65536):
            written += part
    except OSError:  # how Linux says that the other end was closed
        pass
    os.close(master)
    process.wait(20)
    return written


def check_terminal(program, tally):
    tally.check("a terminal gets colours", b"\x1b[1mopen_prior\x1b[0m" in on_terminal(program))
    tally.check("NO_COLOR takes them away", b"\x1b" not in on_terminal(program, NO_COLOR="1"))
    tally.check("an empty NO_COLOR does not", b"\x1b" in on_terminal(program, NO_COLOR=""))
    tally.check("a dumb terminal gets none", b"\x1b" not in on_terminal(program, TERM="dumb"))
    with open("/dev/full", "w") as full:
        run = subprocess.run([BIN, "settings"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=20)
    tally.equal("a full disk is told", (run.returncode, run.stderr),
                (1, "standard output: cannot be written to its end: "
                    "check the space on the disk, or where the output goes\n"))


def check_version_and_manual(program, tally):
    version = program.answers("version as JSON", ["version", "--json"]).json()
    tally.equal("version names the program", version["name"], "footring")
    tally.equal("version as a page", program.answers("version", ["version"]).out, f"footring {version['version']}\n")
    tally.equal("--version is version", program.run("--version").out, f"footring {version['version']}\n")
    manual = program.answers("manual", ["manual"]).out
    tally.equal("docs/footring.1 is the program's", manual, (ROOT / "docs/footring.1").read_text())
    tally.equal("manual as JSON", program.run("manual", "--json").json()["page"], manual)
    for command in COMMANDS:
        tally.check(f"the man page tells of {command}", f'.SS "footring {command}' in manual)


def completed(program, script, *words):
    """What bash offers after these words; the last one is being typed."""
    harness = (f"source {script}\nCOMP_WORDS=(footring {' '.join(repr(w) for w in words)})\n"
               f"COMP_CWORD={len(words)}\n_footring\nprintf '%s\\n' \"${{COMPREPLY[@]}}\"\n")
    run = subprocess.run(["bash", "-c", harness], cwd=program.folder, capture_output=True, text=True, timeout=30)
    return run.stdout.split(), run.stderr


def check_completions(program, tally):
    for shell in ("bash", "zsh", "fish"):
        script = program.answers(f"completions for {shell}", ["completions", shell]).out
        for command in COMMANDS:
            tally.check(f"{shell} completes {command}", command in script)
        for option in ("keep-good", "dry-run", "port", "markdown"):
            tally.check(f"{shell} completes {option}", option in script)
        tally.equal(f"completions for {shell} as JSON", program.run("completions", shell, "--json").json(),
                    {"shell": shell, "script": script})
    script = program.write("footring.bash", program.run("completions", "bash").out)
    (program.folder / "a-folder").mkdir()
    program.write("a-file.json", "{}")
    for name, words, expected in [
            ("commands", ["e"], ["examine", "export"]),
            ("options", ["export", "--f"], ["--format"]),
            ("choices", ["export", "--format", ""], ["csv", "json", "xlsx"]),
            ("folders only", ["check", "a-f"], ["a-folder"]),
            ("folders after an option", ["examine", "--pack", "a-f"], ["a-folder"]),
            ("files", ["examine", "a-fi"], ["a-file.json"]),
            ("shells", ["completions", "f"], ["fish"]),
            ("settings", ["key", "--set", "sure_l"], ["sure_likely="])]:
        got, complaints = completed(program, script, *words)
        tally.equal(f"bash offers {name}", (got, complaints), (expected, ""))
    tally.check("the program is where the tests look for it", BIN.exists(), BIN)
