#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""The same program as services_bench solved by HiGHS, through scipy.optimize.milp.

    services_peer.py FOLDER     reads FOLDER/program.json, prints seconds, value and gap as JSON
"""
import json
import os
import sys
import time

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

with open(os.path.join(sys.argv[1], "program.json"), encoding="utf-8") as file:
    program = json.load(file)
columns = len(program["low"])
cost = numpy.zeros(columns)
for column, value in program["goal"]:
    cost[column] = -value
data, at, start = [], [], [0]
for row in program["rows"]:
    for column, value in row:
        data.append(value)
        at.append(column)
    start.append(len(data))
matrix = csr_matrix((data, at, start), shape=(len(program["rows"]), columns))
began = time.process_time()
result = milp(cost, integrality=numpy.array(program["whole"]), bounds=Bounds(program["low"], program["high"]),
              constraints=LinearConstraint(matrix, numpy.array(program["row_low"]), numpy.array(program["row_high"])),
              options={"mip_rel_gap": 0.01, "time_limit": 120})
print(json.dumps({"seconds": time.process_time() - began, "value": -result.fun, "gap": result.mip_gap,
                  "bound": -result.mip_dual_bound}))
