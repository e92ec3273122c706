# SPDX-License-Identifier: Apache-2.0
"""Marks and the date codes beside them."""

# The letters leave out I, which looked like a stroke of the brush. One letter a year, and again each decade.
_RECURRING = {letter: [1921 + i + 10 * k for k in range(4) if 1921 + i + 10 * k <= 1962]
              for i, letter in enumerate("ABCDEFGHJK")}
_MONTHS = dict(zip("ABCDEFGHJKLM", ("January", "February", "March", "April", "May", "June", "July", "August",
                                    "September", "October", "November", "December")))

# id, pattern, tables, note, source
CODE_SCHEMES = [
    ("code-kettlewharf", "(?P<year>[A-K])", {"year": _RECURRING},
     "One letter for the year, A in 1921, and again each decade; I was not used.", "s-marks-notebook"),
    ("code-ambrel", r"(?P<month>[A-M])(?P<year>\d\d)", {"month": _MONTHS},
     "A letter for the month, I not used, and the last two figures of the year.", "s-ab-daybook"),
    ("code-pell", r"(?P<plant>[NS])(?P<decade>[3-7])(?P<digit>\d)",
     {"plant": {"N": "North works", "S": "South works"},
      "decade": {"3": 1930, "4": 1940, "5": 1950, "6": 1960, "7": 1970}},
     "The works, then the year without its century.", "s-pell-memoir"),
    ("code-drovemere", "(?P<year>[XYZ])", {"year": {"X": "1929/1931", "Y": "1932/1935", "Z": "1936/1941"}},
     "Three letters only; each stood for some years.", "s-drove-dig"),
]

# id | maker | wording, lines split at / | device | years | shapes | grade | scheme | source
MARKS = """
m-1 | kettlewharf | KETTLEWHARF / SEMI-PORCELAIN | ring | 1909~/1923 | coulter | | | s-marks-notebook
m-2 | kettlewharf | KETTLEWHARF / WARRANTED | shield | 1921/1931 | * | | code-kettlewharf | s-marks-notebook
m-3 | kettlewharf | HARROW / KETTLEWHARF | leaf | 1924/1930 | harrow | | code-kettlewharf | s-cat-kw-1926
m-4 | kettlewharf | HARROW / BY KETTLEWHARF / WARRANTED | leaf | 1931/1941 | harrow | | code-kettlewharf | s-cat-kw-1933
m-5 | kettlewharf | KETTLEWHARF / POTTERY | star | 1938/1949 | harrow;winnow | | code-kettlewharf | s-cat-kw-1938
m-6 | kettlewharf | WINNOW / KETTLEWHARF | banner | 1947/1962 | winnow | | code-kettlewharf | s-cat-kw-1948
m-7 | kettlewharf | K W / SECOND | plain | 1911~/1926 | coulter;harrow | second | | s-seconds-letter
m-8 | kettlewharf | TILTH WARE | ticket | 1926/1941 | * | second | code-kettlewharf | s-seconds-letter
m-9 | kettlewharf | TILTH WARE / DINNERWARE | ticket | 1938/1962 | harrow;winnow | second | | s-seconds-letter
m-10 | kettlewharf | KETTLEWHARF / 22 CARAT GOLD | ring | 1929/1949 | harrow | | code-kettlewharf | s-marks-notebook
m-11 | ambrel-bank | A B / CHINA WORKS | ring | 1901/1919~ | osier | | | s-cat-ab-1908
m-12 | ambrel-bank | AMBREL BANK / OSIER | wave | 1914/1927 | osier | | | s-ab-daybook
m-13 | ambrel-bank | AMBREL BANK / CHINA | wave | 1921/1936 | * | | code-ambrel | s-cat-ab-1924
m-14 | ambrel-bank | WEIR / AMBREL BANK | wave | 1924/1940 | weir | | code-ambrel | s-cat-ab-1924
m-15 | ambrel-bank | WEIR / AMBREL BANK / WARRANTED | wave | 1938/1951 | weir | | code-ambrel | s-ab-sheet-38
m-16 | ambrel-bank | TOWPATH / AMBREL BANK | banner | 1936/1957 | towpath | | code-ambrel | s-cat-ab-1937
m-17 | ambrel-bank | A B X | plain | 1905/1927 | osier;weir | second | | s-ab-daybook
m-18 | ambrel-bank | FERRYMAN WARE | ticket | 1926/1957 | weir;towpath | second | code-ambrel | s-ab-daybook
m-19 | ambrel-bank | AMBREL BANK / ROSEWATER | star | 1936/1955 | weir;towpath | | | s-cat-ab-1937
m-20 | pell-lane | PELL LANE | shield | 1911/1931 | medlar | | | s-pell-memoir
m-21 | pell-lane | PELL LANE / MEDLAR | leaf | 1928/1949 | medlar | | code-pell | s-cat-pl-1930
m-22 | pell-lane | PELL LANE / WHEY GLAZE | star | 1930/1962 | medlar;bullace | | code-pell | s-cat-pl-1930
m-23 | pell-lane | BULLACE / PELL LANE | ring | 1935/1962 | bullace | | code-pell | s-cat-pl-1936
m-24 | pell-lane | PELL LANE / OVENPROOF | banner | 1947/1962 | bullace;costard | | code-pell | s-pl-sheet-47
m-25 | pell-lane | COSTARD / PELL LANE | banner | 1951/1974~ | costard | | code-pell | s-cat-pl-1953
m-26 | pell-lane | COSTARD / DETERGENT PROOF | banner | 1958/1974~ | costard | | code-pell | s-pl-list-61
m-27 | pell-lane | HEDGER WARE | ticket | 1930/1958 | * | second | code-pell | s-pell-memoir
m-28 | pell-lane | HEDGER WARE / GUARANTEED | ticket | 1951/1974~ | costard;bullace | second | | s-pell-memoir
m-29 | drovemere | DROVEMERE | arch | 1919?/1931 | * | | | s-drove-dig
m-30 | drovemere | DROVEMERE / ART POTTERY | arch | 1929/1941 | * | | code-drovemere | s-drove-dig
m-31 | drovemere | LINTEL / DROVEMERE | arch | 1930/1938 | lintel | | code-drovemere | s-drove-sheet
m-32 | drovemere | D P | plain | 1931/1941 | * | second | | s-drove-dig
m-33 | mothwick | DECORATED AT / MOTHWICK | star | 1922/1951 | * | | | s-mothwick-ledger
m-34 | mothwick | MOTHWICK / ETCHED GOLD | shield | 1927/1951 | mantel | | | s-mothwick-ledger
"""
