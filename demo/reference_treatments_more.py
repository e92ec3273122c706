# SPDX-License-Identifier: Apache-2.0
"""The treatments of Pell Lane, Drovemere and the decorating rooms; the notation is that of reference_treatments.py."""

MEDLAR = """
2801 | Gold line over gadroon | snow | any | 1928/1958 | | s-cat-pl-1930 | rim relief-gadroon; {line gold-line} |
2802 | Maroon line | snow | any | 1928/1945 | | s-cat-pl-1930 | rim relief-gadroon; {line maroon-line} |
2805 | Maroon band and gold | snow | first | 1929/1951 | | s-cat-pl-1930 | rim maroon-band; verge gold-hairline flat; {line gold-line}; {finial gold-solid} |
2806 | Maroon, gold and bouquet | snow | first | 1930/1951 | | s-cat-pl-1930 | rim maroon-band; verge gold-hairline flat; {line gold-line}; {finial gold-solid}; {centre basket-bouquet} | On hollow ware the same as 2805.
2806B | Maroon, gold and bouquet, second | snow | second | 1931/1951 | | s-pell-memoir | = 2806 |
2809 | Fern pair on whey | whey | first | 1930/1949 | | s-cat-pl-1930 | rim fern-pair; {line gold-line}; {centre rosette}; {lid fern-pair} |
2809B | Fern pair on whey, second | whey | second | 1930/1950 | | s-pell-memoir | = 2809 |
2811 | Fern pair on linden | linden | first | 1934/1952 | | s-cat-pl-1936 | rim fern-pair; {line gold-line} |
2813 | Shell and scroll | whey | first | 1930/1951 | | s-cat-pl-1930 | rim shell-scroll; {line gold-line}; {centre laurel-medallion} |
2814 | Shell and scroll, rosette | whey | first | 1931/1951 | | s-cat-pl-1936 | rim shell-scroll; {line gold-line}; {centre rosette}; inside rosette covered-dish | Twin of 2813 on hollow ware, except the covered dish.
2816 | Rose garland | whey | first | 1930/1952 | | s-cat-pl-1930 | rim rose-garland; {line gold-line}; {finial gold-solid} |
2816B | Rose garland, second | whey | second | 1931/1952 | | s-pell-memoir | rim rose-garland; handle gold-line hollow |
2818 | Pansy ribbon | snow | any | 1928/1941 | Tidewell Tea coupons (invented) | s-tidewell | rim pansy-ribbon; {line gold-line} .5 |
2820 | Ivory band | whey | first | 1931/1949 | | s-cat-pl-1936 | rim ivory-band; {line gold-line}; verge pearl-string flat |
2822 | Coral line | whey | second | 1933/1957 | | s-pell-memoir | {line coral-line} |
2824 | Lyre and scroll | whey | first | 1932/1946 | | s-cat-pl-1936 | rim lyre-scroll; {line gold-line}; {finial gold-solid} |
117 | Number not explained | whey | any | 1933~/1941~ | | s-letter-harl | rim fern-pair; {centre fern-wreath}; handle gold-line hollow | Three figures, as at Kettlewharf: perhaps the customer kept the old number.
(a) | Undecorated | whey | any | 1930/1958 | | s-cat-pl-1930 | rim relief-gadroon |
"""

BULLACE = """
3501 | Ringed, undecorated | whey | any | 1935/1962 | | s-cat-pl-1936 | rim relief-flutes |
3503 | Turquoise bands | snow | first | 1936/1962 | | s-cat-pl-1936 | rim turquoise-bands; handle platinum-line hollow; {finial platinum-solid} |
3503B | Turquoise bands, second | snow | second | 1937/1962 | | s-pell-memoir | = 3503 |
3504 | Rust bands | whey | first | 1935/1958 | | s-cat-pl-1936 | rim rust-bands; {finial gold-solid} |
3506 | Poppy meadow | whey | first | 1935/1955 | | s-cat-pl-1936 | rim poppy-meadow; body poppy-meadow jug; {line coral-line} .6 |
3506B | Poppy meadow, second | whey | second | 1936/1955 | | s-pell-memoir | rim poppy-meadow |
3508 | Ivy trail | linden | first | 1936/1952 | | s-cat-pl-1936 | rim ivy-trail; {line gold-line}; {lid ivy-trail} |
3509 | Ivy trail, plain lid | linden | first | 1938/1952 | | s-pl-sheet-47 | rim ivy-trail; {line gold-line} | Told from 3508 by a lidded piece only.
3511 | Cornflower | snow | any | 1935/1960 | Northgate Parcel Catalogue (invented) | s-northgate-38 | rim cornflower-spray; {line blue-line} |
3513 | Bramble trail | whey | first | 1936/1957 | | s-cat-pl-1936 | rim bramble-trail; {line gold-line}; inside bramble-trail cup |
3515 | Wren | snow | first | 1938/1960 | | s-pl-sheet-47 | {centre wren-bough}; body wren-bough hollow; {line gold-line} |
3517 | Platinum and cornflower | snow | first | 1946/1960 | | s-pl-sheet-47 | rim cornflower-spray; {line platinum-line}; {finial platinum-solid} |
3519 | Fern pair on rings | whey | first | 1936/1954 | | s-cat-pl-1936 | rim fern-pair; {line gold-line}; {lid fern-pair} |
3519B | Fern pair on rings, second | whey | second | 1937/1954 | | s-pell-memoir | = 3519 |
3521 | Brindle oats premium | whey | any | 1937/1940~ | Brindle Oats packets (invented) | s-brindle | rim clover-dash; {centre harebell-tuft} |
X-4 | Number not explained | linden | any | 1940~/.. | | s-letter-harl | rim star-dot; {line gold-line} | X-4 in pencil under the glaze.
"""

