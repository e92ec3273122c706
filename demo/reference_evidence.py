# SPDX-License-Identifier: Apache-2.0
"""Dated uses and statements. Subjects are written as treatment numbers of a shape (harrow 117) or as ids."""

# source | kind | date | subjects, split at ;
DATED_USES = """
s-cat-kw-1912 | catalogue | 1912 | coulter; coulter 201; coulter 204; coulter 209; coulter 211; coulter 216; mill-view
s-cat-kw-1919 | catalogue | 1919 | coulter 207; coulter 212; coulter 214; coulter 218; coulter 222; fern-pair
s-cat-kw-1926 | catalogue | 1926 | harrow; oat; harrow 101; harrow 106; harrow 109; harrow 112; harrow 119; harrow 133
s-ad-courier-1927 | advertisement | 1927-10-14 | harrow 106; harrow 109
s-ad-hearth-1932 | advertisement | 1932-04 | harrow 117; harrow 137; fern-pair
s-cat-kw-1933 | catalogue | 1933 | harrow 114; harrow 117; harrow 127; harrow 137; harrow 123
s-bride-letter | letter | 1934-06-30 | harrow 127
s-order-1935 | order form | 1935-02 | harrow 157; harrow 162; harrow 117; clover-dash
s-brindle | advertisement | 1936~ | harrow 145
s-cat-kw-1938 | catalogue | 1938 | sedge; harrow 131; harrow 141; harrow 143
s-order-1947 | order form | 1947-09 | harrow 162; harrow 129; winnow 301
s-cat-kw-1948 | catalogue | 1948 | winnow; winnow 303; winnow 305; winnow 307; winnow 321
s-ad-courier-1950 | advertisement | 1950-01-20 | winnow 303; winnow 317
s-cat-kw-1955 | catalogue | 1955 | winnow 309; winnow 313; winnow 315; long-grass
s-cat-ab-1908 | catalogue | 1908 | osier; frost; osier O2; osier O4; osier O5; hedgerow-print
s-ab-daybook | order form | 1914-05 | osier O12; osier O11
s-cat-ab-1924 | catalogue | 1924 | weir; weir W1; weir W4; weir W5; weir W14
s-cat-ab-1926 | catalogue | 1926 | buttermilk; weir W7; weir W10; weir W12; weir W15; weir W31
s-ab-sheet-31 | catalogue | 1931 | weir W18; weir W26; bramble-trail
s-cat-ab-1937 | catalogue | 1937 | towpath; rosewater; towpath T4; towpath T6; towpath T11; towpath T18
s-northgate-38 | catalogue | 1938-21 | towpath T9; bullace 3511; mantel M.15
s-cat-pl-1930 | catalogue | 1930 | medlar; whey; medlar 2805; medlar 2809; medlar 2813; medlar 2816
s-cat-pl-1936 | catalogue | 1936 | bullace; linden; medlar 2811; medlar 2814; bullace 3503; bullace 3519; ivy-trail
s-ad-hearth-1936 | advertisement | 1936-11 | bullace 3503; bullace 3504; bullace 3506
s-pl-sheet-47 | catalogue | 1947 | bullace 3509; bullace 3515; bullace 3517
s-cat-pl-1953 | catalogue | 1953 | costard; costard 5104; costard 5105; costard 5107; costard 5109
s-northgate-56 | catalogue | 1956-23 | costard 5113
s-pl-list-61 | catalogue | 1961 | costard 5101; costard 5115; platinum-tuft
s-drove-sheet | catalogue | 1931 | lintel; corbel; lintel b; lintel c; canary; slate
s-drove-dig | find | 1931/1936 | lintel 117; rowan; corbel 40
s-cellar-find | find | 1939/1940 | harrow 127; weir W7; clover-dash
s-mothwick-ledger | order form | 1932-09 | mantel M.7; mantel M.8; weir b; etched-vine
s-mark-survey | dated mark | 1927 | m-3; harrow 109
s-mark-survey | dated mark | 1934 | m-4; harrow 127; m-10
s-mark-survey | dated mark | 1939-06 | weir W20; m-14
s-mark-survey | dated mark | 1948 | m-22; medlar 2809; bullace 3519B
s-mark-survey | dated mark | 1956 | m-25; costard 5111
s-northgate-32 | catalogue | 1932-23 | harrow 129; star-dot
s-northgate-51 | catalogue | 1951-21 | winnow 317
s-tidewell | advertisement | 1921? | coulter 220
s-tidewell | advertisement | 193X | weir W24; medlar 2818
"""

# id | subject | property | value | source | stance | note; a statement with both stances is contested
STATEMENTS = """
st-1 | mantel | maker | potted at Ambrel Bank | s-history | for | From the foot ring, which is that of Weir.
st-2 | mantel | maker | potted at Ambrel Bank | s-ab-daybook | against | No blank of this line is entered in thirty years.
st-3 | mantel | maker | potted at Kettlewharf | s-pell-memoir | for | Hearsay among carters.
st-4 | fern-pair | first use | 1912 | s-cat-kw-1919 | for | Called "the old fern" in 1919.
st-5 | fern-pair | first use | 1912 | s-vetch-book | against | The impression stands between stamps of 1914 and 1915.
st-6 | fern-pair | supplier | Vetch & Sallow | s-vetch-book | for | Stamp no. 101.
st-7 | harrow 117 | years | 1930/1939 | s-cat-kw-1933 | for |
st-8 | harrow 117 | last year | 1939 | s-cellar-find | against | Two plates in a fill closed in 1941; they may have been old.
st-9 | harrow 4417 | meaning of the number | a customer's own number | s-letter-harl | for |
st-10 | harrow 4417 | meaning of the number | a customer's own number | s-kw-works-list | against | The list of customers' numbers ends at 3999.
st-11 | rowan | uranium | yes | s-counter | for | All eleven pieces read.
st-12 | linden | uranium | yes | s-dealer-list | for | "Glows", says the list.
st-13 | linden | uranium | yes | s-counter | against | Four pieces gave no more than the room.
st-14 | m-8 | meaning | second-grade ware only | s-seconds-letter | for |
st-15 | m-8 | meaning | second-grade ware only | s-museum-card | against | Card 77 has it on a piece called perfect.
st-16 | weir W22 | centre | two plates in five lack the rosette | s-mark-survey | for | 14 of 35 plates.
st-17 | clover-dash | meaning | marks ware of the seconds room | s-seconds-letter | for |
st-18 | clover-dash | meaning | marks ware of the seconds room | s-brindle | against | The premium dishes bear it and were sold as perfect.
st-19 | osier O11 | decorated by | Ambrel Bank's own shop | s-ab-daybook | for |
st-20 | medlar 117 | meaning of the number | Kettlewharf's number kept for a matching order | s-letter-harl | for |
"""
