# SPDX-License-Identifier: Apache-2.0
"""The treatments of the two older potteries. One line each:

    number | name | glaze | grade | years | outlet | source | decoration | note

A number in brackets is a letter for the id only: the treatment has no number. Decoration is a list of rows
`place ornament [on] [share]`, split at `;`, with these short forms (expanded by pack_tables.decoration_rows):
    {line X}    edge X; handle X hollow          {centre X}  centre X flat; centre X saucer 0
    {lid X}     lid X on each lidded form        {finial X}  finial X on each lidded form
    = 117       the same rows as number 117 of this shape
"""

COULTER = """
201 | Plain gold line | chalk | any | 1909~/1931 | | s-cat-kw-1912 | {line gold-line} | The commonest of all Coulter treatments.
202 | Double line | chalk | any | 1909~/1926 | | s-cat-kw-1912 | edge gold-double-line; handle gold-line hollow |
204 | Lace edge | chalk | first | 1910/1931 | | s-cat-kw-1912 | rim lace-edge; handle gold-line hollow; {lid lace-edge} |
704 | Lace edge, second | chalk | second | 1911~/1931 | | s-seconds-letter | = 204 |
206 | Bellflower with urn | chalk | first | 1910/1929 | | s-cat-kw-1912 | rim bellflower-drop; {centre urn-medallion}; {line gold-line}; {finial gold-solid} |
207 | Bellflower without urn | chalk | first | 1912/1931 | | s-cat-kw-1919 | rim bellflower-drop; {line gold-line}; {finial gold-solid} | On hollow ware the same as 206.
707 | Bellflower, second | chalk | second | 1914/1931 | | s-seconds-letter | rim bellflower-drop; handle gold-line hollow |
209 | Key band | chalk | first | 1909~/1925 | | s-cat-kw-1912 | rim key-band; verge gold-hairline flat; {line gold-line} |
211 | Mill view in blue | chalk | any | 1909/1929 | | s-cat-kw-1912 | {centre mill-view}; edge blue-line; body mill-view hollow; handle blue-line hollow |
212 | Fern pair, early | chalk | first | 1912~/1929 | | s-cat-kw-1919 | rim fern-pair; {line gold-line}; {lid fern-pair} | The first line that bears the fern pair.
712 | Fern pair, early, second | chalk | second | 1913/1929 | | s-seconds-letter | = 212 |
214 | Fern pair with rosette | chalk | first | 1915/1931 | | s-cat-kw-1919 | rim fern-pair; {centre rosette}; edge gold-line; handle gold-line hollow; {lid rosette} |
216 | Swag and tassel | chalk | first | 1911/1930 | | s-cat-kw-1912 | rim swag-tassel; {line gold-line}; {finial gold-solid}; {centre laurel-medallion} |
218 | Rose garland | chalk | first | 1913/1931 | | s-cat-kw-1919 | rim rose-garland; edge gold-line; handle gold-line hollow; body rose-garland jug |
718 | Rose garland, second | chalk | second | 1914/1931 | | s-seconds-letter | rim rose-garland; edge green-line; handle green-line hollow | Green where the first has gold.
220 | Tidewell tea premium | chalk | any | 1919/1926~ | Tidewell Tea coupons (invented) | s-tidewell | rim honeysuckle; edge gold-line flat .8; handle gold-line hollow .8 |
K9 | Number not explained | chalk | any | 1921?/1928~ | | s-letter-harl | rim lyre-scroll; {line gold-line} | K9 is on five pieces; no list has it.
222 | Violet posy | chalk | any | 1919/1931 | | s-cat-kw-1919 | rim violet-posy; {line gold-line}; inside violet-posy cup |
"""