COSTARD = """
5101 | Platinum line | snow | any | 1951/1974~ | | s-cat-pl-1953 | {line platinum-line} |
5102 | Gold line | snow | any | 1951/1974~ | | s-cat-pl-1953 | {line gold-line} |
5104 | Long grass | snow | first | 1951/1972~ | | s-cat-pl-1953 | rim long-grass; {line platinum-line}; {centre platinum-tuft}; {finial platinum-solid} |
5104B | Long grass, second | snow | second | 1952/1972~ | | s-pell-memoir | = 5104 |
5105 | Long grass, no centre | snow | first | 1953/1970~ | | s-cat-pl-1953 | rim long-grass; {line platinum-line}; {finial platinum-solid} | On hollow ware the same as 5104.
5107 | Sage band | snow | first | 1953/1974~ | | s-cat-pl-1953 | rim sage-band; handle platinum-line hollow |
5109 | Pear bough | whey | first | 1951/1962 | | s-cat-pl-1953 | {centre pear-bough}; {line gold-line}; body pear-bough hollow |
5109B | Pear bough, second | whey | second | 1952/1962 | | s-pell-memoir | {centre pear-bough}; body pear-bough hollow |
5111 | Apple bough | snow | first | 1952/1962 | | s-cat-pl-1953 | rim apple-bough; {line gold-line} |
5113 | Wren in the garden | snow | any | 1955/1966 | Northgate Parcel Catalogue (invented) | s-northgate-56 | {centre wren-bough}; {line platinum-line} |
5115 | Platinum band | snow | first | 1956/.. | | s-pl-list-61 | rim platinum-band; handle platinum-solid hollow; {finial platinum-solid} |
5117 | Ivy trail | snow | any | 1951/1958 | | s-cat-pl-1953 | rim ivy-trail; handle gold-line hollow |
(a) | Sage solid trial | snow | any | 196X | | s-letter-harl | rim sage-band; {line gold-line} | Never listed; three pieces known.
"""

LINTEL = """
(a) | Black line on canary | canary | any | 1929/1938 | | s-drove-sheet | {line black-line} |
(b) | Stepped fan | canary | first | 1931/1938 | | s-drove-sheet | rim step-fan; {line platinum-line} |
(c) | Stepped fan with star | canary | first | 1931/1938 | | s-drove-sheet | rim step-fan; {line platinum-line}; {centre silver-compass} | On hollow ware the same as the fan alone.
(d) | Rowan plain | rowan | any | 1930/1938 | | s-counter | | The orange glaze that a counter answers to.
(e) | Silver lace on rowan | rowan | first | 1930/1938 | | s-drove-sheet | rim silver-lace; {line silver-line}; {finial gold-solid} 0 |
117 | Fern pair on canary | canary | any | 1930/1936~ | | s-drove-dig | rim fern-pair; handle gold-line hollow | The stamp came from the common supplier; the number too?
(f) | Tulip row | canary | any | 1934/1938 | | s-drove-sheet | rim tulip-row; {line black-line} .75 |
"""

CORBEL = """
(a) | Slate plain | slate | any | 1931/1941 | | s-drove-sheet | |
(b) | Silver star | slate | first | 1932/1941 | | s-drove-sheet | rim silver-star; {line silver-line}; {centre silver-compass} |
(c) | Silver star, no centre | slate | any | 1933~/1941 | | s-drove-sheet | rim silver-star; {line silver-line} | On hollow ware the same as with centre.
(d) | Fluted canary | canary | any | 1931/1941 | | s-drove-sheet | body relief-flutes hollow; {line black-line} |
(e) | Platinum fan | slate | first | 1932/1940 | | s-drove-sheet | rim step-fan; {line platinum-line} |
40 | Violet posy | canary | second | 1931/1938 | | s-drove-dig | rim violet-posy |
(g) | Rowan and black | rowan | any | 1931/1938 | | s-counter | {line black-line}; {finial platinum-solid} 0 |
"""

MANTEL = """
M.3 | Etched vine | hearth-white | first | 1930/1948 | | s-mothwick-ledger | rim etched-vine; edge gold-line; handle gold-solid hollow; {finial gold-solid} |
M.5 | Maroon and etched gold | hearth-white | first | 1930/1945 | | s-mothwick-ledger | rim etched-vine; verge maroon-band flat; {line gold-line}; {finial gold-solid}; body maroon-solid coffeepot |
M.7 | Fern pair, outside work | hearth-white | any | 1931/1946 | | s-mothwick-ledger | rim fern-pair; {line gold-line}; {centre rosette}; {finial gold-solid} |
M.8 | Fern pair and bouquet | hearth-white | any | 1932/1946 | | s-mothwick-ledger | rim fern-pair; {line gold-line}; {centre basket-bouquet}; {finial gold-solid} | On hollow ware the same as M.7.
M.11 | Gold band | hearth-white | first | 1930/1948 | | s-mothwick-ledger | rim gold-band; handle gold-solid hollow |
M.14 | Cobalt and gold | hearth-white | first | 1932/1948 | | s-mothwick-ledger | rim cobalt-band; {line gold-line}; {finial gold-solid} |
M.15 | Ribbon bow | hearth-white | any | 1933/1948 | Northgate Parcel Catalogue (invented) | s-northgate-38 | rim ribbon-bow; {line gold-line} .7 |
(a) | Beads left white | hearth-white | second | 1930/1948 | | s-mothwick-ledger | edge relief-beads | Sold bare when the gilding failed.
"""
