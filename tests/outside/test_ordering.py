"""What must hold of every order the four trades make, whatever the sizes and rates."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction

from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st

from darby.estimate.line_item import LineItem
from darby.job.model import Job, Surface
from darby.quantities.amounts import Amount
from darby.rules.rule import Rule
from darby_board.trade import TRADE as BOARD
from darby_coatings.trade import TRADE as COATINGS
from darby_fasteners.trade import TRADE as FASTENERS
from darby_joints.trade import TRADE as JOINTS
from desk import estimated
from jobs import ceiling, corner, job, run, wall
from kit import rule

TRADES = (BOARD, JOINTS, FASTENERS, COATINGS)

sixteenths = st.integers(1, 60 * 192).map(lambda n: Amount.of(Fraction(n, 192), "ft").exact())
"""Lengths up to 60 ft to the sixteenth of an inch."""
millimetres = st.integers(1, 20_000).map(lambda n: f"{n} mm")
lengths = sixteenths | millimetres


@st.composite
def surfaces(draw: st.DrawFn) -> tuple[Surface, ...]:
    found = []
    for n in range(draw(st.integers(1, 5))):
        sides = draw(lengths), draw(lengths)
        if draw(st.booleans()):
            found.append(wall(*sides, faces=draw(st.integers(1, 2)), name=f"wall {n}"))
        else:
            found.append(ceiling(*sides, name=f"ceiling {n}"))
    return tuple(found)


@st.composite
def rules(draw: st.DrawFn) -> list[Rule]:
    def tenths(low: int, high: int) -> str:
        n = draw(st.integers(low * 10, high * 10))
        return f"{n // 10}.{n % 10}"

    litres = draw(st.booleans())
    return [
        rule("layers", "gypsum board", str(draw(st.integers(1, 2)))),
        rule("thickness", "gypsum board", "1/2 in"),
        rule("sheet", "gypsum board", "4 ft", by=draw(st.sampled_from(["8 ft", "10 ft", "12 ft", "2400 mm"]))),
        rule("waste", "gypsum board", f"{draw(st.integers(0, 25))} %"),
        rule("consumption", "joint compound", f"{tenths(3, 20)} lb", "100 sq ft"),
        rule("package", "joint compound", draw(st.sampled_from(["64 lb", "61.7 lb", "25 kg"])), "1 pail"),
        rule("consumption", "joint tape", f"{tenths(20, 80)} ft", "100 sq ft"),
        rule("package", "joint tape", draw(st.sampled_from(["250 ft", "500 ft", "75 m"])), "1 roll"),
        rule("spacing", "drywall clip", draw(st.sampled_from(["12 in", "16 in", "400 mm"]))),
        rule("consumption", "screw", str(draw(st.integers(500, 1500))), "1000 sq ft"),
        rule("package", "screw", "1000", "1 box"),
        rule("coats", "primer", "1"),
        rule("coats", "finish paint", str(draw(st.integers(1, 3)))),
        rule("coverage", "primer", f"{tenths(150, 400)} sq ft", "1 gal"),
        rule("coverage", "finish paint", *((f"{tenths(5, 15)} m2", "1 L") if litres else (f"{tenths(200, 450)} sq ft", "1 gal"))),
        rule("package", "primer", "5 gal", "1 pail"),
        *(
            [rule("package", "finish paint", "10 L", "1 can")]
            if litres
            else [rule("package", "finish paint", "1 gal", "1 can"), rule("package", "finish paint", "5 gal", "1 pail")]
        ),
    ]  # fmt: skip


def ordered(work: Job, said: list[Rule]) -> list[LineItem]:
    return [item for trade in TRADES for item in run(trade, work, said)[0]]


def needed(items: list[LineItem]) -> dict[str, Amount]:
    """Need of each product, over all sizes of its packages."""
    sums: dict[str, Amount] = {}
    for item in items:
        sums[item.product] = sums[item.product] + item.need if item.product in sums else item.need
    return sums


def bought(items: list[LineItem]) -> dict[str, Amount]:
    """Content ordered of each product."""
    held: dict[str, Amount] = {}
    for item in items:
        assert item.order is not None
        assert item.package is not None
        content = item.order * item.package
        held[item.product] = held[item.product] + content if item.product in held else content
    return held


@settings(deadline=None, max_examples=60)
@given(surfaces(), rules(), sixteenths)
def test_an_order_covers_the_need_and_never_by_a_whole_package_more(
    measured: tuple[Surface, ...], said: list[Rule], height: str
) -> None:
    items = ordered(job(*measured, corners=[corner(3, height)]), said)
    assert {i.product for i in items} == {
        "gypsum board", "joint compound", "joint tape", "drywall clip", "screw", "primer", "finish paint"
    }  # fmt: skip
    for item in items:
        assert item.package is not None
        assert item.order is not None
        content = item.order * item.package
        assert content >= item.need
        assert (item.order.value - 1) * item.package.value * item.package.unit.factor < item.need.size


@settings(deadline=None, max_examples=60)
@given(surfaces(), rules())
def test_pooling_then_rounding_never_buys_more_than_rounding_each_surface(
    measured: tuple[Surface, ...], said: list[Rule]
) -> None:
    together = bought(ordered(job(*measured), said))
    apart: defaultdict[str, list[LineItem]] = defaultdict(list)
    for surface in measured:
        for item in ordered(job(surface), said):
            apart[item.product].append(item)
    assert together.keys() == apart.keys()
    for product, content in together.items():
        assert content <= bought(apart[product])[product]


@settings(deadline=None, max_examples=60)
@given(surfaces(), rules(), st.data())
def test_a_larger_area_never_needs_or_buys_less(
    measured: tuple[Surface, ...], said: list[Rule], data: st.DataObject
) -> None:
    more = (*measured, wall(data.draw(lengths), data.draw(lengths), name="one more wall"))
    before, after = ordered(job(*measured), said), ordered(job(*more), said)
    needs = needed(before)
    assert all(needs[product] < need for product, need in needed(after).items())
    held, then = bought(before), bought(after)
    assert all(held[product] <= then[product] for product in held)


@settings(deadline=None, max_examples=60)
@given(surfaces(), rules())
def test_the_order_of_the_surfaces_changes_no_need(measured: tuple[Surface, ...], said: list[Rule]) -> None:
    forth = {(i.product, i.pool): (i.need, i.count) for i in ordered(job(*measured), said)}
    back = {(i.product, i.pool): (i.need, i.count) for i in ordered(job(*reversed(measured)), said)}
    assert forth == back


@settings(deadline=None, max_examples=60)
@given(surfaces(), rules(), st.integers(2, 4))
def test_more_coats_or_layers_in_one_go_are_that_many_times_the_need(
    measured: tuple[Surface, ...], said: list[Rule], times: int
) -> None:
    once = [rule("coats", "finish paint", "1"), rule("layers", "gypsum board", "1")]
    often = [rule("coats", "finish paint", str(times)), rule("layers", "gypsum board", str(times))]
    rest = [r for r in said if (r.kind.name, r.subject) not in {("coats", "finish paint"), ("layers", "gypsum board")}]
    single, multiple = needed(ordered(job(*measured), [*rest, *once])), needed(ordered(job(*measured), [*rest, *often]))
    for product in ("finish paint", "gypsum board", "screw"):
        assert multiple[product] == single[product] * times
    for product in ("joint compound", "joint tape", "primer"):
        assert multiple[product] == single[product]


@settings(deadline=None, max_examples=200)
@given(lengths, lengths)
def test_clips_stand_no_farther_apart_than_the_spacing_and_one_fewer_would(height: str, spacing: str) -> None:
    items, _ = run(FASTENERS, job(corners=[corner(1, height)]), [rule("spacing", "drywall clip", spacing)])
    clips = items[0].need.value
    tall, apart = Amount.read(height), Amount.read(spacing)
    assert tall <= apart * (clips + 1)
    assert clips == 0 or tall > apart * clips


def _halves(surface: Surface) -> tuple[Surface, Surface]:
    half = Amount.of(Fraction(1, 2))
    return tuple(
        evolve(surface, name=f"{surface.name} {n}", area=surface.area * half, length=surface.length * half)
        for n in (1, 2)
        if surface.length is not None
    )  # type: ignore[return-value]


def _pools(items: list[LineItem]) -> dict[tuple[str, tuple[tuple[str, str], ...]], tuple[Amount, int | None]]:
    return {(i.product, tuple(i.pool.items())): (i.need, i.count) for i in items}


@settings(deadline=None, max_examples=60)
@given(surfaces(), rules(), st.data())
def test_splitting_a_wall_in_two_changes_no_pooled_order(
    measured: tuple[Surface, ...], said: list[Rule], data: st.DataObject
) -> None:
    at = data.draw(st.integers(0, len(measured) - 1))
    split = (*measured[:at], *_halves(measured[at]), *measured[at + 1 :])
    assert _pools(ordered(job(*measured), said)) == _pools(ordered(job(*split), said))


@settings(deadline=None, max_examples=60)
@given(surfaces(), rules())
def test_turning_metric_into_us_measures_changes_no_order(measured: tuple[Surface, ...], said: list[Rule]) -> None:
    def turned(amount: Amount) -> Amount:
        unit = ("ft", "m")[amount.unit.system == "us"] if len(amount.unit.dimension) else "each"
        return Amount.of(amount.to(unit).value, unit)

    other = []
    for surface in measured:
        assert surface.length is not None
        assert surface.height is not None
        length, height = turned(surface.length), turned(surface.height)
        other.append(evolve(surface, length=length, height=height, area=length * height))
    # The working may end in the other system's unit; amounts of one size are equal whatever their unit.
    assert _pools(ordered(job(*measured), said)) == _pools(ordered(job(*other), said))


ROWS = st.permutations(
    [
        '[[walls]]\nname = "a"\nlength = "20 ft"\nheight = "8 ft"\nfaces = 2\npaint = "three coats satin"\n',
        '[[walls]]\nname = "b"\nroom = "Bath"\nlength = "3 m"\nheight = "2.5 m"\n',
        '[[ceilings]]\nname = "c"\nlength = "20 ft"\nwidth = "12 ft"\nrise = "5 ft"\n',
        '[[rooms]]\nname = "Den"\nlength = "12 ft"\nwidth = "10 ft"\nheight = "9 ft"\ncolor = "Fog"\n',
        '[[openings]]\nwall = "a"\nwidth = "3 ft"\nheight = "7 ft"\nreveal = "5 in"\n',
        '[[corners]]\nkind = "outside"\ncount = 3\nheight = "9 ft"\n',
        '[[columns]]\nname = "d"\nwidth = "8 in"\ndepth = "8 in"\nheight = "8 ft"\n',
        '[[doors]]\nname = "e"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 4\n',
        '[[trim]]\nname = "f"\nlength = "90 ft"\nwidth = "5 in"\n',
    ]
)
SPEC = "Deduct openings over 10 sq ft.\nBathrooms: moisture resistant board, 1/2 in. thick.\nCeilings: one coat flat."


@settings(deadline=None, max_examples=8)
@given(ROWS)
def test_permuting_the_rows_of_a_job_changes_nothing(rows: list[str]) -> None:
    made = estimated("".join(rows), SPEC)
    known = estimated("".join(sorted(rows)), SPEC)
    assert _pools(list(made.items)) == _pools(list(known.items))