HARROW = """
101 | Gold line | oat | any | 1924/1949 | | s-cat-kw-1926 | {line gold-line} |
102 | Gold line on chalk | chalk | any | 1924/1940 | | s-cat-kw-1926 | {line gold-line} |
104 | Green line | oat | second | 1927/1949 | | s-seconds-letter | {line green-line} | Plain ware for the seconds room.
106 | Fern ladder | oat | first | 1924/1938 | | s-cat-kw-1926 | rim fern-ladder; {line gold-line}; verge gold-hairline flat |
606 | Fern ladder, second | oat | second | 1925/1938 | | s-seconds-letter | = 106 |
109 | Barley | oat | first | 1925/1941 | | s-cat-kw-1926 | rim barley-sprig; handle gold-line hollow; {finial gold-solid} |
609 | Barley, second | oat | second | 1926/1941 | | s-seconds-letter | = 109 |
112 | Ivory band and lace | chalk | first | 1924/1936 | | s-cat-kw-1926 | rim ivory-band; verge lace-edge flat; body lace-edge hollow; {line gold-line} | Band and stamp together.
114 | Basket bouquet and fern | oat | first | 1929/1940 | | s-cat-kw-1933 | rim fern-pair; {centre basket-bouquet}; {lid fern-pair}; handle gold-line hollow | Decal and stamp together.
614 | Basket bouquet and fern, second | oat | second | 1930/1941 | | s-seconds-letter | = 114 |
117 | Fern pair with rosette | oat | first | 1930/1939 | | s-cat-kw-1933 | rim fern-pair; {centre rosette}; {lid fern-pair}; handle gold-line hollow; inside rosette covered-dish |
617 | Fern pair with rosette, second | oat | second | 1930/1940~ | | s-seconds-letter | = 117 |
127 | Fern pair with wreath | oat | first | 1931/1940 | | s-cat-kw-1933 | rim fern-pair; {centre fern-wreath}; {lid fern-pair}; handle gold-line hollow; inside fern-wreath covered-dish | Twin of 117 on every small hollow piece.
627 | Fern pair with wreath, second | oat | second | 1932/1941~ | | s-seconds-letter | = 127 |
137 | Fern pair, gold edge | oat | first | 1929/1938 | | s-cat-kw-1933 | rim fern-pair; {centre rosette}; {line gold-line}; {lid fern-pair}; {finial gold-solid} |
157 | Fern pair, plain lid | oat | any | 1933~/1941 | | s-order-1935 | rim fern-pair; handle gold-line hollow .5; {centre rosette}; {finial gold-solid} | The lid is bare but for its finial; about half the handles are lined.
162 | Fern pair alone | oat | any | 1931/1949 | | s-order-1935 | rim fern-pair | No centre, no line: what was asked for most after the war.
119 | Bellflower | oat | first | 1924/1936 | | s-cat-kw-1926 | rim bellflower-drop; {line gold-line}; {finial gold-solid} |
121 | Trellis | oat | first | 1926/1941 | | s-cat-kw-1926 | rim trellis-band; {centre laurel-medallion}; {line gold-line}; {lid trellis-band} |
621 | Trellis, second | oat | second | 1927/1941 | | s-seconds-letter | rim trellis-band; {line gold-line} | No centre on seconds.
123 | Cornflower | oat | any | 1929/1942 | | s-cat-kw-1933 | rim cornflower-spray; {line blue-line}; body cornflower-spray jug |
125 | Cornflower on chalk | chalk | any | 1929/1938 | | s-cat-kw-1933 | rim cornflower-spray; {line blue-line} |
129 | Star and dot | oat | any | 1931/1949 | Northgate Parcel Catalogue (invented) | s-northgate-32 | rim star-dot; {line gold-line} |
131 | Acorn | oat | first | 1933/1946 | | s-cat-kw-1938 | rim acorn-sprig; {line gold-line}; verge gold-hairline flat; {finial gold-solid} |
631 | Acorn, second | oat | second | 1934/1946 | | s-seconds-letter | rim acorn-sprig; handle gold-line hollow |
133 | Rose garland | oat | first | 1925/1940 | | s-cat-kw-1926 | rim rose-garland; {line gold-line}; {lid rose-garland} |
135 | Clover | oat | second | 1926/1949 | | s-seconds-letter | rim clover-dash; handle gold-line hollow .5 |
141 | Pearl string | sedge | first | 1938/1949 | | s-cat-kw-1938 | rim pearl-string; {line gold-line}; {finial gold-solid} |
143 | Sedge and fern | sedge | first | 1938/1949 | | s-cat-kw-1938 | rim fern-pair; {centre rosette}; {line gold-line}; {lid fern-pair} |
643 | Sedge and fern, second | sedge | second | 1939/1949 | | s-seconds-letter | = 143 |
145 | Brindle oats premium | oat | any | 1934/1937 | Brindle Oats packets (invented) | s-brindle | rim clover-dash; {centre wild-rose-spray}; edge gold-line flat .7 | One piece in each packet.
4417 | Number not explained | oat | any | 193X | | s-letter-harl | rim laurel-run; {line gold-line}; {centre compass-star} .4 | Four figures where the pottery used three.
(a) | Undecorated | oat | any | 1924/1949 | | s-history | | Sold plain, and to decorators.
"""

