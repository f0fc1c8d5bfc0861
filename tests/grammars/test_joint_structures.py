"""Levels, distances, lengths, coats, rates and packages said in many structures: each has the same rules as the plain form."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

import pytest

from reads import said

Row = tuple[str, str, str]
"""What a value is of as a label and behind a preposition, and the value."""

CONTENTS: dict[str, tuple[str, str, str, Sequence[Row], Sequence[str]]] = {
    # goods, head, verb, rows, rules
    "levels by surface": (
        "gypsum board finish", "Finish level", "shall be",
        [("Walls", "on walls", "Level 4"), ("Ceilings", "on ceilings", "Level 3")],
        ["finish level of gypsum board (surface wall): 4", "finish level of gypsum board (surface ceiling): 3"],
    ),
    "levels by their letter": (
        "drywall finish", "Drywall finish level", "to be",
        [("Walls", "on walls", "L4"), ("Ceilings", "on ceilings", "L5")],
        ["finish level of gypsum board (surface wall): 4", "finish level of gypsum board (surface ceiling): 5"],
    ),
    "levels by room": (
        "finish level", "Level of finish", "shall be",
        [("Archive", "in the archive", "Level 5"), ("Store", "in the store", "Level 2")],
        ["finish level of gypsum board (room archive): 5", "finish level of gypsum board (room store): 2"],
    ),
    "distances by surface": (
        "drywall screws", "Drywall screws", "shall be spaced",
        [("Walls", "on walls", '16" o.c.'), ("Ceilings", "on ceilings", '12" o.c.')],
        ["spacing of screw (surface wall): 16 in", "spacing of screw (surface ceiling): 12 in"],
    ),
    "distances on the sheet": (
        "screws", "Screw spacing", "shall be",
        [("Field", "in the field", "12 in. o.c."), ("Edges", "at edges", "8 in. o.c.")],
        ["spacing of screw (where field): 12 in", "spacing of screw (where edge): 8 in"],
    ),
    "distances at joints": (
        "screws", "Screws", "shall be at",
        [("Middle of sheet", "in the middle of the sheet", "300 mm centres"), ("Joints", "at joints", "200 mm centres")],
        ["spacing of screw (where field): 300 mm", "spacing of screw (where edge): 200 mm"],
    ),
    "distances by layer": (
        "screws", "Screw spacing", "shall be",
        [("Base layer", "in the base layer", "24 in. o.c."), ("Face layer", "in the face layer", "12 in. o.c.")],
        ["spacing of screw (layer base): 24 in", "spacing of screw (layer face): 12 in"],
    ),
    "lengths by layer": (
        "screws", "Screw length", "shall be",
        [("First layer", "to first layer", "25 mm"), ("Second layer", "to second layer", "42 mm")],
        ["fastener length of screw (layer base): 25 mm", "fastener length of screw (layer face): 42 mm"],
    ),
    "lengths by support": (
        "screws", "Screw length", "shall be",
        [("Steel studs", "into steel studs", "1 in. long"), ("Wood studs", "into wood studs", "1-1/4 in. long")],
        ["fastener length of screw (where steel): 1 in", "fastener length of screw (where wood): 1 1/4 in"],
    ),
    "coats": (
        "joint compound", "Joint compound", "shall be applied in",
        [("Joints", "over joints", "three coats"), ("Inside corners", "over inside corners", "two coats")],
        ["coats of joint compound (where joint): 3", "coats of joint compound (where inside corner): 2"],
    ),
    "rates": (
        "quantity", "Usage", "is",
        [("Joint compound", "of joint compound", "14 lb per 100 sq ft"), ("Joint tape", "of joint tape", "37 ft per 100 sq ft")],
        ["consumption of joint compound: 14 lb per 100 sq ft", "consumption of joint tape: 37 ft per 100 sq ft"],
    ),
    "packages": (
        "materials", "Packaging", "come in",
        [("Joint compound", "of joint compound", "62 lb pails"), ("Corner bead", "of corner bead", "10 ft sticks")],
        ["package of joint compound: 62 lb per 1 pail", "package of corner bead: 10 ft per 1 stick"],
    ),
}  # fmt: skip
Say = Callable[[str, str, str, Sequence[Row]], str]


def _lines(rows: Sequence[Row], form: str) -> str:
    return "\n".join(form.format(k=k, p=p, v=v, n=n, l="ABC"[n - 1]) for n, (k, p, v) in enumerate(rows, 1))


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:]


STRUCTURES: dict[str, Say] = {
    "a sentence": lambda g, h, v, rows: _sentence(f"{g} {v} " + " and ".join(f"{x} {p}" for _, p, x in rows) + "."),
    "a sentence in capitals": lambda g, h, v, rows: (f"{g} {v} " + " and ".join(f"{x} {p}" for _, p, x in rows) + ".").upper(),
    "behind a colon": lambda g, h, v, rows: _sentence(f"{g}: " + ", ".join(f"{x} {p}" for _, p, x in rows) + "."),
    "semicolons": lambda g, h, v, rows: _sentence(f"{g} {v} " + "; ".join(f"{x} {p}" for _, p, x in rows) + "."),
    "two sentences": lambda g, h, v, rows: " ".join(_sentence(f"{g} {v} {x} {p}.") for _, p, x in rows),
    "places first": lambda g, h, v, rows: " ".join(_sentence(f"{p}, {g} {v} {x}.") for _, p, x in rows),
    "labels below a heading": lambda g, h, v, rows: f"{h.upper()}\n" + _lines(rows, "{k}: {v}"),
    "letters below a number": lambda g, h, v, rows: f"3.4 {h.upper()}\n" + _lines(rows, "  {l}. {k}: {v}."),
    "values first below a number": lambda g, h, v, rows: f"3.4 {h.upper()}\n" + _lines(rows, "  {l}. {v} {p}."),
    "decimals": lambda g, h, v, rows: f"5.1 {h}\n" + _lines(rows, "5.1.{n} {k}: {v}"),
    "bullets below a lead-in": lambda g, h, v, rows: _sentence(f"{g} {v} as follows:\n") + _lines(rows, "- {k}: {v}"),
    "labels in a row": lambda g, h, v, rows: f"{h} - " + ", ".join(f"{k.lower()}: {x}" for k, _, x in rows),
    "brackets": lambda g, h, v, rows: f"{h}: " + ", ".join(f"{x} ({k.lower()})" for k, _, x in rows),
    "a table": lambda g, h, v, rows: f"| Item | {h} |\n|---|---|\n" + _lines(rows, "| {k} | {v} |"),
    "a table on its side": lambda g, h, v, rows: "Item | " + " | ".join(k for k, *_ in rows) + f"\n{h} | " + " | ".join(x for *_, x in rows),
    "columns by blanks": lambda g, h, v, rows: f"{'ITEM':24}{h.upper()}\n" + _lines(rows, "{k:24}{v}"),
    "dots": lambda g, h, v, rows: f"{h}\n" + _lines(rows, "{k} ............ {v}"),
    "labels over values": lambda g, h, v, rows: f"{h}\n\n" + _lines(rows, "{k}:\n    {v}"),
    "headings of what they are of": lambda g, h, v, rows: "\n\n".join(_sentence(f"{k.upper()}\n{g.capitalize()} {v} {x}.") for k, _, x in rows),
    "numbers over letters": lambda g, h, v, rows: "\n".join(f"{n}. {k}\n   a. {h}: {x}." for n, (k, _, x) in enumerate(rows, 1)),
}  # fmt: skip
ELSEWHERE = {
    # a row of goods without a name of their own in a sentence, heads over goods, and levels that a letter shortens need more words
    ("rates", "headings of what they are of"), ("packages", "headings of what they are of"),
}  # fmt: skip


def _plain(rule: str) -> str:
    """A rule without a bound, and without the words for supports beside what they are of."""
    return re.sub(r": (?:at most|at least|about) ", ": ", re.sub(r"note (?:steel|wood), where", "where", rule))


@pytest.mark.parametrize("content", CONTENTS)
@pytest.mark.parametrize("structure", STRUCTURES)
def test_one_content_has_the_same_rules_however_it_is_said(content: str, structure: str) -> None:
    goods, head, verb, rows, rules = CONTENTS[content]
    text = STRUCTURES[structure](goods, head, verb, rows)
    if (content, structure) in ELSEWHERE:
        pytest.skip("said without its goods")
    assert sorted(map(_plain, said(text))) == sorted(rules), text
