#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Compares our results with other implementations of the same thing. Each script ends with `N passed, N failed`.
# To add one: a line here. The list is written out, so that a comparison cannot vanish unnoticed.
set -uo pipefail
cd "$(dirname "$0")"
status=0
node edtf_oracle.mjs || status=1          # dates, against npm edtf
/usr/bin/python3 isotonic_oracle.py || status=1   # number sequences, against scikit-learn
node services_oracle.mjs || status=1                      # allotments, against HiGHS
/usr/bin/python3 years_oracle.py || status=1      # dates of pieces, against JAGS through R
/usr/bin/python3 mixed_oracle.py || status=1      # partial pooling, against statsmodels
exit $status