WINNOW = """
301 | Gold line | chalk | any | 1947/1962 | | s-cat-kw-1948 | {line gold-line} |
303 | Fern pair, late | chalk | first | 1947/1955 | | s-cat-kw-1948 | rim fern-pair; {line gold-line}; {lid fern-pair} |
803 | Fern pair, late, second | chalk | second | 1948/1956 | | s-cat-kw-1955 | = 303 |
305 | Fern pair with wreath | sedge | first | 1947/1949 | | s-cat-kw-1948 | rim fern-pair; {centre fern-wreath}; handle gold-line hollow; inside fern-wreath covered-dish |
307 | Fern pair on sedge | sedge | any | 1947/1955 | | s-cat-kw-1948 | rim fern-pair; handle gold-line hollow | On hollow ware the same as 305 but for the covered dish.
309 | Wren | chalk | first | 1948/1962 | | s-cat-kw-1955 | {centre wren-bough}; body wren-bough hollow; {line gold-line} |
311 | Pear bough | chalk | first | 1947/1960 | | s-cat-kw-1955 | {centre pear-bough}; {line green-line} ; body pear-bough jug |
811 | Pear bough, second | chalk | second | 1948/1960 | | s-cat-kw-1955 | = 311 |
313 | Long grass | chalk | first | 1950/1962 | | s-cat-kw-1955 | rim long-grass; {line platinum-line}; {centre platinum-tuft}; {finial platinum-solid} |
315 | Long grass, no centre | chalk | any | 1951/1962 | | s-cat-kw-1955 | rim long-grass; {line platinum-line}; {finial platinum-solid} | On hollow ware the same as 313.
317 | Star and dot | sedge | any | 1948/1956 | Northgate Parcel Catalogue (invented) | s-northgate-51 | rim star-dot; handle gold-line hollow |
319 | Wild rose | chalk | first | 1949/1962 | | s-cat-kw-1955 | {centre wild-rose-spray}; edge coral-line flat .3; {line gold-line} |
321 | Lace edge | chalk | first | 1947/1957 | | s-cat-kw-1948 | rim lace-edge; handle gold-line hollow; {lid lace-edge} |
00 | Number not explained | chalk | any | 195X | | s-letter-harl | {centre harebell-tuft}; edge platinum-line | Two noughts, stamped; perhaps a trial.
"""

