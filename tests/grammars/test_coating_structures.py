"""One content of coatings in many structures: systems have the same coats, looks and surfaces however a schedule lays them out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

import pytest

from reads import read_text

System = tuple[str, str, str, int, int, str]
"""On what, which surface, what it is made of, coats of primer, coats of finish, look."""
SYSTEMS: tuple[System, ...] = (
    ("gypsum board", "walls", "latex", 1, 2, "eggshell"),
    ("plaster", "ceilings", "alkyd", 2, 1, "flat"),
    ("hollow metal", "doors", "epoxy", 1, 2, "semi-gloss"),
)
MARKS = {
    "PT-": ("PT-1", "PT-2", "PT-3"),
    "P": ("P1", "P2", "P3"),
    "F.": ("F.1", "F.2", "F.3"),
    "W-A": ("W-A", "W-B", "W-C"),
}
NUMBERS = ("no", "one", "two", "three")
ORDINALS = ("1st", "2nd", "3rd")
Lines = Callable[[Sequence[str]], list[str]]


def _each(lines: Callable[[str, System], Sequence[str]]) -> Lines:
    """A structure that has some lines of each system, under a title."""
    return lambda marks: [
        "Paint systems", "", *(line for mark, one in zip(marks, SYSTEMS, strict=True) for line in lines(mark, one))
    ]  # fmt: skip


def _table(
    head: Sequence[str], row: Callable[[str, System], Sequence[str]], sign: str, *, turned: bool = False
) -> Lines:
    """A table with a row, or where it is turned a column, of each system."""

    def lines(marks: Sequence[str]) -> list[str]:
        rows = [head, *(row(mark, one) for mark, one in zip(marks, SYSTEMS, strict=True))]
        rows = [list(cells) for cells in zip(*rows, strict=True)] if turned else rows
        return _laid(rows, sign)

    return lines


def _laid(rows: Sequence[Sequence[str]], sign: str) -> list[str]:
    """Rows as lines whose cells a sign parts, or blanks."""
    if sign != " ":
        return [sign.join(cells) for cells in rows]
    widths = [max(map(len, column)) + 3 for column in zip(*rows, strict=True)]
    return ["".join(c.ljust(w) for c, w in zip(cells, widths, strict=True)).rstrip() for cells in rows]


def _count(count: int) -> str:
    return f"{NUMBERS[count]} coat{'s' if count > 1 else ''}"


def _coats(one: System) -> list[str]:
    """Coat after coat, what each is."""
    return [f"{one[2]} primer"] * one[3] + [f"{one[2]} {one[5]}"] * one[4]


def _padded(one: System) -> list[str]:
    return [*_coats(one), "-", "-"][:3]


def _merged(sign: str) -> Lines:
    """A table with a row a coat, whose mark and surface stand in the first row of each system alone."""

    def lines(marks: Sequence[str]) -> list[str]:
        rows = [("Mark", "Surface", "Coat", "Product", "Sheen")]
        blank = '"' if sign == " " else ""
        for mark, one in zip(marks, SYSTEMS, strict=True):
            for n, coat in enumerate(_coats(one)):
                key = (mark, f"{one[0].capitalize()} {one[1]}") if n == 0 else (blank, blank)
                finish = n >= one[3]
                rows.append((*key, ORDINALS[n], f"{one[2]} paint" if finish else coat, one[5] if finish else "-"))
        return _laid(rows, sign)

    return lines


SIGNS = {"pipes": " | ", "tabs": "\t", "blanks": " "}
STRUCTURES: dict[str, Lines] = {
    "a line each": _each(lambda m, s: [f"{m}: {s[0]} {s[1]}, {_count(s[3])} {s[2]} primer, {_count(s[4])} {s[2]} {s[5]}."]),
    "a heading with a dash": _each(
        lambda m, s: [f"{m} - {s[0].capitalize()} {s[1]}", f"Primer: {_count(s[3])} {s[2]}", f"Finish: {_count(s[4])} {s[2]}, {s[5]}", ""]
    ),
    "a heading with a colon": _each(
        lambda m, s: [f"{m}: {s[0].capitalize()} {s[1]}", *(f"- {o} coat: {c}" for o, c in zip(ORDINALS, _coats(s), strict=False)), ""]
    ),
    "a heading with nothing between": _each(
        lambda m, s: [f"{m} {s[0].capitalize()} {s[1]}", *(f"Coat {n}: {c}" for n, c in enumerate(_coats(s), 1)), ""]
    ),
    "a heading over columns": _each(
        lambda m, s: [f"{m} {s[0].capitalize()} {s[1]}", *(f"{o} coat   {c}" for o, c in zip(ORDINALS, _coats(s), strict=False)), ""]
    ),
    **{
        f"coats in columns of {name}": _table(
            ("Mark", "Surface", "1st coat", "2nd coat", "3rd coat"), lambda m, s: (m, f"{s[0].capitalize()} {s[1]}", *_padded(s)), sign
        )
        for name, sign in SIGNS.items()
    },
    **{
        f"numbered coats in columns of {name}": _table(
            ("Code", "Surface", "Coat 1", "Coat 2", "Coat 3"), lambda m, s: (m, f"{s[0].capitalize()} {s[1]}", *_padded(s)), sign
        )
        for name, sign in SIGNS.items()
    },
    **{
        f"counts in columns of {name}": _table(
            ("Mark", "Surface", "Primer", "Finish", "Sheen"),
            lambda m, s: (m, f"{s[0].capitalize()} {s[1]}", f"{s[3]} coats {s[2]} primer", f"{s[4]} coats {s[2]}", s[5]),
            sign,
        )
        for name, sign in SIGNS.items()
    },
    **{
        f"systems as columns of {name}": _table(
            ("Property", "Substrate", "Surface", "Primer", "Finish", "Sheen"),
            lambda m, s: (m, s[0], s[1], f"{s[3]} coats {s[2]} primer", f"{s[4]} coats {s[2]}", s[5]),
            sign,
            turned=True,
        )
        for name, sign in SIGNS.items()
    },
    **{
        f"records parted by {name}": _each(
            lambda m, s, lead=lead: [
                f"{label}{lead}{value}"
                for label, value in (
                    ("System", m), ("Substrate", s[0]), ("Surface", s[1].capitalize()),
                    ("Primer", f"{_count(s[3])} {s[2]} primer"), ("Finish", f"{_count(s[4])} {s[2]}"), ("Sheen", s[5]),
                )
            ] + [""]
        )
        for name, lead in {"colons": ": ", "dots": " ........ ", "tabs": "\t", "blanks": "     "}.items()
    },
    "one cell a line": lambda marks: [
        "Paint systems", "", "Mark", "Surface", "Primer", "Finish", "Sheen",
        *(
            cell
            for m, s in zip(marks, SYSTEMS, strict=True)
            for cell in (m, f"{s[0].capitalize()} {s[1]}", f"{s[3]} coats {s[2]} primer", f"{s[4]} coats {s[2]}", s[5])
        ),
    ],
    "equals signs": _each(lambda m, s: [f"{m} = {s[0]} {s[1]}; {s[2]} primer, {_count(s[3])}; {s[2]} {s[5]}, {_count(s[4])}"]),
    **{
        f"coat after coat below a mark in columns of {name}": _merged(sign) for name, sign in SIGNS.items()
    },
}  # fmt: skip
UNMARKED: dict[str, Lines] = {
    **{
        f"materials alone below heads in columns of {name}": _table(
            ("Surface", "Primer", "Finish", "Sheen"),
            lambda m, s: (s[1].capitalize(), f"{_count(s[3])} {s[2]}", f"{_count(s[4])} {s[2]}", s[5]),
            sign,
        )
        for name, sign in SIGNS.items()
    },
    **{
        f"materials alone beside keys in columns of {name}": _table(
            ("Coat", "Primer", "Finish", "Sheen"),
            lambda m, s: (s[1].capitalize(), f"{_count(s[3])} {s[2]}", f"{_count(s[4])} {s[2]}", s[5]),
            sign,
            turned=True,
        )
        for name, sign in SIGNS.items()
    },
    "numbers of a classification": lambda marks: [
        line
        for number, s in enumerate(SYSTEMS, 3)
        for line in (f"C30{number}0 {s[1].capitalize()}", f"{_count(s[3]).capitalize()} {s[2]} primer and {_count(s[4])} {s[2]} {s[5]}.", "")
    ],
    "capitals over counts in brackets": lambda marks: [
        line
        for s in SYSTEMS
        for line in (f"{s[0].upper()} {s[1].upper()}", f"({s[3]}) coats {s[2]} primer", f"({s[4]}) coats {s[2]}, {s[5]} finish", "")
    ],
}  # fmt: skip
Said = tuple[str, str, str, Fraction]


def _said(lines: Sequence[str]) -> tuple[set[Said], set[tuple[str, str, str]]]:
    """The coats of each product by mark and surface, and the looks."""
    coats: dict[tuple[str, str, str], Fraction] = {}
    looks: set[tuple[str, str, str]] = set()
    for rule in read_text("\n".join(lines)).rules:
        of = (rule.scope.get("mark", ""), rule.scope.get("surface", ""))
        if rule.kind.name == "coats" and rule.amount is not None:
            coats[*of, rule.subject] = coats.get((*of, rule.subject), Fraction(0)) + rule.amount.value
        look = rule.choice if rule.kind.name == "sheen" else rule.scope.get("sheen", "")
        looks |= {(*of, look)} if look else set()
    return {(*of, count) for of, count in coats.items()}, looks


@pytest.mark.parametrize("marks", MARKS)
@pytest.mark.parametrize("structure", STRUCTURES)
def test_systems_have_the_same_coats_however_they_are_laid_out(structure: str, marks: str) -> None:
    wanted = [(m, s[1].rstrip("s"), s) for m, s in zip(MARKS[marks], SYSTEMS, strict=True)]
    coats, looks = _said([*STRUCTURES[structure](MARKS[marks]), "", f"Walls of the foyer: {MARKS[marks][0]}."])
    assert coats == {
        one
        for m, on, s in wanted
        for one in ((m, on, "primer", Fraction(s[3])), (m, on, "finish paint", Fraction(s[4])))
    }
    assert looks == {(m, on, s[5]) for m, on, s in wanted}


@pytest.mark.parametrize("structure", UNMARKED)
def test_surfaces_have_the_same_coats_however_they_are_laid_out(structure: str) -> None:
    coats, looks = _said(UNMARKED[structure](MARKS["P"]))
    surfaces = [(s[1].rstrip("s"), s) for s in SYSTEMS]
    assert coats == {
        one
        for on, s in surfaces
        for one in (("", on, "primer", Fraction(s[3])), ("", on, "finish paint", Fraction(s[4])))
    }
    assert looks == {("", on, s[5]) for on, s in surfaces}


ROOMS = ("Foyer", "101 Reception", "Staff Room")
GIVEN = (("3 coats satin", "1 coat flat"), ("2 coats eggshell", "2 coats flat"), ("1 coat gloss", "1 coat satin"))
SCHEDULES: dict[str, Sequence[Sequence[str]]] = {
    "rooms as rows": (
        ("Room", "Walls", "Ceiling"),
        *((room, *given) for room, given in zip(ROOMS, GIVEN, strict=True)),
    ),
    "rooms as columns": tuple(
        zip(
            ("Surface", "Walls", "Ceiling"),
            *((room, *given) for room, given in zip(ROOMS, GIVEN, strict=True)),
            strict=True,
        )
    ),
    "rooms and surfaces as rows": (
        ("Room", "Surface", "Finish"),
        *(
            (room, on, one)
            for room, given in zip(ROOMS, GIVEN, strict=True)
            for on, one in zip(("Walls", "Ceiling"), given, strict=True)
        ),
    ),
    "a head over two": (
        ("", "Walls", "", "Ceiling", ""),
        ("Room", "Coats", "Sheen", "Coats", "Sheen"),
        *(
            (room, *(part for one in given for part in (one[0], one.split()[-1])))
            for room, given in zip(ROOMS, GIVEN, strict=True)
        ),
    ),
}


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("structure", SCHEDULES)
def test_rooms_have_the_same_coats_however_they_are_laid_out(structure: str, sign: str) -> None:
    rules = read_text("\n".join(["Paint schedule", "", *_laid(SCHEDULES[structure], SIGNS[sign])])).rules
    got = {
        (r.scope.get("room"), r.scope.get("surface"), int(r.amount.value), r.scope.get("sheen"))
        for r in rules
        if r.kind.name == "coats" and r.amount is not None
    }
    assert got == {
        (room.lower().removeprefix("101 "), on, int(one[0]), one.split()[-1])
        for room, given in zip(ROOMS, GIVEN, strict=True)
        for on, one in zip(("wall", "ceiling"), given, strict=True)
    }


SHEET = (("Spreading rate", "10-12 m2/l"), ("Volume solids", "38 %"), ("WFT", "80 microns"), ("DFT", "30 microns"))
TITLES = (
    "Technical data sheet\nAlkali Resisting Primer",
    "PRODUCT DATA: Alkali Resisting Primer",
    "ALKALI RESISTING PRIMER\nTECHNICAL DATA SHEET",
)
LAID: dict[str, Sequence[str]] = {
    **{
        f"labels before {sign!r}": [f"{a}{sign}{b}" for a, b in SHEET]
        for sign in (": ", " ...... ", "\t", "      ", " | ", " - ")
    },
    "labels over values": [line for a, b in SHEET for line in (a.upper(), b, "")],
    **{f"a row of values in {name}": _laid(list(zip(*SHEET, strict=True)), sign) for name, sign in SIGNS.items()},
}


@pytest.mark.parametrize("title", TITLES)
@pytest.mark.parametrize("laid", LAID)
def test_a_data_sheet_says_the_same_of_its_product_however_it_is_laid_out(laid: str, title: str) -> None:
    rules = read_text("\n".join([title, "", "VOC: 48 g/L" if ":" in laid else "", *LAID[laid]])).rules
    got = {(r.kind.name, r.subject, r.amount.value, r.scope.get("film")) for r in rules if r.amount is not None}
    assert got == {
        ("coverage", "primer", Fraction(10), None),
        ("solids", "primer", Fraction(38), None),
        ("film", "primer", Fraction(80), "wet"),
        ("film", "primer", Fraction(30), "dry"),
    }
    assert not [r for r in rules if r.confirm]


def test_goods_as_columns_have_their_own_rates() -> None:
    rows = [
        ("Property", "Acrylic Satin", "Alkali Resisting Primer", "Interior Acrylic Eggshell"),
        ("Coverage", "12 m2/l", "10 m2/l", "14 m2/l"),
        ("Volume solids", "38%", "36%", "34%"),
    ]
    for sign in SIGNS.values():
        rules = read_text("\n".join(["Products", "", *_laid(rows, sign)])).rules
        got = {(r.kind.name, r.subject, r.scope.get("sheen"), r.amount.value) for r in rules if r.amount is not None}
        assert got == {
            ("coverage", "finish paint", "satin", Fraction(12)), ("solids", "finish paint", "satin", Fraction(38)),
            ("coverage", "primer", None, Fraction(10)), ("solids", "primer", None, Fraction(36)),
            ("coverage", "finish paint", "eggshell", Fraction(14)), ("solids", "finish paint", "eggshell", Fraction(34)),
        }  # fmt: skip


def test_a_mark_before_the_room_defines_or_is_given_as_its_row_says() -> None:
    defined = [
        "Mark | Location | Coat 1 | Coat 2",
        "IN-1 | Walls generally | sealer | low sheen",
        "IN-2 | Ceilings | sealer | flat",
    ]
    given = [
        "PT-1: two coats satin.",
        "PT-2: one coat flat.",
        "",
        "Mark | Room | Surface",
        "PT-1 | Lobby | Walls",
        "PT-2 | Lobby | Ceiling",
    ]
    assert _said(defined)[0] == {
        (m, on, of, Fraction(1))
        for m, on in (("IN-1", "wall"), ("IN-2", "ceiling"))
        for of in ("primer", "finish paint")
    }
    systems = {
        (r.choice, r.scope.get("room"), r.scope.get("surface"))
        for r in read_text("\n".join(given)).rules
        if r.kind.name == "system"
    }
    assert systems == {("PT-1", "lobby", "wall"), ("PT-2", "lobby", "ceiling")}


def test_numbers_that_count_rows_are_no_part_of_a_name() -> None:
    lines = [
        "Item | Area | Sheen | Coats",
        "1 | Reception walls | Satin | 2",
        "2 | Doors generally | Gloss | 2",
        "3 | Skirtings | Gloss | 1",
    ]
    got = {
        (r.scope.get("room"), r.scope.get("surface"))
        for r in read_text("\n".join(lines)).rules
        if r.kind.name == "coats"
    }
    assert got == {("reception", "wall"), (None, "door"), (None, "trim")}


def test_a_system_over_board_is_none_of_board() -> None:
    lines = [
        "System A - Gypsum board",
        "Primer: one coat",
        "Finish: two coats flat",
        "",
        "System B - Steel doors",
        "Finish: two coats gloss",
        "",
    ]
    rules = read_text("\n".join([*lines, "Use A on office walls, B on all doors."])).rules
    assert {(r.subject, r.choice, r.scope.get("surface")) for r in rules if r.kind.name == "system"} == {
        ("finish paint", "A", "wall"), ("finish paint", "B", "door"),
    }  # fmt: skip


def test_a_prime_coat_of_the_shop_is_no_coat() -> None:
    said = read_text(
        "Steel doors\nPrime coat: Shop primed.\nFinish coat: alkyd gloss.\nFinish coat: alkyd gloss."
    ).rules
    assert {(r.subject, r.kind.name) for r in said if r.kind.name == "coats"} == {("finish paint", "coats")}


def test_a_head_that_changes_further_down_is_none_for_all_rows() -> None:
    lines = ["Ref   Supports         Partitions: boards, each side", "W1    70 C @ 600 c/c   1 x 12.5 wallboard",
             "                       Ceilings: boards, underside only", "C1    MF @ 450 c/c     1 x 12.5 wallboard"]  # fmt: skip
    rules = read_text("\n".join(lines)).rules
    assert not [r for r in rules if r.scope.get("mark") == "C1" and r.scope.get("surface") == "wall" and not r.confirm]
