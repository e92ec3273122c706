#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Compares `footring date` with JAGS, through R's rjags: an implementation that samples instead of summing.

Each case is a small pack and one piece; the pack states periods with sharp, soft and open ends and how far each source is
trusted. The model given to JAGS is written from the statements themselves, and shares no formula with ours:
  a statement holds with the chance that its source is trusted; one that holds speaks of a year that was drawn from those
  between its ends, one that does not of any year of all; that each of them speaks of the same year is what was observed;
  a soft end (~ or ?) stands up to 3 or 5 years further out, every distance as likely as another;
  a number was given out in a year that is normal about the line of its sequence, and the piece made then or later.
Where a closed form exists it is compared as well, to 1e-9.

Tolerance: the largest difference of the two distribution functions (Kolmogorov's) stays below
sqrt(ln(2 / 1e-6) / (2 n)), n the effective number of draws as coda counts them: right results exceed that once in a
million runs. Chances that statements hold are means of as many draws: 5 standard errors. Seeds are fixed.

Needs the Debian packages r-base-core and r-cran-rjags; skipped with a message where they are missing.
"""
import json
import math
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))
from tally import Tally  # noqa: E402

ROOT = Path(__file__).resolve().parents[2]
BIN = Path(os.environ.get("FOOTRING_BIN", ROOT / "build/test/bin/footring"))
FIRST, LAST = 1880, 1979
DRAWS, THIN = 8000, 4
ABOUT, UNCERTAIN = 3, 5

# One statement: first and last year (None: open), softness of either end, trust.
def stated(first, last, soft_first=0, soft_last=0, trust=1.0):
    return {"first": first, "last": last, "soft_first": soft_first, "soft_last": soft_last, "trust": trust}


def edtf(s):
    mark = {0: "", ABOUT: "~", UNCERTAIN: "?"}
    left = ".." if s["first"] is None else f"{s['first']}{mark[s['soft_first']]}"
    right = ".." if s["last"] is None else f"{s['last']}{mark[s['soft_last']]}"
    return f"{left}/{right}"


# name, statements by the table that makes them. Every one is of a piece of one treatment.
CASES = [
    ("one sharp period", {"treatment": stated(1924, 1931)}),
    ("two periods that overlap", {"shape": stated(1910, 1930), "treatment": stated(1925, 1940)}),
    ("one soft period", {"treatment": stated(1924, 1931, ABOUT, UNCERTAIN)}),
    ("a doubtful period", {"treatment": stated(1924, 1931, trust=0.8)}),
    ("soft ends that meet", {"shape": stated(1900, 1920, 0, UNCERTAIN), "treatment": stated(1923, 1940, ABOUT, 0)}),
    ("doubtful ones that contradict each other",
     {"shape": stated(1900, 1915, trust=0.7), "mark": stated(1931, 1945, trust=0.9)}),
    ("everything at once",
     {"maker": stated(1890, None, ABOUT, 0, 0.95), "shape": stated(1908, 1931, ABOUT, 0, 0.9),
      "glaze": stated(1921, 1949, 0, UNCERTAIN, 0.8), "ornament": stated(1912, 1956, ABOUT, ABOUT, 0.6),
      "treatment": stated(1926, 1935, UNCERTAIN, UNCERTAIN, 0.7), "mark": stated(None, 1929, trust=0.85)}),
]
TABLES = ("maker", "shape", "glaze", "ornament", "treatment", "mark")

MODEL = """
model {
  year ~ dcat(flat[])
  for (i in 1:n) {
    holds[i] ~ dbern(trust[i])
    before[i] ~ dunif(0, soft_first[i])
    after[i] ~ dunif(0, soft_last[i])
    within[i] <- step(year + start - 1 - first[i] + before[i]) * step(last[i] + after[i] - year - start + 1)
    one[i] ~ dbern(holds[i] * within[i] / width[i] + (1 - holds[i]) / years)
  }
}
"""


def write_pack(folder, statements):
    """A pack in which each statement has a source of its own."""
    years = {table: edtf(statements[table]) if table in statements else "" for table in TABLES}
    trust = "".join(f"s-{table},{table},{statements[table]['trust']}\n" for table in TABLES if table in statements)
    source = {table: f"s-{table}" if table in statements else "" for table in TABLES}
    tables = {
        "sources": ("id,title,trust", trust),
        "makers": ("id,name,years,source", f"mill,Mill,{years['maker']},{source['maker']}\n"),
        "shapes": ("id,maker,name,years,source", f"harrow,mill,Harrow,{years['shape']},{source['shape']}\n"),
        "forms": ("id,name,ware,outline", "plate,Plate,flat,round\n"),
        "glazes": ("id,maker,name,years,source", f"oat,mill,Oat,{years['glaze']},{source['glaze']}\n"),
        "ornaments": ("id,name,kind,finish,years,source",
                      f"fern,Fern,stamp,gold,{years['ornament']},{source['ornament']}\n"),
        "treatments": ("id,shape,glaze,number,name,grade,years,source",
                       f"t-1,harrow,oat,,One,any,{years['treatment']},{source['treatment']}\n"),
        "treatment_ornaments": ("treatment,place,ornament,on,share", "t-1,rim,fern,*,1\n"),
        "marks": ("id,maker,wording,years,shapes,source", f"m-1,mill,MILL,{years['mark']},*,{source['mark']}\n"),
    }
    folder.mkdir(parents=True)
    resources = []
    for name, (header, rows) in tables.items():
        (folder / f"{name}.csv").write_text(header + "\n" + rows)
        resources.append({"name": name, "path": f"{name}.csv"})
    (folder / "datapackage.json").write_text(json.dumps({"name": "small", "title": "Small", "resources": resources}))


def ours(folder, statements):
    piece = {"id": "p", "form": "plate", "shape": {"value": "harrow"}, "glaze": {"value": "oat"},
             "looks": [{"place": "rim", "value": "fern"}]}
    if "mark" in statements:
        piece["mark"] = {"value": "m-1"}
    (folder / "p.json").write_text(json.dumps(piece))
    run = subprocess.run([BIN, "date", "--json", "--pack", folder, folder / "p.json", "--set", "open_prior=0", "--set", "sure_sure=1",
                          "--set", f"first_year={FIRST}", "--set", f"last_year={LAST}"],
                         capture_output=True, text=True, timeout=60)
    if run.returncode != 0:
        raise RuntimeError(run.stderr)
    answer = json.loads(run.stdout)
    by_year = answer["date"]["by_year"]
    shares = [0.0] * (LAST - FIRST + 1)
    for i, p in enumerate(by_year["p"]):
        if p > 0:
            shares[by_year["first_year"] + i - FIRST] = p
    holds = {s["subject"].split()[0]: s["holds"] for s in answer["statements"]}
    return shares, holds


def width(s):
    """How many years lie between its ends, a year in the soft part for the share of ends that reach it."""
    years = 0.0
    for year in range(FIRST, LAST + 1):
        short = max(s["first"] - year if s["first"] is not None else 0, 0)
        over = max(year - s["last"] if s["last"] is not None else 0, 0)
        if short:
            years += max(0.0, 1 - short / s["soft_first"]) if s["soft_first"] else 0
        elif over:
            years += max(0.0, 1 - over / s["soft_last"]) if s["soft_last"] else 0
        else:
            years += 1
    return years


def closed_form(statements):
    """The same by hand, where every statement is a sharp period: sums of products, year by year."""
    weights = []
    for year in range(FIRST, LAST + 1):
        product = 1.0
        for s in statements.values():
            inside = (s["first"] is None or year >= s["first"]) and (s["last"] is None or year <= s["last"])
            product *= s["trust"] * inside / width(s) + (1 - s["trust"]) / (LAST - FIRST + 1)
        weights.append(product)
    return [w / sum(weights) for w in weights]


def r_vector(values):
    return "c(" + ", ".join(repr(float(v)) for v in values) + ")"


def sampled(folder):
    """Runs JAGS once for all cases; gives for each (effective draws, distribution over years, {table: chance})."""
    lines = ["suppressMessages(library(rjags))", f"model <- {json.dumps(MODEL)}"]
    for at, (_, statements) in enumerate(CASES):
        rows = [statements[t] for t in TABLES if t in statements]
        ends = [(s["first"] if s["first"] is not None else -9999, s["last"] if s["last"] is not None else 9999) for s in rows]
        # Begins where as many as possible hold: the year in the middle of the surest statement.
        surest = max(rows, key=lambda s: s["trust"])
        begin = ((surest["first"] or FIRST) + (surest["last"] or LAST)) // 2
        if all(s["trust"] == 1 for s in rows):
            begin = (max(max(f for f, _ in ends), FIRST) + min(min(e for _, e in ends), LAST)) // 2
        lines.append(f"""
data <- list(n = {len(rows)}, start = {FIRST}, flat = rep(1, {LAST - FIRST + 1}), one = rep(1, {len(rows)}),
  years = {LAST - FIRST + 1}, width = {r_vector(width(s) for s in rows)},
  first = {r_vector(e[0] for e in ends)} - 1e-6, last = {r_vector(e[1] for e in ends)} + 1e-6,
  soft_first = {r_vector(max(s["soft_first"], 1e-6) for s in rows)},
  soft_last = {r_vector(max(s["soft_last"], 1e-6) for s in rows)}, trust = {r_vector(s["trust"] for s in rows)})
y <- {begin}
inside <- y >= data$first & y <= data$last
reach <- function(soft, far) pmin(pmax(far * 1.01, soft / 2), soft * 0.999)
inits <- list(year = y - {FIRST} + 1, holds = ifelse(inside | data$trust == 1, 1, 0),
  before = reach(data$soft_first, data$first - y), after = reach(data$soft_last, y - data$last),
  .RNG.name = "base::Mersenne-Twister", .RNG.seed = {1000 + at})
m <- jags.model(textConnection(model), data, inits, quiet = TRUE)
update(m, 2000, progress.bar = "none")
s <- coda.samples(m, c("year", "holds"), {DRAWS * THIN}, thin = {THIN}, progress.bar = "none")[[1]]
year <- s[, "year"] + {FIRST} - 1
cat("case {at}", min(effectiveSize(year), length(year)), "\\n")
cat("years", tabulate(year - {FIRST} + 1, {LAST - FIRST + 1}) / length(year), "\\n")
names <- if ({len(rows)} == 1) "holds" else paste0("holds[", 1:{len(rows)}, "]")
cat("holds", sapply(names, function(name) mean(s[, name])), "\\n")
cat("errors", sapply(names, function(name) if (var(s[, name]) == 0) 0 else sd(s[, name]) / sqrt(min(effectiveSize(s[, name]), length(year)))), "\\n")
""")
    script = folder / "years.R"
    script.write_text("\n".join(lines))
    run = subprocess.run(["Rscript", "--vanilla", script], capture_output=True, text=True, timeout=300)
    if run.returncode != 0:
        raise RuntimeError(run.stderr)
    out, told = [], [line.split() for line in run.stdout.splitlines() if line.strip()]
    for at, (_, statements) in enumerate(CASES):
        rows = {line[0]: line[1:] for line in told[4 * at:4 * at + 4]}
        tables = [t for t in TABLES if t in statements]
        out.append((float(rows["case"][1]), [float(x) for x in rows["years"]],
                    dict(zip(tables, map(float, rows["holds"]))), dict(zip(tables, map(float, rows["errors"])))))
    return out


def main():
    tally = Tally()
    if shutil.which("Rscript") is None or subprocess.run(
            ["Rscript", "--vanilla", "-e", "library(rjags)"], capture_output=True).returncode != 0:
        print("R with rjags is not here: apt-get install r-base-core r-cran-rjags")
        print("0 passed, 0 failed, 1 skipped")
        return 0
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        draws = sampled(folder)
        for (name, statements), (effective, by_jags, held_by_jags, errors) in zip(CASES, draws):
            pack = folder / name.replace(" ", "-")
            write_pack(pack, statements)
            shares, holds = ours(pack, statements)
            tally.check(f"{name}: shares sum to 1", abs(sum(shares) - 1) < 1e-9, sum(shares))
            if all(s["soft_first"] == s["soft_last"] == 0 for s in statements.values()):
                worst = max(abs(a - b) for a, b in zip(shares, closed_form(statements)))
                tally.check(f"{name}: the closed form gives the same", worst < 1e-9, worst)
            tolerance = math.sqrt(math.log(2 / 1e-6) / (2 * effective))
            mine = theirs = apart = 0.0
            for a, b in zip(shares, by_jags):
                mine, theirs = mine + a, theirs + b
                apart = max(apart, abs(mine - theirs))
            tally.check(f"{name}: JAGS draws the same years (off by {apart:.4f}, at most {tolerance:.4f})",
                        effective > 1000 and apart < tolerance, f"{effective:.0f} effective draws")
            for table, chance in held_by_jags.items():
                allowed = max(5 * errors[table], 1e-3)
                tally.check(f"{name}: the {table} holds as often (JAGS {chance:.4f}, ours {holds[table]:.4f})",
                            abs(chance - holds[table]) < allowed, f"allowed {allowed:.4f}")
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
