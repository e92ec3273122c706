# SPDX-License-Identifier: Apache-2.0
"""Invented sources. Every title says so, so that nobody looks for one in a library."""

# id | kind | creator | title, "(invented)" is added | date | locator | trust
SOURCES = """
s-history | book | Orla Tamsett | Clay and Gold in the Ambrel Valley | 1988 | whole book | 0.85
s-pell-memoir | memoir | Jory Pellinder | Forty Years at Pell Lane | 1979 | ch. 3-9 | 0.60
s-drove-dig | find report | Valley Field Group | Trenches at the Drovemere waster heap | 2004 | contexts 11-58 | 0.80
s-drove-sheet | catalogue | Drovemere Art Pottery | Sheet of ware for the trade | 1931 | one sheet | 0.90
s-mothwick-ledger | ledger | Mothwick Decorating Rooms | Order ledger 1922-1951 | 1922/1951 | fol. 1-212 | 0.85
s-vetch-book | pattern book | Vetch & Sallow | Impressions of all stamps cut | 1896/1947 | nos. 1-388 | 0.90
s-vetch-last | pattern book | Vetch & Sallow | Last stamps cut | 1948/1958 | nos. 389-412 | 0.90
s-pinmarsh-list | price list | Pinmarsh Transfer Company | Decals in stock, with supplements | 1905/1968 | | 0.80
s-glaze-book | notebook | Kettlewharf Pottery | Glaze trials | 1919/1946 | pp. 4-90 | 0.85
s-counter | report | Ambrel Valley Study Circle | Counter readings on orange and yellow ware | 2016 | table 2 | 0.85
s-kw-works-list | list | Kettlewharf Pottery | Stamps owned by the works | 1939 | | 0.85
s-marks-notebook | notebook | Hesper Vane | Marks copied from 900 pieces | 1971/1996~ | vols. 1-4 | 0.75
s-seconds-letter | letter | A. Quillon, foreman of the seconds room | Letter on the numbers of seconds | 1937-03 | 3 leaves | 0.80
s-letter-harl | letter | Bram Harl, collector | Letters on numbers that nobody explains | 1992/2011 | 14 letters | 0.50
s-order-1935 | order form | Kettlewharf Pottery | Order form, spring | 1935-02 | | 0.95
s-order-1947 | order form | Kettlewharf Pottery | Order form, first after the war | 1947-09 | | 0.95
s-cat-kw-1912 | catalogue | Kettlewharf Pottery | Coulter ware | 1912 | pp. 1-24 | 0.95
s-cat-kw-1919 | catalogue | Kettlewharf Pottery | Coulter ware, new treatments | 1919 | pp. 1-16 | 0.95
s-cat-kw-1926 | catalogue | Kettlewharf Pottery | Harrow, the new line | 1926 | pp. 1-20 | 0.95
s-cat-kw-1933 | catalogue | Kettlewharf Pottery | Harrow in ten treatments | 1933 | pp. 1-12 | 0.95
s-cat-kw-1938 | catalogue | Kettlewharf Pottery | Harrow and the Sedge glaze | 1938 | pp. 1-16 | 0.95
s-cat-kw-1948 | catalogue | Kettlewharf Pottery | Winnow | 1948 | pp. 1-8 | 0.95
s-cat-kw-1955 | catalogue | Kettlewharf Pottery | Winnow for the bride | 1955 | pp. 1-12 | 0.95
s-cat-ab-1908 | catalogue | Ambrel Bank China Works | Osier ware | 1908 | pp. 1-18 | 0.95
s-cat-ab-1924 | catalogue | Ambrel Bank China Works | Weir ware | 1924 | pp. 1-14 | 0.95
s-cat-ab-1926 | catalogue | Ambrel Bank China Works | Weir in Buttermilk | 1926 | pp. 1-20 | 0.95
s-ab-sheet-31 | catalogue | Ambrel Bank China Works | Supplement to Weir | 1931 | 2 leaves | 0.95
s-cat-ab-1937 | catalogue | Ambrel Bank China Works | Towpath, square ware | 1937 | pp. 1-12 | 0.95
s-ab-sheet-38 | catalogue | Ambrel Bank China Works | Supplement to Towpath and Weir | 1938~ | 2 leaves | 0.85
s-ab-daybook | ledger | Ambrel Bank China Works | Day book of the decorating shop | 1904/1957 | | 0.90
s-cat-pl-1930 | catalogue | Pell Lane Pottery | Medlar | 1930 | pp. 1-16 | 0.95
s-cat-pl-1936 | catalogue | Pell Lane Pottery | Medlar and Bullace | 1936 | pp. 1-24 | 0.95
s-pl-sheet-47 | catalogue | Pell Lane Pottery | What can be had again | 1947 | 1 leaf | 0.90
s-cat-pl-1953 | catalogue | Pell Lane Pottery | Costard | 1953 | pp. 1-10 | 0.95
s-pl-list-61 | price list | Pell Lane Pottery | Costard, open stock | 1961 | | 0.95
s-tidewell | premium list | Tidewell Tea | What your coupons bring | 1919/1941 | 23 lists | 0.70
s-brindle | advertisement | Brindle Oats | A dish in each packet | 1934/1940 | 9 cuttings | 0.70
s-northgate-32 | catalogue | Northgate Parcel Catalogue | Autumn | 1932-23 | p. 311 | 0.85
s-northgate-38 | catalogue | Northgate Parcel Catalogue | Spring | 1938-21 | pp. 288-290 | 0.85
s-northgate-51 | catalogue | Northgate Parcel Catalogue | Spring | 1951-21 | p. 402 | 0.85
s-northgate-56 | catalogue | Northgate Parcel Catalogue | Autumn | 1956-23 | p. 377 | 0.85
s-ad-courier-1927 | advertisement | The Ambrel Courier | Harrow for the autumn table | 1927-10-14 | p. 6 | 0.90
s-ad-hearth-1932 | advertisement | Hearth & Larder | Fern Pair, by the open-stock piece | 1932-04 | p. 47 | 0.90
s-ad-hearth-1936 | advertisement | Hearth & Larder | Bullace: ring upon ring | 1936-11 | p. 60 | 0.90
s-ad-courier-1950 | advertisement | The Ambrel Courier | Clearing of Winnow | 1950-01-20 | p. 4 | 0.85
s-bride-letter | letter | E. Marrable | Thanks for the wedding service | 1934-06-30 | 1 leaf | 0.70
s-cellar-find | find report | Valley Field Group | A filled cellar in Weir Street | 1998 | contexts 3-9 | 0.80
s-mark-survey | survey | Ambrel Valley Study Circle | Dated marks on 212 pieces | 2014/2019 | sheets 1-31 | 0.80
s-museum-card | record | Ambrel Bridge Museum | Object cards, table ware | 1965~ | cards 40-118 | 0.55
s-dealer-list | price list | Nettle & Crane, dealers | List of patterns matched | 1983? | 6 leaves | 0.40
"""
