"""One estimate worked out, kept and worked out again: what is remembered, what is read anew, what cannot be worked out."""

from __future__ import annotations

import pytest
from attrs import evolve

from darby.job.loader import load
from darby.reading.read import Reading
from darby.rules.rule import HOUSE, SPECIFICATION, addendum
from darby.saved.model import Choices, Saved
from darby.saved.replay.one import Worked
from darby.text.spans import Source
from lofts import HOUSE_LINES, JOB, SPEC, office

PAPERS = ((HOUSE_LINES, HOUSE, "house.txt"), (SPEC, SPECIFICATION, "spec.txt"))


def worked(
    job: str = JOB,
    *,
    papers: tuple[tuple[str, object, str], ...] = PAPERS,
    choices: Choices | None = None,
    briefly: bool = False,
) -> Worked:
    texts = [(Source(name, text), layer) for text, layer, name in papers]
    return office().work(Source("job.toml", job), texts, choices, briefly=briefly)  # type: ignore[arg-type]


def saved(**how: object) -> Saved:
    found = worked(**how)  # type: ignore[arg-type]
    assert found.saved is not None, found.problems
    return found.saved


def orders(one: Saved | None) -> list[tuple[str, int | None]]:
    assert one is not None
    return [(line.id, line.count) for line in one.items]


def test_a_job_that_cannot_be_read_gives_its_mistakes_and_no_estimate() -> None:
    found = worked(JOB.replace('"12 ft"', '"12"'))
    assert (found.estimate, found.saved) == (None, None)
    assert [d.code for d in found.problems] == ["job-no-unit"]


def test_house_lines_that_are_not_understood_give_their_mistakes_and_no_estimate() -> None:
    found = worked(papers=(("Joint compound: 13 wheelbarrows.\n", HOUSE, "house.txt"),))
    assert (found.estimate, found.saved) == (None, None)
    assert "line-not-understood" in {d.code for d in found.problems}


def test_the_units_chosen_beat_those_of_the_job_and_are_kept() -> None:
    one = saved(choices=Choices("metric"))
    assert (one.units, one.choices.units) == ("metric", "metric")
    assert saved().units == "us"
    assert orders(office().again(one).saved) == orders(one)
    assert orders(one) != orders(saved())


def test_an_estimate_worked_out_briefly_orders_the_same_and_asks_nothing() -> None:
    brief, full = worked(briefly=True), worked()
    assert orders(brief.saved) == orders(full.saved)
    assert brief.estimate is not None
    assert full.estimate is not None
    assert brief.estimate.questions == ()
    assert brief.estimate.assumptions == ()
    assert full.estimate.questions != ()
    again = office().again(saved(), briefly=True).estimate
    assert again is not None
    assert again.questions == ()


def test_house_lines_of_today_take_the_place_of_all_that_were_kept_and_none_leaves_them() -> None:
    one = saved()
    dearer = Source("today.txt", HOUSE_LINES.replace("13 lb", "26 lb"))
    again = office().again(one, [dearer]).saved
    assert again is not None
    assert [p.source.name for p in again.papers] == ["today.txt", "spec.txt"]
    assert [p.source.name for p in office().again(one).saved.papers] == ["house.txt", "spec.txt"]  # type: ignore[union-attr]
    assert [p.source.name for p in office().again(one, []).saved.papers] == ["spec.txt"]  # type: ignore[union-attr]
    assert dict(orders(again))["joints:joint-compound"] == 4  # 207.74 lb in pails of 64
    assert dict(orders(one))["joints:joint-compound"] == 2


@pytest.mark.parametrize("language", ["", "another"])
def test_what_was_read_serves_again_only_where_the_same_language_reads(
    language: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = saved()
    forgotten = [evolve(p, reading=Reading(p.source, p.layer, (), (), ())) for p in one.papers]
    empty = evolve(one, papers=tuple(forgotten))  # as though nothing had been found in any paper
    remembered = office().again(empty).saved
    assert remembered is not None
    assert not [r for r in remembered.rules if r.layer == SPECIFICATION]
    for again in (office().again(evolve(empty, language=language)), office().again(empty, reread=True)):
        assert orders(again.saved) == orders(one)


def test_what_an_addendum_changed_is_read_again_the_next_time() -> None:
    change = ("Paragraph 2.01.A: change 250 to 200.\n", addendum(1), "addendum-1.txt")
    amended = saved(papers=(*PAPERS, change))
    assert [r.amount.value for r in amended.rules if r.kind.name == "coverage" and r.layer == addendum(1)] == [200]
    assert amended.language == ""
    assert saved().language == office().mark
    assert orders(office().again(amended).saved) == orders(amended)


def test_the_defaults_of_every_trade_in_the_units_of_the_job_are_kept() -> None:
    assert [name for name, _ in saved().defaults] == ["board", "coatings", "fasteners", "joints"]
    assert all(source.name.endswith("us.txt") for _, source in saved().defaults)
    assert all(source.name.endswith("metric.txt") for _, source in saved(choices=Choices("metric")).defaults)


def test_marks_of_all_trades_may_stand_in_a_job() -> None:
    assert set(office().marks) >= {"board", "paint", "supports", "hung", "color", "condition"}
    assert list(office().marks) == sorted(office().marks)
    marked = JOB.replace("faces = 1", 'faces = 1\nsupports = "steel"\npaint = "three coats"')
    made, found = load(Source("job.toml", marked), office().marks)
    assert made is not None, found
    assert orders(worked(marked).saved) != orders(worked().saved)
