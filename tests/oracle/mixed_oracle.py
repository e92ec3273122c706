#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Partial pooling against statsmodels' MixedLM (REML) on made data: crossed effects, a nested one, and one with a slope.
Variance components, fixed effects and the effects of every level are compared. Prints `N passed, N failed`."""
import json
import os
import subprocess
import sys
import warnings
from pathlib import Path

import numpy
import pandas
from statsmodels.regression.mixed_linear_model import MixedLM

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
from tally import Tally  # noqa: E402

BIN = Path(os.environ.get("FOOTRING_BIN", str(ROOT / "build/test/bin/footring"))).parent / "mixed_lines"
warnings.simplefilter("ignore")  # statsmodels warns when a gradient is not quite 0


def made(seed, n, levels, sds, noise, nested):
    chance = numpy.random.RandomState(seed)
    slope = chance.uniform(-2, 2, n)
    factors = [chance.randint(0, k, n) for k in levels]
    for factor, k in zip(factors, levels):
        factor[:k] = numpy.arange(k)  # each level occurs
    if nested:  # the second factor is split by the first
        factors[1] = numpy.unique(factors[0] * 1000 + factors[1] % 4, return_inverse=True)[1]
    y = 3 + 0.3 * slope + noise * chance.standard_normal(n)
    for factor, sd in zip(factors, sds):
        y += (sd * chance.standard_normal(factor.max() + 1))[factor]
    return y, slope, factors


def theirs(y, slope, factors):
    table = pandas.DataFrame({"y": y, "slope": slope, "one": 1, **{f"f{k}": f for k, f in enumerate(factors)}})
    parts = {f"f{k}": f"0 + C(f{k})" for k in range(len(factors))}
    model = MixedLM.from_formula("y ~ slope", groups="one", re_formula="0", vc_formula=parts, data=table)
    fit = model.fit(reml=True, method=["lbfgs", "bfgs"], gtol=1e-9)
    effects = fit.random_effects[1]
    by_factor = []
    for k, factor in enumerate(factors):
        names = [f"f{k}[C(f{k})[{level}]]" for level in range(factor.max() + 1)]
        by_factor.append(numpy.array([effects[name] for name in names]))
    names = list(model.exog_vc.names)
    sd = [float(numpy.sqrt(fit.vcomp[names.index(f"f{k}")])) for k in range(len(factors))]
    return sd, float(numpy.sqrt(fit.scale)), fit.fe_params.to_numpy(), by_factor


def main():
    tally = Tally()
    rounds = [(1, 200, [8, 15], [0.6, 0.4], 0.3, False), (2, 300, [12, 20], [1.0, 0.3], 0.5, False),
              (3, 250, [6, 10, 14], [0.5, 0.5, 0.4], 0.4, False), (4, 240, [10, 4], [0.7, 0.5], 0.3, True),
              (5, 150, [5, 30], [0.8, 0.6], 0.2, False), (6, 400, [25, 9], [0.3, 0.8], 0.6, False)]
    data = [made(*one) for one in rounds]
    lines = [json.dumps({"y": y.tolist(), "x": [[1] * len(y), slope.tolist()], "factors": [f.tolist() for f in factors]})
             for y, slope, factors in data]
    run = subprocess.run([BIN], input="\n".join(lines) + "\n", capture_output=True, text=True, timeout=60)
    answers = [json.loads(line) for line in run.stdout.splitlines()]
    tally.check("every data set is fitted", len(answers) == len(data) and all("sd" in a for a in answers), run.stderr)
    for (seed, *_), (y, slope, factors), ours in zip(rounds, data, answers):
        sd, noise, beta, effects = theirs(y, slope, factors)
        # They stop when their gradient is small; the variances then agree to some tenths of a per cent.
        tally.check(f"data set {seed}: the spread of each factor", numpy.allclose(ours["sd"], sd, rtol=5e-3), f"{ours['sd']} {sd}")
        tally.check(f"data set {seed}: the noise", numpy.isclose(ours["noise"], noise, rtol=1e-3), f"{ours['noise']} {noise}")
        tally.check(f"data set {seed}: the fixed effects", numpy.allclose(ours["beta"], beta, atol=2e-3), f"{ours['beta']} {beta}")
        for k, effect in enumerate(effects):
            worst = numpy.abs(numpy.array(ours["effects"][k]) - effect).max()
            tally.check(f"data set {seed}: the effects of factor {k}", worst < 3e-3, f"largest difference {worst}")
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
