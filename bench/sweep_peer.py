#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""usage: sweep_peer.py FOLDER PIECES
The problem of sweep_bench.cpp, solved by scikit-learn's CategoricalNB.predict_proba on one core: the same tables
P(look | treatment), the same looks. Checks that both give the same odds, then prints its rate as JSON."""
import json
import os
import sys
import time

os.environ["OMP_NUM_THREADS"] = "1"
import numpy as np
from sklearn.naive_bayes import CategoricalNB

TREATMENTS, PLACES, VALUES, SURE = 1000, 8, 16, 0.98
folder, count = sys.argv[1], int(sys.argv[2])
data = np.fromfile(os.path.join(folder, "problem.bin"), dtype=np.uint8)
truth = data[: TREATMENTS * PLACES].reshape(TREATMENTS, PLACES).astype(int)
seen = data[TREATMENTS * PLACES:].reshape(-1, PLACES).astype(int)

model = CategoricalNB(min_categories=VALUES)
model.fit(truth, np.arange(TREATMENTS))
# The same tables: right with .98, every other value with an equal part of the rest.
tables = []
for place in range(PLACES):
    table = np.full((TREATMENTS, VALUES), (1 - SURE) / (VALUES - 1))
    table[np.arange(TREATMENTS), truth[:, place]] = SURE
    tables.append(np.log(table))
model.feature_log_prob_ = tables
model.class_log_prior_ = np.full(TREATMENTS, -np.log(TREATMENTS))

odds = model.predict_proba(seen[:2000])
worst, rows = 0.0, 0
with open(os.path.join(folder, "odds.txt"), encoding="utf-8") as lines:
    for line in lines:
        piece, treatment, p = line.split()
        worst = max(worst, abs(odds[int(piece), int(treatment)] - float(p)))
        rows += 1
shown = int((odds >= 1e-4).sum())
if worst > 1e-9 or abs(rows - shown) > 0:
    sys.exit(f"the two do not agree: largest difference {worst:g}, {rows} candidates against {shown}")

chunk = 2000  # as many as fit a processor's cache comfortably; larger ones are slower
count = min(count, len(seen))
began = time.perf_counter()
for at in range(0, count, chunk):
    model.predict_proba(seen[at: at + chunk])
seconds = time.perf_counter() - began
print(json.dumps({"pieces": count, "seconds": round(seconds, 4), "pieces_per_second": round(count / seconds),
                  "largest_difference": worst}))