OSIER = """
O1 | Moulded ferns, undecorated | frost | any | 1904/1927 | | s-cat-ab-1908 | rim relief-ferns |
O2 | Moulded ferns, gold line | frost | first | 1904/1927 | | s-cat-ab-1908 | rim relief-ferns; {line gold-line}; {finial gold-solid} |
O2X | Moulded ferns, gold line, second | frost | second | 1905/1927 | | s-ab-daybook | = O2 |
O4 | Honeysuckle | frost | first | 1904/1924 | | s-cat-ab-1908 | rim honeysuckle; {line gold-line}; {centre laurel-medallion} |
O5 | Hedgerow in brown | frost | any | 1905/1926 | | s-cat-ab-1908 | rim hedgerow-print; body hedgerow-print hollow |
O7 | Cobalt and gold | frost | first | 1908/1927 | | s-cat-ab-1908 | rim cobalt-band; {line gold-line}; {finial gold-solid}; body cobalt-solid coffeepot |
O8 | Laurel run | frost | first | 1906/1927 | | s-cat-ab-1908 | rim laurel-run; {line gold-line}; {lid laurel-run} |
O8X | Laurel run, second | frost | second | 1907/1927 | | s-ab-daybook | = O8 |
O11 | Fern pair over moulded ferns | frost | first | 1913~/1927 | | s-ab-daybook | rim fern-pair; verge relief-ferns flat; {line gold-line} | The stamp that several potteries bought.
O12 | Shell and scroll | frost | first | 1914/1927 | | s-ab-daybook | rim shell-scroll; {line gold-line}; {centre urn-medallion} |
"""

WEIR = """
W1 | Gold line | frost | any | 1921/1940 | | s-cat-ab-1924 | {line gold-line} |
W2 | Gold line on buttermilk | buttermilk | any | 1926/1951 | | s-cat-ab-1926 | {line gold-line} |
W4 | Wave scroll with star | frost | first | 1921/1939 | | s-cat-ab-1924 | rim wave-scroll; verge gold-hairline flat; {centre compass-star}; {line gold-line}; {finial gold-solid} |
W4X | Wave scroll with star, second | frost | second | 1922/1939 | | s-ab-daybook | = W4 |
W5 | Wave scroll without star | frost | first | 1922/1940 | | s-cat-ab-1924 | rim wave-scroll; verge gold-hairline flat; {line gold-line}; {finial gold-solid} | Twin of W4 on hollow ware.
W7 | Fern pair | buttermilk | first | 1926/1944 | | s-cat-ab-1926 | rim fern-pair; {centre rosette}; {line gold-line}; {lid fern-pair} |
W7X | Fern pair, second | buttermilk | second | 1926/1944 | | s-ab-daybook | = W7 |
W8 | Fern pair on frost | frost | first | 1924~/1938 | | s-cat-ab-1924 | rim fern-pair; {line gold-line}; {lid fern-pair} |
W10 | Fern ladder | buttermilk | first | 1926/1949 | | s-cat-ab-1926 | rim fern-ladder; {line gold-line} |
W10X | Fern ladder, second | buttermilk | second | 1927/1949 | | s-ab-daybook | rim fern-ladder; handle gold-line hollow |
W12 | Lyre and scroll | buttermilk | first | 1926/1941 | | s-cat-ab-1926 | rim lyre-scroll; {centre laurel-medallion}; {line gold-line}; {finial gold-solid} |
W14 | Cobalt and gold | frost | first | 1921/1940 | | s-cat-ab-1924 | rim cobalt-band; verge gold-hairline flat; {line gold-line}; {finial gold-solid} |
W15 | Cobalt, gold and bouquet | frost | first | 1924/1940 | | s-cat-ab-1926 | rim cobalt-band; verge gold-hairline flat; {line gold-line}; {finial gold-solid}; {centre basket-bouquet} | On hollow ware the same as W14.
W17 | Violet posy | buttermilk | any | 1926/1948 | | s-cat-ab-1926 | rim violet-posy; {line gold-line}; inside violet-posy cup |
W18 | Bramble trail | buttermilk | first | 1930/1951 | | s-ab-sheet-31 | rim bramble-trail; {line gold-line}; body bramble-trail jug |
W18X | Bramble trail, second | buttermilk | second | 1931/1951 | | s-ab-daybook | rim bramble-trail; {line green-line} |
W20 | Pearl string | buttermilk | first | 1926/1951 | | s-cat-ab-1926 | rim pearl-string; {line gold-line} |
W22 | Arcade | frost | first | 1925/1938 | | s-cat-ab-1926 | rim arcade; {line gold-line}; {centre rosette} .6 | About two plates in five lack the rosette.
W24 | Lace edge | buttermilk | any | 1927/1950 | Tidewell Tea coupons (invented) | s-tidewell | rim lace-edge; handle gold-line hollow |
W26 | Trellis with wild rose | buttermilk | first | 1928/1949 | | s-ab-sheet-31 | rim trellis-band; {centre wild-rose-spray}; {line gold-line}; {lid trellis-band} | Decal and stamp together.
W28 | Clover | buttermilk | second | 1926/1951 | | s-ab-daybook | rim clover-dash |
W31 | Laurel run | buttermilk | first | 1926/1949 | | s-cat-ab-1926 | rim laurel-run; {centre laurel-medallion}; {line gold-line} |
W31X | Laurel run, second | buttermilk | second | 1927/1949 | | s-ab-daybook | = W31 |
77 | Number not explained | buttermilk | any | 1935?/1940? | | s-letter-harl | rim shell-scroll; {line gold-line} | No W before the number; bought out of another pottery's order?
(a) | Undecorated | buttermilk | any | 1926/1951 | Mothwick Decorating Rooms (invented) | s-mothwick-ledger | | Sold plain to the decorating rooms.
(b) | Etched vine by Mothwick | buttermilk | first | 1927/1949 | Mothwick Decorating Rooms (invented) | s-mothwick-ledger | rim etched-vine; edge gold-line; handle gold-solid hollow; {finial gold-solid} | Decorated outside on a Weir blank; bears the decorator's own mark over the glaze.
"""

