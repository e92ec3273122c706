# SPDX-License-Identifier: Apache-2.0
"""Counts checks and ends with the line that ./test adds up: `N passed, N failed`.

    tally = Tally()
    tally.equal("a name that can be false", got, expected)
    sys.exit(tally.end())
"""
import difflib


class Tally:
    def __init__(self):
        self.passed = 0
        self.failed = 0

    def check(self, name, holds, detail=""):
        if holds:
            self.passed += 1
        else:
            self.failed += 1
            print(f"FAILED {name}")
            for line in str(detail).splitlines():
                print(f"    {line}")
        return holds

    def equal(self, name, got, expected):
        """Compares in full; a difference between texts is shown line by line."""
        if isinstance(got, str) and isinstance(expected, str):
            detail = "\n".join(difflib.unified_diff(expected.splitlines(), got.splitlines(),
                                                    "expected", "got", lineterm=""))
            detail = detail or f"they differ in line ends only: expected {expected!r}, got {got!r}"
        else:
            detail = f"expected {expected!r}\ngot      {got!r}"
        return self.check(name, got == expected, detail)

    def end(self):
        if self.passed + self.failed == 0:
            print("FAILED nothing was checked")
            self.failed = 1
        print(f"{self.passed} passed, {self.failed} failed")
        return 1 if self.failed else 0
