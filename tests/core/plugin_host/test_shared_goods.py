"""Goods of one name from two trades: one line and one rounding, or a refusal with both names."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

from attrs import evolve

from darby.documents.exact_json.estimate import estimate_json
from darby.estimate.line_item import Aside, LineItem
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.job.model import Job
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Provided
from darby.plugin_host.shared_goods import shared, with_partners
from darby.plugin_host.trade_runner import Run
from darby.quantities.amounts import Amount, total
from darby.reading.read import Reading, read
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source
from little_jobs import codes, gives, picture, provided, run

BOX = Amount.of(1000) / Amount.of(1, "box")


def peg(need: str | int, package: Amount | None = BOX, **pool: str) -> LineItem:
    return LineItem("peg", Amount.of(need) if isinstance(need, int) else Amount.read(need), pool, package)


def two(one: LineItem, other: LineItem) -> Estimate:
    return run(provided(gives(one), name="decking"), provided(gives(other), name="cladding"))


def test_the_need_of_both_is_rounded_once() -> None:
    """1,700 and 1,200 pegs are 2,900, three boxes of 1,000; each for itself would take two."""
    done = two(peg(1700), peg(1200))
    assert [(i.id, i.need.value, i.count) for i in done.items] == [("cladding:peg", 2900, 3)]
    assert codes(done) == []
    (item,) = done.items
    assert [str(n) for n in item.notes] == ["Shared: with 1,700 for decking."]
    assert isinstance(item.notes[0], Aside)


def test_the_line_is_that_of_darby_s_own_trade() -> None:
    own = evolve(provided(gives(peg(1)), name="zoning"), own=True)
    done = run(provided(gives(peg(2)), name="adding"), own)
    assert [(i.id, i.need.value) for i in done.items] == [("zoning:peg", 3)]


def test_what_differs_in_its_pool_is_no_common_line() -> None:
    done = two(peg(1, size="long"), peg(1, size="short"))
    assert [i.id for i in done.items] == ["cladding:peg:short", "decking:peg:long"]
    assert codes(done) == []


def test_a_package_that_one_of_them_knows_is_that_of_the_line() -> None:
    assert picture(two(peg(1), peg(2, None))) == [("cladding:peg", "3", 1)]


def test_what_is_measured_otherwise_is_refused_with_both_names() -> None:
    done = two(peg("3 lb", None), peg(2))
    assert [i.id for i in done.items] == ["cladding:peg"]
    (told,) = done.diagnostics
    assert told.code == "item-twice"
    assert "cladding and decking both order peg" in told.message
    assert "that of decking is left out" in told.message
    assert "--without decking-plugin" in told.help
    assert done.missing == ("decking (peg)",)
    assert not done.complete


def test_sizes_of_a_mix_are_refused() -> None:
    done = two(LineItem("peg", Amount.of(1), {"package": "1000"}, BOX), peg(2))
    assert [i.id for i in done.items] == ["cladding:peg"]
    assert done.missing == ("decking (peg)",)


def test_three_trades_share_a_line_and_know_it() -> None:
    nobody = Consultation(RuleBook(()))
    runs = [
        Run(provided(name=n), (evolve(peg(1), trade=n),), nobody) for n in ("a", "b", "c")
    ] + [Run(provided(name="d"), (), nobody)]  # fmt: skip
    joined, told = shared(runs)
    assert told == []
    assert [[i.need.value for i in one.items] for one in joined] == [[3], [], [], []]
    assert [one.provided.trade.name for one in with_partners(joined[1:2], joined)] == ["a", "b", "c"]
    assert with_partners(joined[3:], joined) == joined[3:]


def ties(job: Job, book: Consultation) -> Iterator[LineItem]:
    """Every wall takes as many square feet of finish paint as it has: 600 of them a gallon and a half at 400."""
    answer = book.ask("coverage", "finish paint", {"surface": "wall"})
    if answer is not None:
        area = total(wall.area for wall in job.of_kind("wall"))
        package = book.ask("package", "finish paint")
        yield LineItem("finish paint", area / answer.rate, package=package.rate if package else None)


def test_what_waits_to_be_confirmed_moves_the_common_line() -> None:
    """A room of 20 x 10 ft, 10 ft high: 600 sq ft of walls, twice at 400 sq ft a gallon, and once more for the other trade: 4.5 gal."""

    def reader(*args: Any, **how: Any) -> Reading:
        made = read(*args, **how)
        doubted = [
            evolve(r, confirm="far away") if r.kind.name == "coverage" and not how.get("strict") else r
            for r in made.rules
        ]
        return evolve(made, rules=tuple(doubted))

    room = 'name = "t"\nunits = "us"\n[[rooms]]\nname = "Office"\nlength = "20 ft"\nwidth = "10 ft"\nheight = "10 ft"\nceiling = false\n'
    job, _ = load(Source("job.toml", room))
    assert job is not None
    paper = Source(
        "s.txt", "Walls: two coats finish paint.\nFinish paint: 400 sq ft per gallon.\nFinish paint: 1 gal cans.\n"
    )
    plugins = load_plugins(only=["coatings", "grammars"])
    other: Provided = provided(ties, name="striping", defaults=None)
    alone = estimate(job, [(paper, SPECIFICATION)], plugins, reader=reader)
    assert [(i.product, i.need.value, i.count) for i in alone.items if i.product == "finish paint"] == [
        ("finish paint", 3, 3)
    ]
    done = estimate(job, [(paper, SPECIFICATION)], evolve(plugins, trades=(*plugins.trades, other)), reader=reader)
    (line,) = [i for i in done.items if i.product == "finish paint"]
    assert (line.trade, line.need.value, line.count) == ("coatings", Fraction(9, 2), 5)
    ids = {i.id for i in done.items}
    assert done.confirmations
    for one in done.confirmations:
        assert set(one.items) <= ids
        for shift in one.without or ():
            assert shift.now is None or (shift.now.id, shift.now.need) in {(i.id, i.need) for i in done.items}
    assert estimate_json(done)["items"]


TAPE = """
from darby.api import Amount, LineItem, Trade, hookimpl

DARBY_API = 1


def line_items(job, book):
    package = book.ask("package", "joint tape")
    yield LineItem("joint tape", Amount.of(200, "ft"), package=package.rate)


@hookimpl
def darby_trades():
    return [Trade("edging", "Edging", line_items)]
"""


def test_a_plugin_that_orders_a_trade_s_goods_adds_to_its_line(tmp_path: Path) -> None:
    """Walls of 800 sq ft take 280 ft of tape at 35 ft per 100 sq ft; with 200 ft of a plugin's these are two rolls of 250 ft, not three."""
    file = tmp_path / "edging.py"
    file.write_text(TAPE)
    job, _ = load(
        Source(
            "job.toml",
            'name = "t"\nunits = "us"\n[[walls]]\nname = "w"\nlength = "100 ft"\nheight = "8 ft"\nfaces = 1\n',
        )
    )
    assert job is not None
    alone = estimate(job, [], load_plugins(only=["grammars", "board", "joints"]))
    done = estimate(job, [], load_plugins(files=[file], only=["grammars", "board", "joints", "edging"]))
    tape = [[(i.trade, i.need.value, i.count) for i in e.items if i.product == "joint tape"] for e in (alone, done)]
    assert tape == [[("joints", 280, 2)], [("joints", 480, 2)]]
    assert done.complete
