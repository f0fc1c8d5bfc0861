"""Surfaces that a trade claims: others' goods leave them as far as the claiming rule reaches, and come back where it does not or breaks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from darby.estimate.areas import places, pooled
from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.estimate.trade import Claim
from darby.job.loader import load
from darby.job.model import Job
from darby.job.rows.declared import Key
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.rules.consultation import Consultation
from darby.rules.rule import HOUSE, SPECIFICATION, Layer
from darby.text.spans import Source
from outsiders import own
from rogues import Entry, plugin, trade, words

WORDS = """
[subject]
"lattice" = ["lattice", "lattices", "hung lattice"]
[kinds]
lattice = ["layers", "waste"]
"""
CLAIM = Claim((("layers", "lattice"),))
ROOMS = """name = "j"
units = "us"
[[rooms]]
name = "Lobby"
length = "20 ft"
width = "10 ft"
height = "9 ft"
[[rooms]]
name = "Office"
length = "10 ft"
width = "10 ft"
height = "9 ft"
"""


def hang(job: Job, book: Consultation) -> Iterator[LineItem]:
    """A square foot of lattice for each of ceiling that takes some."""
    taking = [
        p
        for p in places(job.surfaces, book, ("ceiling",))
        if (a := book.peek("layers", "lattice", p.about)) and a.amount
    ]
    if taking:
        yield LineItem("lattice", pooled([s for p in taking for s in p.surfaces], units=job.units))


def break_down(job: Job, book: Consultation) -> Iterator[LineItem]:
    raise ValueError("no lattice today")


def lattice(line_items: Callable[[Job, Consultation], Any] = hang, claim: Claim = CLAIM, **more: Any) -> Entry:
    return plugin(
        "lattice",
        darby_trades=trade(line_items, "lattice", claims=(claim,), **more),
        darby_vocabulary=words(WORDS, "lattice"),
    )


def made(text: str, plugins: Plugins, job: str = ROOMS, layer: Layer = SPECIFICATION) -> Estimate:
    read, found = load(Source("job.toml", job), plugins.marks)
    assert read is not None, found
    return estimate(read, [(Source("spec.txt", text), layer)], plugins)


def areas(done: Estimate, product: str) -> str:
    return " + ".join(i.need.exact() for i in done.items if i.product == product)


SPEC = "Gypsum board: one layer on walls and ceilings.\nFinish paint: two coats on walls and ceilings.\n"


def told(done: Estimate, code: str) -> list[str]:
    return [d.message for d in done.diagnostics if d.code == code]


@pytest.fixture(scope="module")
def plugins() -> Plugins:
    return load_plugins(entries=[lattice(), *own()])


@pytest.mark.parametrize("here", [False, True])
def test_what_others_would_put_there_leaves_and_the_estimate_says_so(here: bool) -> None:
    plugins = load_plugins(entries=[lattice(), *own()], here=here)
    assert areas(made(SPEC, plugins), "gypsum board") == "1200 sq ft"  # 900 of walls, 300 of ceilings
    done = made(f"{SPEC}Lattice: one layer on the ceiling of the Lobby.\n", plugins)
    assert areas(done, "gypsum board") == "1000 sq ft"
    assert areas(done, "finish paint") == "5 gal"  # two coats at 400 sq ft per gal
    assert areas(done, "screw") == "1000"
    assert areas(done, "lattice") == "200 sq ft"
    assert told(done, "surface-claimed") == [
        "Lattice (“one layer”) of the trade lattice takes the place of finish paint, gypsum board and primer: none of it is ordered for "
        "the ceilings of lobby."
    ]
    assert not done.missing
    assert not told(done, "rule-unused")


def test_a_narrower_word_for_others_goods_beats_the_claim(plugins: Plugins) -> None:
    spec = "Gypsum board: one layer on walls.\nLattice: one layer on ceilings.\nGypsum board: one layer on the ceiling of the Lobby.\n"
    done = made(spec, plugins)
    assert areas(done, "gypsum board") == "1100 sq ft"
    assert areas(done, "lattice") == "300 sq ft"


def test_a_word_of_equal_weight_is_asked_about_and_both_are_ordered(plugins: Plugins) -> None:
    done = made(f"{SPEC}Lattice: one layer on ceilings.\n", plugins)
    assert areas(done, "gypsum board") == "1200 sq ft"
    assert told(done, "surface-contested") == [
        "Lattice (“one layer”) of the trade lattice is for the ceilings, and other clauses give it finish paint and gypsum board: both "
        "are ordered."
    ]
    assert told(done, "surface-claimed") == [
        "Lattice (“one layer”) of the trade lattice takes the place of primer: none of it is ordered for the ceilings."
    ]


@pytest.mark.parametrize(
    "line", ["Lattice: no layers on ceilings.", "Lattice: 10 % waste.", "Lattice: one layer on walls."]
)
def test_what_gives_it_no_such_surface_claims_nothing(plugins: Plugins, line: str) -> None:
    done = made(f"{SPEC}{line}\n", plugins)
    assert areas(done, "gypsum board") == "1200 sq ft"
    assert not told(done, "surface-claimed")


def test_a_key_of_one_surface_claims_it_alone() -> None:
    plugins = load_plugins(entries=[lattice(marks={"lattice": "lattice"}), *own()])
    job = ROOMS + '[[ceilings]]\nname = "Bay"\nlength = "10 ft"\nwidth = "5 ft"\nlattice = "one layer"\n'
    done = made(SPEC, plugins, job)
    assert areas(done, "gypsum board") == "1200 sq ft"
    assert areas(done, "lattice") == "50 sq ft"
    assert len(told(done, "surface-claimed")) == 1
    assert "ordered for the Bay." in told(done, "surface-claimed")[0]


def test_a_house_line_claims_and_goods_that_are_named_leave_alone() -> None:
    plugins = load_plugins(entries=[lattice(claim=Claim((("layers", "lattice"),), goods=("gypsum board",))), *own()])
    done = made("Lattice: one layer on ceilings.\n", plugins, layer=HOUSE)
    assert areas(done, "gypsum board") == "900 sq ft"
    assert areas(done, "finish paint") == "6 gal"


def test_a_trade_that_breaks_leaves_its_surfaces_to_the_others(plugins: Plugins) -> None:
    broken = load_plugins(entries=[lattice(break_down), *own()])
    line = f"{SPEC}Lattice: one layer on the ceiling of the Lobby.\n"
    done = made(line, broken)
    assert done.missing == ("lattice",)
    assert areas(done, "gypsum board") == "1200 sq ft"
    assert not told(done, "surface-claimed")


def test_a_claim_that_is_none_is_refused() -> None:
    found = load_plugins(entries=[lattice(claim=Claim(("layers", "lattice"))), *own()])  # type: ignore[arg-type]
    assert "whose claims is no tuple of claims" in found.diagnostics[0].message


@pytest.mark.parametrize(
    ("claim", "wrong", "way_out"),
    [
        (Claim((("layrs", "lattice"),)), "claims by rules of the kind layrs,", "Did you mean layers?"),
        (Claim((("layers", "latice"),)), "claims by rules of latice,", "Did you mean lattice?"),
        (Claim((("layers", "lattice"),), ("cieling",)), "claims surfaces of the kind cieling,", "Did you mean ceiling?"),
        (Claim((("layers", "lattice"),), goods=("gypsum bord",)), "claims the place of gypsum bord,", "Did you mean gypsum board?"),
        (Claim((("qqq", "lattice"),)), "claims by rules of the kind qqq,", "`darby plugins` lists what every plugin brings."),
    ],
)  # fmt: skip
def test_a_claim_on_a_word_that_nobody_knows_is_told_and_left_out(claim: Claim, wrong: str, way_out: str) -> None:
    found = load_plugins(entries=[lattice(claim=claim), *own()])
    (one,) = (d for d in found.diagnostics if d.code == "claim-unknown")
    assert one.message.startswith(f"The trade lattice of lattice {wrong}")
    assert one.help == way_out
    assert [str(failed) for failed in found.failed] == ["lattice (claim of lattice)"]
    assert [p.trade.claims for p in found.trades if p.trade.name == "lattice"] == [()]


def test_claims_of_known_words_are_not_told(plugins: Plugins) -> None:
    assert not [d for d in plugins.diagnostics if d.code == "claim-unknown"]
    by_setting = Claim((("setting", "lattice side"),), ("wall", "trim"))
    found = load_plugins(entries=[lattice(claim=by_setting, settings=(Key("side", "length"),)), *own()])
    assert not found.failed
