#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""statsmodels' MixedLM on the 1,500 sales of worth_bench, with four of our ten terms. usage: worth_peer.py FOLDER"""
import json
import sys
import time
import warnings

import pandas
from statsmodels.regression.mixed_linear_model import MixedLM

warnings.simplefilter("ignore")
data = json.load(open(f"{sys.argv[1]}/sales.json"))
table = pandas.DataFrame({"y": data["y"], "one": 1, **data["factors"]})
parts = {name: f"0 + C({name})" for name in data["factors"]}
begin = time.process_time()
MixedLM.from_formula("y ~ 1", groups="one", re_formula="0", vc_formula=parts, data=table).fit(reml=True)
print(json.dumps({"seconds": time.process_time() - begin, "sales": len(table)}))
