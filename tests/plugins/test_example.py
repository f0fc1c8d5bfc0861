"""Three trades written as outsiders would: they conform, mean what their cases say, and change nobody else's lines."""

from __future__ import annotations

import json
from functools import partial
from pathlib import Path

import pytest

import darby.testing.cases
from darby.documents.exact_json.estimate import item_json
from darby.plugin_host.loader import load_plugins
from darby.testing import CHECKS, Bench
from darby.testing.bench import PLAIN
from darby.testing.cases import cases
from outsiders import CEILINGS, EXAMPLE, VAPOUR, outsiders, own

SPECIFICATION = """
Store: suspended ceiling.
Walls and ceilings: one layer of vapor retarder, laps of at least 6 in. Walls: one layer of unfaced batt insulation, 3 1/2 in.
thick. Ceilings: one layer of kraft-faced batts, supports at 24 in. o.c. Gypsum board: 5/8 in. thick on ceilings, Type X.
Walls: one coat of primer, two coats of eggshell finish paint.
"""
NAMES = ("ceilings", "insulation", "vapour")
FILES = [
    CEILINGS / "tests" / "ceilings.cases.toml",
    EXAMPLE / "tests" / "insulation.cases.toml",
    VAPOUR / "tests" / "vapour.cases.toml",
]


@pytest.fixture(autouse=True)
def loaded(monkeypatch: pytest.MonkeyPatch) -> None:
    """The cases are run with the three as if they were installed."""
    monkeypatch.setattr(darby.testing.cases, "load_plugins", partial(load_plugins, entries=[*outsiders(), *own()]))
    darby.testing.cases._desk.cache_clear()


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.name)
def test_every_phrase_and_job_of_their_cases_holds(path: Path) -> None:
    wrong = {case.name: case.run() for case in cases(path) if case.name.startswith(("phrase", "job"))}
    assert len(wrong) >= 5
    assert not {name: said for name, said in wrong.items() if said}


@pytest.fixture(scope="module")
def benches() -> dict[str, Bench]:
    entries = [*outsiders(), *own()]
    return {name: Bench.of(name, SPECIFICATION, entries=entries) for name in NAMES}


@pytest.mark.slow
@pytest.mark.parametrize("check", CHECKS)
@pytest.mark.parametrize("name", NAMES)
def test_they_pass_the_conformance_check(name: str, check: str, benches: dict[str, Bench]) -> None:
    assert list(CHECKS[check](benches[name])) == []


def test_with_all_the_built_in_lines_are_the_same_byte_for_byte_but_where_a_ceiling_is_claimed() -> None:
    def lines(bench: Bench, specification: str | None = None) -> str:
        made = bench.estimate(bench.job(PLAIN), specification)
        return json.dumps([item_json(i, made.rules) for i in made.items if i.trade not in NAMES])

    alone = Bench.of("board", SPECIFICATION, entries=own())
    all_ = Bench.of("board", SPECIFICATION, entries=[*outsiders(), *own()])
    unclaimed = SPECIFICATION.replace("Store: suspended ceiling.", "Store:")
    assert lines(alone, unclaimed) == lines(all_, unclaimed)
    made = all_.estimate(all_.job(PLAIN))
    assert {i.trade for i in made.items} >= {"insulation", "vapour", "ceilings", "board", "coatings"}
    assert ("insulation", "insulation", "1.0") in made.trades
    assert ("vapour", "vapour-sheet", "2.1") in made.trades
    (told,) = (d for d in made.diagnostics if d.code == "surface-claimed")
    # paint is on no ceiling here: the documents speak of it on walls alone
    assert told.message.endswith("place of gypsum board: none of it is ordered for the ceilings of store.")


def test_laps_change_the_area_and_the_longhand_says_so() -> None:
    bench = Bench.of("vapour", "Ceilings: one layer of vapor retarder.", entries=[*outsiders(), *own()])
    made = bench.estimate(bench.job('[[ceilings]]\nname = "hall"\narea = "950 sq ft"\n'))
    (item,) = (i for i in made.items if i.trade == "vapour")
    told = json.dumps(item_json(item, made.rules))
    assert item.need.exact() == "1000 sq ft"
    assert "width that a strip covers" in told
    assert "area to be covered" in told
