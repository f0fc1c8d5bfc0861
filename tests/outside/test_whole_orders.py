"""What holds for any job, from the text to the order: cut in two it needs no fewer packages; more waste, more coats and closer spacing order no less."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from darby.estimate.model import Estimate
from desk import estimated

PLAIN = settings(
    max_examples=20, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow], database=None
)
SPEC = (
    "Gypsum board: 5/8 in. thick, 4 ft x {sheet} ft sheets, {layers}.\n"
    "Gypsum board waste: {waste} %.\n"
    "Framing: {framing} in. o.c.\n"
    "Screws: {spacing} in. o.c.\n"
    "Joint compound: ready-mixed.\n"
    "Walls: one coat primer, {coats} coats eggshell.\n"
    "Ceilings: one coat primer, one coat flat.\n"
)
BASE = {"sheet": 8, "layers": "one layer", "waste": 5, "framing": 16, "spacing": 12, "coats": 2}

sides = st.tuples(st.integers(6, 40), st.integers(6, 40), st.integers(7, 12), st.integers(0, 2))


def rooms(some: list[tuple[int, int, int, int]], first: int = 0) -> str:
    """Rooms by length, width, height and outside corners."""
    return "".join(
        f'[[rooms]]\nname = "Room {first + n}"\nlength = "{a} ft"\nwidth = "{b} ft"\nheight = "{h} ft"\n'
        + (f'[[corners]]\nkind = "outside"\ncount = {out}\nheight = "{h} ft"\n' if out else "")
        for n, (a, b, h, out) in enumerate(some)
    )


def bought(made: Estimate) -> dict[str, Fraction]:
    """What is bought of each product and sort, in the measure of its need."""
    found: Counter[str] = Counter()
    for item in made.items:
        assert item.order is not None
        assert item.package is not None
        sort = ",".join(f"{key}={said}" for key, said in item.pool.items() if key != "package")
        found[f"{item.product} {sort}"] += item.order.value * item.package.value
    return dict(found)


@PLAIN
@given(st.lists(sides, min_size=2, max_size=6), st.integers(1, 5))
def test_a_job_cut_in_two_never_buys_less_apart_than_together(some: list[tuple[int, int, int, int]], cut: int) -> None:
    spec = SPEC.format(**BASE)
    cut = min(cut, len(some) - 1)
    together = bought(estimated(rooms(some), spec))
    one, other = bought(estimated(rooms(some[:cut]), spec)), bought(estimated(rooms(some[cut:], cut), spec))
    assert together.keys() <= one.keys() | other.keys()
    for sort, content in together.items():
        if not sort.startswith("corner bead"):  # its sizes are chosen corner by corner: held below by its length
            assert one.get(sort, 0) + other.get(sort, 0) >= content, sort


@PLAIN
@given(st.lists(sides, min_size=1, max_size=4), st.sampled_from(["waste", "coats", "spacing", "framing", "layers"]))
def test_more_of_anything_never_orders_less(some: list[tuple[int, int, int, int]], what: str) -> None:
    more = {"waste": 15, "coats": 3, "spacing": 8, "framing": 12, "layers": "two layers"}
    less = bought(estimated(rooms(some), SPEC.format(**BASE)))
    greater = bought(estimated(rooms(some), SPEC.format(**{**BASE, what: more[what]})))

    def by_product(found: dict[str, Fraction]) -> Counter[str]:
        out: Counter[str] = Counter()
        for sort, content in found.items():
            out[sort.partition(" length=")[0]] += content  # a longer screw is another line
        return out

    one, other = by_product(less), by_product(greater)
    assert one.keys() == other.keys()
    assert all(other[sort] >= one[sort] for sort in one), what
    moved = {"waste": "gypsum board", "coats": "finish paint", "layers": "gypsum board"}.get(what)
    if moved is not None:
        assert any(other[sort] > one[sort] for sort in one if sort.startswith(moved))


@PLAIN
@given(st.lists(sides, min_size=1, max_size=5))
def test_sticks_hold_every_piece_and_no_more_than_one_a_piece_is_wasted(some: list[tuple[int, int, int, int]]) -> None:
    some = [(a, b, h, out + 1) for a, b, h, out in some]
    made = estimated('rules = ["Corner bead comes in 12 ft sticks."]\n' + rooms(some), "Gypsum board: one layer.")
    (bead,) = [i for i in made.items if i.product == "corner bead"]
    length = sum(h * out for _, _, h, out in some)
    assert bead.count is not None
    assert bead.count * 12 >= length
    assert bead.count <= sum(out for *_, out in some)
    assert bead.count >= sum(out for _, _, h, out in some if h > 6)  # no two pieces over 6 ft go into one stick