TOWPATH = """
T1 | Platinum line | rosewater | any | 1937/1955 | | s-cat-ab-1937 | {line platinum-line} |
T2 | Gold line | buttermilk | any | 1936/1957 | | s-cat-ab-1937 | {line gold-line} |
T4 | Harebell | buttermilk | first | 1936/1956 | | s-cat-ab-1937 | {centre harebell-tuft}; body harebell-tuft hollow; {line blue-line} |
T4X | Harebell, second | buttermilk | second | 1937/1956 | | s-ab-daybook | = T4 |
T6 | Apple bough | rosewater | first | 1936/1955 | | s-cat-ab-1937 | rim apple-bough; {line gold-line} |
T7 | Apple bough and wild rose | rosewater | first | 1938/1955 | | s-ab-sheet-38 | rim apple-bough; {centre wild-rose-spray}; {line gold-line} | On hollow ware the same as T6.
T9 | Tulip row | buttermilk | any | 1936/1948 | Northgate Parcel Catalogue (invented) | s-northgate-38 | rim tulip-row; handle green-line hollow |
T9X | Tulip row, second | buttermilk | second | 1937/1949 | | s-ab-daybook | rim tulip-row |
T11 | Platinum band | rosewater | first | 1937/1955 | | s-cat-ab-1937 | rim platinum-band; handle platinum-line hollow; {finial platinum-solid} |
T13 | Barley | buttermilk | first | 1938/1953 | | s-ab-sheet-38 | rim barley-sprig; {line gold-line}; {finial gold-solid} |
T14 | Fern pair on a square | buttermilk | first | 1938/1954 | | s-ab-sheet-38 | rim fern-pair; {line gold-line}; {lid fern-pair}; {centre rosette} |
T14X | Fern pair on a square, second | buttermilk | second | 1939/1954 | | s-ab-daybook | = T14 |
T16 | Lace edge | rosewater | any | 1940/1955 | | s-ab-sheet-38 | rim lace-edge; handle gold-line hollow; {lid lace-edge} |
T18 | Ribbon bow | rosewater | first | 1937/1953 | | s-cat-ab-1937 | rim ribbon-bow; {line gold-line}; {finial gold-solid} |
(a) | Undecorated | rosewater | any | 1936/1955 | | s-cat-ab-1937 | |
"""
