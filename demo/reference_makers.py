# SPDX-License-Identifier: Apache-2.0
"""The invented potteries of the Ambrel valley: makers, shapes, forms, sizes and glazes. Fields are split at |."""

MAKERS = """
kettlewharf | Kettlewharf Pottery | pottery | Kettlewharf, Ambrel valley (invented) | 1888~/1962 | 0.30 | 0.35 | Cream and white dinnerware; raised the number by 500 for second-grade ware. | s-history
ambrel-bank | Ambrel Bank China Works | pottery | Ambrel Bank, Ambrel valley (invented) | 1901/1957 | 0.20 | 0.40 | Added an X to the number for second-grade ware. | s-history
pell-lane | Pell Lane Pottery | pottery | Pell Lane, Ambrel valley (invented) | 1911/1974~ | 0.35 | 0.25 | Two works; a B after the number is second-grade ware. | s-pell-memoir
drovemere | Drovemere Art Pottery | pottery | Drovemere, Ambrel valley (invented) | 1919?/1941 | 0.50 | 0.08 | Small works; most of its ware bears neither mark nor number. | s-drove-dig
mothwick | Mothwick Decorating Rooms | decorator | Mothwick, Ambrel valley (invented) | 1922/1951 | 0.40 | 0.15 | Decorated blanks that it bought; fired no body of its own. | s-mothwick-ledger
vetch-sallow | Vetch & Sallow, Stamp Cutters | supplier | Kettlewharf, Ambrel valley (invented) | 1896/1958 | | | Cut rubber stamps for gold and sold the same stamp to all who asked. | s-vetch-book
pinmarsh | Pinmarsh Transfer Company | supplier | Pinmarsh, Ambrel valley (invented) | 1905/1969~ | | | Printed decals. | s-pinmarsh-list
"""

SHAPES = """
coulter | kettlewharf | Coulter | 1909~/1931 | Plain round edge, tall foot. | s-cat-kw-1912
harrow | kettlewharf | Harrow | 1924/1949 | Faint ribs on the rim, angular handles. | s-cat-kw-1926
winnow | kettlewharf | Winnow | 1947/1962 | Coupe plates without a verge. | s-cat-kw-1948
osier | ambrel-bank | Osier | 1904/1927 | Moulded basket edge. | s-cat-ab-1908
weir | ambrel-bank | Weir | 1921/1951 | Smooth edge, a step at the verge. | s-cat-ab-1924
towpath | ambrel-bank | Towpath | 1936/1957 | Square plates with cut corners, round cups. | s-cat-ab-1937
medlar | pell-lane | Medlar | 1928/1958 | Gadrooned edge. | s-cat-pl-1930
bullace | pell-lane | Bullace | 1935/1962 | Concentric rings on the rim. | s-cat-pl-1936
costard | pell-lane | Costard | 1951/1974~ | Streamlined, lids sunk into the rim. | s-cat-pl-1953
lintel | drovemere | Lintel | 1929/1938 | Octagonal flat ware. | s-drove-sheet
corbel | drovemere | Corbel | 1931/1941 | Round, with stepped handles. | s-drove-sheet
mantel | mothwick | Mantel | 1930/1948 | A bought blank; who potted it is disputed. | s-mothwick-ledger
"""

