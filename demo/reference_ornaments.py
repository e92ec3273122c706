# SPDX-License-Identifier: Apache-2.0
"""The ornaments, each with a drawing of the same name (drawings_*.py)."""

# id | name | kind | finish | supplier | shared | second_share | years | source
ORNAMENTS = """
fern-pair | Fern pair | stamp | gold | vetch-sallow | yes | | 1912~/1956 | s-vetch-book
fern-ladder | Fern ladder | stamp | gold | vetch-sallow | yes | | 1915/1950~ | s-vetch-book
bellflower-drop | Bellflower drop | stamp | gold | vetch-sallow | yes | | 1908~/1941 | s-vetch-book
barley-sprig | Barley sprig | stamp | gold | vetch-sallow | yes | | 1922/1954 | s-vetch-book
laurel-run | Laurel run | stamp | gold | vetch-sallow | yes | | 1904/1951 | s-vetch-book
key-band | Key band | stamp | gold | vetch-sallow | | | 1909~/1936 | s-vetch-book
trellis-band | Trellis band | stamp | gold | vetch-sallow | yes | | 1924/1952 | s-vetch-book
swag-tassel | Swag and tassel | stamp | gold | vetch-sallow | | | 1906/1939 | s-vetch-book
ribbon-bow | Ribbon bow | stamp | gold | vetch-sallow | | | 1927/1953 | s-vetch-book
lyre-scroll | Lyre and scroll | stamp | gold | vetch-sallow | yes | | 1910/1947~ | s-vetch-book
star-dot | Star and dot | stamp | gold | | | | 1931/1962 | s-kw-works-list
lace-edge | Lace edge | stamp | gold | vetch-sallow | yes | | 1905~/1957 | s-vetch-book
acorn-sprig | Acorn sprig | stamp | gold | vetch-sallow | | | 1933/1949 | s-vetch-book
shell-scroll | Shell and scroll | stamp | gold | vetch-sallow | yes | | 1914/1951 | s-vetch-book
ivy-trail | Ivy trail | stamp | gold | | | | 1936/1958 | s-cat-pl-1936
arcade | Arcade | stamp | gold | vetch-sallow | | | 1925/1940 | s-vetch-book
honeysuckle | Honeysuckle | stamp | gold | vetch-sallow | | | 1904/1933 | s-vetch-book
wave-scroll | Wave scroll | stamp | gold | | | | 1921/1944 | s-cat-ab-1924
pearl-string | Pearl string | stamp | gold | vetch-sallow | yes | 0.15 | 1919/1957 | s-vetch-book
clover-dash | Clover and dash | stamp | gold | vetch-sallow | yes | 0.85 | 1926/1951 | s-seconds-letter
etched-vine | Etched vine | band | gold | | | 0.03 | 1924/1951 | s-mothwick-ledger
step-fan | Stepped fan | stamp | platinum | | | | 1931/1941 | s-drove-sheet
long-grass | Long grass | stamp | platinum | vetch-sallow | yes | | 1948/1974~ | s-vetch-last
silver-lace | Lace edge in silver | stamp | silver | vetch-sallow | | | 1929/1938 | s-vetch-book
silver-star | Star and dot in silver | stamp | silver | | | | 1932/1941 | s-kw-works-list
rosette | Rosette | stamp | gold | vetch-sallow | yes | | 1912~/1956 | s-vetch-book
fern-wreath | Fern wreath | stamp | gold | vetch-sallow | | | 1924/1949 | s-vetch-book
laurel-medallion | Laurel medallion | stamp | gold | vetch-sallow | yes | | 1904/1951 | s-vetch-book
urn-medallion | Urn medallion | stamp | gold | vetch-sallow | | | 1906/1939 | s-vetch-book
compass-star | Compass star | stamp | gold | | | | 1921/1958 | s-cat-ab-1924
silver-compass | Compass star in silver | stamp | silver | | | | 1930/1941 | s-drove-sheet
platinum-tuft | Grass tuft | stamp | platinum | vetch-sallow | | | 1950/1974~ | s-vetch-last
rose-garland | Rose garland | decal | pink | pinmarsh | yes | | 1911/1952 | s-pinmarsh-list
cornflower-spray | Cornflower spray | decal | blue | pinmarsh | yes | | 1928/1960 | s-pinmarsh-list
poppy-meadow | Poppy meadow | decal | red | pinmarsh | | | 1932/1955 | s-pinmarsh-list
violet-posy | Violet posy | decal | violet | pinmarsh | yes | 0.20 | 1919/1950 | s-pinmarsh-list
apple-bough | Apple bough | decal | pink | pinmarsh | | | 1936/1962 | s-pinmarsh-list
bramble-trail | Bramble trail | decal | plum | pinmarsh | yes | | 1930/1957 | s-pinmarsh-list
tulip-row | Tulip row | decal | red | pinmarsh | | | 1934/1949 | s-pinmarsh-list
pansy-ribbon | Pansy ribbon | decal | violet | pinmarsh | | 0.30 | 1925/1941 | s-pinmarsh-list
hedgerow-print | Hedgerow | print | brown | | | | 1905/1929 | s-cat-ab-1908
basket-bouquet | Basket bouquet | decal | pink | pinmarsh | yes | | 1924/1953 | s-pinmarsh-list
wild-rose-spray | Wild rose spray | decal | pink | pinmarsh | yes | | 1928/1962 | s-pinmarsh-list
harebell-tuft | Harebell tuft | decal | blue | pinmarsh | | | 1931/1956 | s-pinmarsh-list
wren-bough | Wren on a bough | decal | brown | pinmarsh | | | 1938/1966 | s-pinmarsh-list
mill-view | Mill view | print | blue | | | | 1906/1930~ | s-cat-kw-1912
pear-bough | Pear bough | decal | yellow | pinmarsh | | | 1947/1974~ | s-pinmarsh-list
gold-line | Gold line | line | gold | | yes | | 1888~/1974~ | s-history
gold-hairline | Gold hairline | line | gold | | yes | | 1896/1974~ | s-history
gold-double-line | Gold double line | line | gold | | | 0.10 | 1909~/1957 | s-cat-kw-1912
platinum-line | Platinum line | line | platinum | | yes | | 1931/1974~ | s-cat-pl-1936
silver-line | Silver line | line | silver | | | | 1924/1941 | s-drove-sheet
blue-line | Blue line | line | blue | | yes | | 1901/1962 | s-history
green-line | Green line | line | green | | yes | 0.60 | 1914/1960 | s-seconds-letter
maroon-line | Maroon line | line | maroon | | | | 1924/1951 | s-cat-pl-1930
black-line | Black line | line | black | | | | 1929/1941 | s-drove-sheet
coral-line | Coral line | line | coral | | | 0.70 | 1933/1962 | s-seconds-letter
gold-band | Gold band | band | gold | | yes | | 1902/1974~ | s-history
platinum-band | Platinum band | band | platinum | | | | 1936/1974~ | s-cat-ab-1937
cobalt-band | Cobalt band | band | cobalt | | yes | 0.05 | 1908/1951 | s-cat-ab-1908
maroon-band | Maroon band | band | maroon | | yes | 0.05 | 1926/1951 | s-mothwick-ledger
ivory-band | Ivory band | band | ivory | | | | 1924/1949 | s-cat-kw-1926
sage-band | Sage band | band | green | | | | 1947/1974~ | s-cat-pl-1953
turquoise-bands | Turquoise bands | band | turquoise | | | | 1936/1962 | s-cat-pl-1936
rust-bands | Rust bands | band | rust | | | | 1930/1962 | s-cat-pl-1936
gold-solid | Solid gold | solid | gold | | yes | | 1902/1974~ | s-history
platinum-solid | Solid platinum | solid | platinum | | | | 1936/1974~ | s-cat-ab-1937
cobalt-solid | Solid cobalt | solid | cobalt | | | | 1908/1951 | s-cat-ab-1908
maroon-solid | Solid maroon | solid | maroon | | | | 1926/1951 | s-mothwick-ledger
relief-beads | Moulded beads | relief | self colour | | | | 1888~/1974~ | s-history
relief-gadroon | Moulded gadroon | relief | self colour | | | | 1928/1958 | s-cat-pl-1930
relief-flutes | Moulded flutes | relief | self colour | | | | 1929/1962 | s-cat-pl-1936
relief-ferns | Moulded ferns | relief | self colour | | | | 1904/1927 | s-cat-ab-1908
"""
