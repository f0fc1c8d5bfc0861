"""The built-in trades' default lines: read strictly, in both unit systems, and enough for a whole job."""

from __future__ import annotations

import pytest

from darby.plugin_host.loader import load_plugins
from darby.quantities.units import AREA, LENGTH, MASS, VOLUME
from darby.reading.read import Language, Reading, read
from darby.rules.rule import DEFAULT
from defaults_table import GUIDE, parts, table
from desk import estimated

TRADES = ("board", "coatings", "fasteners", "joints")
SYSTEMS = ("us", "metric")
JOB = """
[[rooms]]
name = "room"
length = "12 ft 6 in"
width = "3.2 m"
height = "8 ft"
"""


@pytest.fixture(scope="module")
def readings() -> dict[tuple[str, str], Reading]:
    plugins = load_plugins()
    language = Language.of(plugins.readers, plugins.vocabularies)
    return {
        (p.trade.name, system): read(source, DEFAULT, language, strict=True)
        for p in plugins.trades
        for system, source in p.trade.defaults.items()
    }


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("trade", TRADES)
def test_every_line_is_understood_to_its_last_word(
    trade: str, system: str, readings: dict[tuple[str, str], Reading]
) -> None:
    reading = readings[trade, system]
    assert not reading.diagnostics, [d.message for d in reading.diagnostics]
    assert {n.became for n in reading.numbers} <= {"read", "set aside"}
    lines = {n for n, line in enumerate(reading.source.text.splitlines(), 1) if line.strip()}
    assert {rule.span.line for rule in reading.rules} == lines
    assert all(rule.cited for rule in reading.rules)


@pytest.mark.parametrize("trade", TRADES)
def test_both_systems_say_the_same_kinds_of_the_same_subjects(
    trade: str, readings: dict[tuple[str, str], Reading]
) -> None:
    us, metric = ({(r.kind.name, r.subject, r.scope) for r in readings[trade, system].rules} for system in SYSTEMS)
    assert us == metric


@pytest.mark.parametrize("trade", TRADES)
def test_both_systems_differ_by_soft_rounding_only(trade: str, readings: dict[tuple[str, str], Reading]) -> None:
    rates = [
        {
            (r.kind.name, r.subject, r.scope): r.rate
            for r in readings[trade, system].rules
            if r.kind.name not in {"package", "sheet"}
        }
        for system in SYSTEMS
    ]
    for key, us in rates[0].items():
        metric = rates[1][key]
        assert us.unit.dimension == metric.unit.dimension
        assert us == metric or abs(us.size / metric.size - 1) <= 0.05, key


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_bare_room_is_estimated_by_defaults_alone(system: str) -> None:
    made = estimated(JOB, units=system)
    found = {i.product: i for i in made.items}
    assert found.keys() == {
        "gypsum board", "joint compound", "joint tape", "drywall clip", "screw", "primer", "finish paint"
    }  # fmt: skip
    assert all(i.count for i in made.items)
    measures = {product: i.need.unit.dimension for product, i in found.items()}
    assert (measures["gypsum board"], measures["joint compound"]) == (AREA, MASS)
    assert (measures["joint tape"], measures["primer"]) == (LENGTH, VOLUME)
    assert all(i.need.unit.system in ("", system) for i in made.items)


def test_every_default_used_is_an_assumption_and_a_question() -> None:
    made = estimated(JOB)
    about = {(a.answer.rule.kind.name, a.answer.rule.subject) for a in made.assumptions}
    assert about >= {
        ("waste", "gypsum board"), ("sheet", "gypsum board"), ("package", "joint compound"), ("coats", "finish paint"),
        ("coverage", "primer"), ("spacing", "drywall clip"), ("consumption", "screw"),
    }  # fmt: skip
    assert ("package", "joint compound") in about
    assert len([a for a in made.assumptions if a.answer.rule.kind.name == "package"]) == 4
    asked = " ".join(q.text for q in made.questions)
    assert all(word in asked for word in ("waste", "coats", "sheet"))


def test_a_rate_by_volume_finds_a_default_pail_by_volume() -> None:
    made = estimated(JOB, "Joint compound: 9 gal per 1,000 sq ft.")
    compound = next(i for i in made.items if i.product == "joint compound")
    assert compound.count
    assert compound.container == "pail"


def test_every_caution_defers_and_cites() -> None:
    for provided in load_plugins().trades:
        if provided.trade.name in TRADES:
            assert provided.trade.cautions
            for caution in provided.trade.cautions:
                assert caution.cited
                assert any(w in caution.text.lower() for w in ("local", "licensed", "certified")), caution.topic


def test_the_guide_lists_every_default_line_with_its_value_source_and_use() -> None:
    _, listed, _ = parts(GUIDE.read_text(encoding="utf-8"))
    assert listed == table(), "write it anew: python tests/defaults_table.py"
    assert "| no trade |" not in listed