# id | name | ware | outline | aat | note
FORMS = """
dinner-plate | Dinner plate | flat | round | 300042991 |
luncheon-plate | Luncheon plate | flat | round | 300042991 |
breakfast-plate | Breakfast plate | flat | round | 300042991 |
pie-plate | Pie plate | flat | round | 300042991 |
bread-plate | Bread and butter plate | flat | round | 300230292 |
square-plate | Square plate | flat | square | 300042991 |
octagon-plate | Octagonal plate | flat | octagonal | 300042991 |
cake-plate | Cake plate, two lugs | flat | round | 300042991 | The lugs count as handles.
coupe-soup | Coupe soup | flat | round | | No rim; the border stands inside the wall.
rim-soup | Rim soup | flat | round | |
fruit-dish | Fruit dish | flat | round | 300042973 | Also sold as a sauce dish.
oatmeal-bowl | Oatmeal bowl | flat | round | 300203596 | Seen from above, so flat ware as the trade counted it.
saucer | Saucer | flat | round | 300195535 |
small-platter | Platter, small | flat | oval | 300043053 |
large-platter | Platter, large | flat | oval | 300043053 |
nappy | Nappy | flat | round | | Round open vegetable dish.
baker | Baker | flat | oval | 300042973 | Oval open vegetable dish.
gravy-stand | Gravy stand | flat | oval | 300043071 |
celery-tray | Celery tray | flat | oval | 300043071 |
bread-tray | Bread tray | flat | oval | 300043073 |
cup | Tea cup | hollow | round | 300043202 |
coffee-cup | After-dinner coffee cup | hollow | round | 300043202 |
egg-cup | Egg cup | hollow | round | | Double: the small end takes an egg in its shell.
sugar | Sugar, lidded | hollow | round | 300042971 |
creamer | Creamer | hollow | round | 300220996 |
teapot | Teapot | hollow | round | 300043022 |
coffeepot | Coffeepot | hollow | round | 300072215 |
covered-dish | Covered dish | hollow | round | 300042973 |
sauce-boat | Sauce boat | hollow | oval | 300218762 |
jug | Jug | hollow | round | 300045685 |
bowl | Bowl | hollow | round | 300203596 |
slop-bowl | Slop bowl | hollow | round | 300042968 |
butter-dish | Butter dish | hollow | round | 300042973 | Lid and drainer.
jam-jar | Jam jar | hollow | round | 300195347 |
"""

# form | trade size | measured length, width, height in mm | capacity in ml; the trade size is the catalogue's, which
# named plates after the well rather than the edge, and jugs and bowls after the potter's count
SIZES = """
dinner-plate | 8 in | 251 | | 25 |
luncheon-plate | 7 in | 230 | | 23 |
breakfast-plate | 6 in | 208 | | 21 |
pie-plate | 5 in | 182 | | 19 |
bread-plate | 4 in | 157 | | 17 |
square-plate | 7 in sq. | 215 | 215 | 20 |
octagon-plate | 7 in oct. | 226 | 226 | 21 |
cake-plate | 9 in | 268 | 246 | 24 |
coupe-soup | 7 in cpe. | 196 | | 38 |
rim-soup | 7 in rim | 226 | | 36 |
fruit-dish | 4 in | 134 | | 31 |
oatmeal-bowl | 36s | 152 | | 48 |
saucer | reg. | 152 | | 22 |
small-platter | 8 in | 296 | 222 | 28 |
large-platter | 12 in | 392 | 298 | 34 |
nappy | 7 in | 219 | | 57 |
baker | 7 in | 232 | 172 | 54 |
gravy-stand | fast st. | 224 | 148 | 22 |
celery-tray | 10 in | 298 | 131 | 30 |
bread-tray | 11 in | 322 | 168 | 27 |
cup | reg. | 112 | 92 | 62 | 215
coffee-cup | a.d. | 84 | 66 | 58 | 105
egg-cup | dbl. | 71 | 71 | 98 | 85
sugar | 30s | 158 | 112 | 104 | 390
creamer | 42s | 132 | 88 | 86 | 270
teapot | 24s | 236 | 142 | 158 | 980
coffeepot | 12s | 228 | 130 | 232 | 1420
covered-dish | 8 in cov. | 268 | 218 | 142 | 1650
sauce-boat | 30s | 205 | 96 | 88 | 440
jug | 24s | 168 | 124 | 152 | 890
bowl | 30s | 148 | | 84 | 720
slop-bowl | 36s | 136 | | 72 | 540
butter-dish | 5 in | 188 | 188 | 96 |
jam-jar | 54s | 92 | 92 | 118 | 330
"""

