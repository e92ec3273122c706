# SPDX-License-Identifier: Apache-2.0
"""Letters that came to the invented owner of the demo cupboard, in the form in which an export holds them. The people are
invented, and so are the addresses (example.org is nobody's)."""

OTHERS = [
    {"kind": "letter", "id": "letter-0001", "body": {
        "name": "Osric Vane", "address": "", "received": "2026-10-03",
        "subject": "two plates that look the same",
        "text": "I bought two dinner plates for the same service, and they match, only that one has a small bunch of "
                "flowers in the middle and the other has none. The dealer says it was worn off. Is that possible?",
        "state": "asked", "pieces": [], "reply": "", "answered": "", "sighting": False,
        "note": "Asked for a photograph of the middle with the light from the side, and of both undersides."}},
    {"kind": "letter", "id": "letter-0002", "body": {
        "name": "Maud Ellery", "address": "maud.ellery@example.org", "received": "2026-11-12",
        "subject": "a sugar bowl with a gold border",
        "text": "My grandmother left me a covered sugar bowl. Under the lid's edge runs a border of little fern leaves "
                "in pairs, in gold, half rubbed away on one side. The handles are rounded and have a gold line. There is "
                "no name underneath; I can make out a 1, then something, then a 7.\n\nCan you tell me what it is, and "
                "what I should look for to buy the cups that go with it?",
        "state": "new", "pieces": [], "reply": "", "answered": "", "sighting": False, "note": ""}},
]