# shape | factor of the measured size | forms not made in it | own forms | source | trade sizes by this pottery's own rule
SHAPE_SIZES = """
coulter | 0.985 | square-plate octagon-plate cake-plate egg-cup coffeepot butter-dish bread-tray jam-jar coupe-soup | s-cat-kw-1912 |
harrow | 1.000 | square-plate octagon-plate coffeepot jam-jar bread-tray coffee-cup | s-cat-kw-1926 |
winnow | 1.020 | square-plate octagon-plate rim-soup egg-cup slop-bowl celery-tray butter-dish coffee-cup | s-cat-kw-1948 |
osier | 0.970 | square-plate octagon-plate coupe-soup oatmeal-bowl egg-cup jam-jar coffeepot bread-tray | s-cat-ab-1908 |
weir | 1.008 | square-plate octagon-plate coffeepot jam-jar | s-cat-ab-1924 |
towpath | 1.014 | octagon-plate rim-soup luncheon-plate slop-bowl egg-cup bowl | s-cat-ab-1937 |
medlar | 0.994 | square-plate octagon-plate coffee-cup jam-jar | s-cat-pl-1930 |
bullace | 1.004 | square-plate octagon-plate bread-tray slop-bowl | s-cat-pl-1936 | inches
costard | 1.030 | square-plate octagon-plate rim-soup egg-cup slop-bowl celery-tray | s-cat-pl-1953 | inches
lintel | 0.990 | square-plate dinner-plate luncheon-plate cake-plate egg-cup covered-dish coffeepot celery-tray bread-tray jug bowl | s-drove-sheet |
corbel | 0.996 | square-plate octagon-plate cake-plate covered-dish celery-tray bread-tray slop-bowl butter-dish | s-drove-sheet |
mantel | 1.012 | square-plate octagon-plate oatmeal-bowl egg-cup jam-jar bowl jug baker | s-mothwick-ledger |
"""

# Forms taken up or dropped while a shape was made: shape | form | years
SHAPE_FORM_YEARS = """
harrow | coupe-soup | 1929/1949
harrow | slop-bowl | 1924/1933~
harrow | butter-dish | 1924/1938
harrow | cake-plate | 1931/1949
weir | coffee-cup | 1928/1951
weir | slop-bowl | 1921/1930~
medlar | egg-cup | 1928/1941
bullace | jam-jar | 1946?/1962
towpath | butter-dish | 1938/1950
costard | coffeepot | 1956/1974~
"""

# id | maker | name | L | a | b (D50) | years | uranium | source
GLAZES = """
oat | kettlewharf | Oat | 88.1 | 1.2 | 9.4 | 1924/1949 | no | s-glaze-book
chalk | kettlewharf | Chalk | 93.2 | -0.4 | 3.1 | 1888~/1962 | no | s-glaze-book
sedge | kettlewharf | Sedge | 84.0 | -6.8 | 11.5 | 1938/1956 | no | s-glaze-book
buttermilk | ambrel-bank | Buttermilk | 90.2 | 0.6 | 13.8 | 1926/1957 | no | s-cat-ab-1926
frost | ambrel-bank | Frost | 91.4 | -1.6 | -0.8 | 1901/1940 | no | s-cat-ab-1908
rosewater | ambrel-bank | Rosewater | 85.3 | 7.9 | 8.2 | 1936/1955 | unknown | s-cat-ab-1937
snow | pell-lane | Snow | 94.6 | -0.3 | 1.2 | 1911/1974~ | no | s-pell-memoir
whey | pell-lane | Whey | 89.0 | 1.9 | 15.2 | 1930/1962 | no | s-cat-pl-1930
linden | pell-lane | Linden | 82.4 | -9.6 | 17.0 | 1934/1955 | unknown | s-cat-pl-1936
canary | drovemere | Canary | 84.9 | 1.2 | 47.5 | 1929/1941 | unknown | s-drove-sheet
rowan | drovemere | Rowan | 62.5 | 38.4 | 58.7 | 1930/1938 | yes | s-counter
slate | drovemere | Slate | 46.8 | -2.4 | -9.9 | 1931/1941 | no | s-drove-sheet
hearth-white | mothwick | White of the bought blank | 92.3 | 0.2 | 4.6 | 1922/1951 | unknown | s-mothwick-ledger
"""
