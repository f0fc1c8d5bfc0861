"""From rules and measurements to an estimate: trades called alone, assumptions, questions, conflicts, what was not used."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

from attrs import evolve

from darby.estimate.line_item import LineItem
from darby.estimate.trade import Caution
from darby.job.model import Job, Surface
from darby.pipeline import estimate
from darby.plugin_host.model import Failed, Plugins
from darby.quantities.amounts import Amount
from darby.reading.read import Language, Reading
from darby.rules.consultation import Consultation
from darby.rules.rule import HOUSE, SPECIFICATION, Layer, addendum
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from desk import estimated
from little_jobs import (
    DEFAULTS,
    LANGUAGE,
    coats_of_paint,
    codes,
    fake_read,
    gives,
    job,
    picture,
    provided,
    run,
    surface,
)

JOB_TEXT = """name = "Ferry hall"
rules = ["coats; finish paint; 4; ; surface=ceiling"]
[[walls]]
name = "North"
area = "400 sq ft"
paint = "coats; ; 3"
[[walls]]
name = "South"
area = "600 sq ft"
"""


def test_defaults_alone_give_the_items_and_one_question_for_each_default() -> None:
    done = run(provided())
    assert picture(done) == [("coatings:finish-paint", "5 gal", 5)]
    assert [(q.text, q.to, str(q.place), q.items) for q in done.questions] == [
        (
            "How many coats of finish paint on the walls? The documents do not say; two were assumed (default line).",
            "specifier",
            "coatings.us.txt:1:1",
            ("coatings:finish-paint",),
        ),
        (
            "What spreading rate for finish paint on the walls? The documents do not say; "
            "400 sq ft per gal was assumed (default line).",
            "supplier",
            "coatings.us.txt:2:1",
            ("coatings:finish-paint",),
        ),
        (
            "What package size of finish paint? The documents do not say; 1 gal per can was assumed (default line).",
            "supplier",
            "coatings.us.txt:3:1",
            ("coatings:finish-paint",),
        ),
    ]
    assert [a.text for a in done.assumptions] == [
        "Finish paint on the walls: coats two (default, coatings.us.txt line 1).",
        "Finish paint on the walls: coverage 400 sq ft per gal (default, coatings.us.txt line 2).",
        "Finish paint: package 1 gal per can (default, coatings.us.txt line 3).",
    ]
    assert done.trades == (("coatings", "coatings-plugin", "1.2"),)
    assert done.complete
    assert done.diagnostics == ()


def test_a_house_rule_is_an_assumption_and_no_question() -> None:
    done = run(provided(), papers=[("coats; finish paint; 3", HOUSE)])
    assert picture(done) == [("coatings:finish-paint", "7.5 gal", 8)]
    assert not [q for q in done.questions if "coats" in q.text]
    assert done.assumptions[0].text == "Finish paint on the walls: coats three (house, house.txt line 1)."


def test_a_specified_rule_is_neither_assumed_nor_asked() -> None:
    done = run(provided(), papers=[("coats; finish paint; 3", SPECIFICATION)])
    assert picture(done) == [("coatings:finish-paint", "7.5 gal", 8)]
    assert [a.answer.rule.kind.name for a in done.assumptions] == ["coverage", "package"]
    assert len(done.questions) == 2


def test_addendum_2_beats_addendum_1_beats_the_specification() -> None:
    papers = [("coats; finish paint; 1", SPECIFICATION), ("coats; finish paint; 3", addendum(1))]
    assert picture(run(provided(), papers=papers))[0][1] == "7.5 gal"
    assert picture(run(provided(), papers=[*papers, ("coats; finish paint; 4", addendum(2))]))[0][1] == "10 gal"


def test_a_silence_becomes_one_question_that_says_where_and_what_it_moves() -> None:
    done = run(provided(defaults="coverage; finish paint; 400 sq ft; 1 gal\ncoats; finish paint; 2; ; surface=wall"))
    assert picture(done) == [("coatings:finish-paint", "5 gal", None)]
    assert [(q.text, q.place, q.items) for q in done.questions][-1] == (
        "What package size of finish paint? The documents do not say, and nothing was assumed.",
        None,
        ("coatings:finish-paint",),
    )


def test_a_silence_names_each_kind_of_surface_and_what_else_was_asked() -> None:
    def asks(job: Job, book: Consultation) -> Iterator[LineItem]:
        for kind in ("wall", "ceiling", "trim"):
            book.ask("coats", "primer", {"surface": kind, "sheen": "flat", "name": "North"})
        book.ask("weight", "primer")
        return iter(())

    done = run(provided(asks))
    assert [(q.text, q.to) for q in done.questions] == [
        (
            "How many coats of primer on the walls, ceilings and trim (flat)? "
            "The documents do not say, and nothing was assumed.",
            "specifier",
        ),
        (
            "Please state what holds for the weight of primer. The documents do not say, and nothing was assumed.",
            "specifier",
        ),
    ]
    assert done.items == ()


def test_a_wall_in_no_room_is_where_its_own_name_says() -> None:
    wall = '[[walls]]\nname = "{}"\narea = "100 sq ft"\nfaces = 1\n'
    made = estimated(
        wall.format("attic wall 2") + wall.format("porch wall"), "Walls: 1/2 in. board.\nAttic walls: 5/8 in. board."
    )
    needs = {item.pool["thickness"]: str(item.need) for item in made.items if item.product == "gypsum board"}
    assert needs == {"1/2 in": "100 sq ft", "5/8 in": "100 sq ft"}


def test_a_conflict_is_asked_once_with_both_places_and_buys_more() -> None:
    done = run(provided(), papers=[("coats; finish paint; 2\ncoats; finish paint; 3", SPECIFICATION)])
    assert picture(done)[0][1] == "7.5 gal"
    assert len(done.conflicts) == 1
    assert done.conflicts[0].used.span.line == 2
    first = done.questions[0]
    assert first.text == (
        "How many coats of finish paint on the walls? The documents say both "
        "“coats; finish paint; 3” (specification.txt line 2) and “coats; finish paint; 2” (specification.txt line 1); "
        "“coats; finish paint; 3” was assumed, which buys more."
    )
    assert (first.to, first.items, str(first.place)) == (
        "specifier",
        ("coatings:finish-paint",),
        "specification.txt:2:1",
    )


def test_a_conflict_whose_words_are_the_same_quotes_the_whole_lines() -> None:
    def narrow(source: Source, layer: Layer, language: Language, **more: Any) -> Reading:
        """The rule is made by its first word alone."""
        reading = fake_read(source, layer, language, **more)
        short = tuple(evolve(r, span=source.span(r.span.start, r.span.start + 5)) for r in reading.rules)
        return evolve(reading, rules=short)

    spec = "coats; finish paint; 2; ; sheen=satin\ncoats; finish paint; 2; ; sheen=flat"
    done = estimate(
        job(), [(Source("s.txt", spec), SPECIFICATION)], Plugins(trades=(provided(),)), LANGUAGE, reader=narrow
    )
    assert (
        "sheen=satin” (s.txt line 1) and “coats; finish paint; 2; ; sheen=flat” (s.txt line 2)"
        in done.questions[0].text
    )
    assert done.questions[0].text.endswith("satin was assumed, which is said first.")


def test_a_conflict_in_the_firms_own_lines_is_asked_of_the_estimator() -> None:
    done = run(provided(), papers=[("coats; finish paint; 2\ncoats; finish paint; 3", HOUSE)])
    assert done.questions[0].to == "estimator"


def test_the_jobs_own_lines_beat_every_document_and_stand_in_the_job_file() -> None:
    line = "coats; finish paint; 4; ; surface=ceiling"
    ceiling = Surface("Top", "ceiling", Amount.read("100 sq ft"), Amount.of(1), Source("j", "").span(0, 0))
    done = run(
        provided(),
        on=job(JOB_TEXT, rules=[line], surfaces=[ceiling]),
        papers=[("coats; finish paint; 3", addendum(9))],
    )
    assert picture(done)[0][1] == "1 gal"
    rule = next(r for r in done.rules if r.layer.name == "override")
    assert str(rule.span) == "job.toml:2:11"
    assert rule.amount.step.origin.place == rule.span
    assert rule.span.source.line_text(rule.span.line) == JOB_TEXT.splitlines()[1]


def test_a_line_that_is_escaped_in_the_job_file_is_placed_at_its_line() -> None:
    text = 'name = "x"\nrules = ["spacing; screw; 8\\"", "coats; finish paint; 4"]\n'
    source = Source("job.toml", text)
    start = text.index('"spacing')
    lines = (('spacing; screw; 8"', source.span(start, start + 21)),)
    done = run(provided(), on=evolve(job(text), rules=lines))
    [rule] = [r for r in done.rules if r.layer.name == "override"]
    assert (rule.says(), str(rule.span), rule.span.text) == ("8 in", "job.toml:2:10", '"spacing; screw; 8\\""')


def test_a_mark_holds_for_its_surface_alone_and_stands_at_its_line() -> None:
    source = Source("job.toml", JOB_TEXT)
    walls = [
        surface(source, "North", "wall", "400 sq ft", paint="coats; ; 3"),
        surface(source, "South", "wall", "600 sq ft"),
    ]
    done = run(provided(marks={"paint": "finish paint"}), on=job(JOB_TEXT, surfaces=walls))
    assert picture(done)[0][1] == "6 gal"
    rule = next(r for r in done.rules if r.layer.name == "override")
    assert rule.scope == {"name": "North", "surface": "wall"}
    assert str(rule.span) == "job.toml:6:10"


def test_strictness_follows_the_layer() -> None:
    seen: dict[str, bool] = {}

    def spy(source: Source, layer: Layer, language: Language, *, strict: bool = False, **more: Any) -> Reading:
        seen[layer.name] = strict
        return fake_read(source, layer, language, strict=strict, **more)

    line = "coats; finish paint; 4; ; surface=ceiling"
    papers = [(Source("p", ""), layer) for layer in (HOUSE, SPECIFICATION, addendum(1))]
    estimate(job(JOB_TEXT, rules=[line]), papers, Plugins(trades=(provided(),)), LANGUAGE, reader=spy)
    assert seen == {"default": True, "house": True, "specification": False, "addendum 1": False, "override": True}


def test_unread_numbers_of_the_documents_are_kept_in_order() -> None:
    done = run(provided(), papers=[("unread 7\nunread 8", SPECIFICATION), ("unread 9", addendum(1))])
    assert [(s.text, why) for s, why in done.unread] == [(f"unread {n}", "no subject") for n in (7, 8, 9)]


def test_a_rule_no_trade_used_is_noted_once_for_each_place() -> None:
    spec = "coats; primer; 2; ; surface=wall\ncoats; finish paint; 2\nwaste; screw; 5 %"
    done = run(provided(), papers=[(spec, SPECIFICATION), ("waste; screw; 6 %", HOUSE)])
    assert [(d.code, d.severity, d.span.line if d.span else 0) for d in done.diagnostics] == [
        ("rule-unused", Severity.NOTE, 1),
        ("rule-unused", Severity.NOTE, 3),
    ]
    assert "coats of primer on the wall" in done.diagnostics[0].message


def test_a_beaten_rule_counts_as_used() -> None:
    done = run(provided(), papers=[("coats; finish paint; 2", SPECIFICATION), ("coats; finish paint; 3", addendum(1))])
    assert codes(done) == []


def test_cautions_come_from_the_trades_that_order_something_once_each() -> None:
    height, dust, fumes = Caution("height", "Mind the drop."), Caution("dust", "Wear a mask."), Caution("fumes", "Air.")
    done = run(
        provided(name="a", cautions=(height, dust)),
        provided(gives(), name="b", cautions=(fumes,)),
        provided(name="c", cautions=(dust, height)),
    )
    assert done.cautions == (height, dust)


def test_a_plugin_that_failed_to_load_leaves_the_estimate_incomplete() -> None:
    done = run(provided(), failed=(Failed("x", "everything"), Failed("y", "readers"), Failed("z", "documents")))
    assert done.missing == ("x", "y (readers)")
    assert picture(done) == picture(run(provided()))


def test_nothing_depends_on_the_order_of_the_plugins() -> None:
    seen = set()
    for order in itertools.permutations([provided(name=name) for name in ("b", "a", "c")]):
        done = run(*order)
        questions = [(q.text, q.items, str(q.place)) for q in done.questions]
        seen.add(str((picture(done), questions, [a.text for a in done.assumptions], done.trades)))
    assert len(seen) == 1


def test_a_trades_own_defaults_stand_beside_those_of_another() -> None:
    narrow = "coats; finish paint; 9; ; surface=wall\ncoverage; finish paint; 1 sq ft; 1 gal; surface=wall"
    done = run(provided(), provided(gives(), name="other", defaults=narrow))
    assert picture(done) == picture(run(provided()))


def test_a_trade_whose_defaults_cannot_be_read_costs_its_own_lines_and_is_no_mistake_of_the_user() -> None:
    from darby.text.diagnostics import problem

    def picky(source: Source, layer: Layer, language: Language, **more: Any) -> Reading:
        if source.text != "Tow coats.":
            return fake_read(source, layer, language, **more)
        return Reading(source, layer, (), (), (problem("not-understood", "No such word.", source.span(0, 3)),))

    plugins = Plugins(trades=(provided(), provided(name="odd", defaults="Tow coats.")))
    done = estimate(job(), [], plugins, LANGUAGE, reader=picky)
    assert picture(done) == picture(run(provided()))
    assert done.missing == ("odd",)
    assert [(d.code, d.severity) for d in done.diagnostics] == [
        ("not-understood", Severity.WARNING),
        ("trade-failed", Severity.WARNING),
    ]
    assert "Tell the author of" in done.diagnostics[-1].help
    without = estimate(job(), [], evolve(plugins, away=("thing",)), LANGUAGE, reader=picky)
    assert "left out: thing. Take that in again, or add --without" in without.diagnostics[-1].help
    assert "author" not in without.diagnostics[-1].help


def test_a_trade_without_defaults_for_the_units_is_noted() -> None:
    done = run(provided(), on=job(units="metric"))
    assert codes(done) == ["no-defaults"]
    assert "How many coats" in done.questions[0].text


def test_two_trades_that_ask_the_same_raise_one_question_that_moves_both() -> None:
    def thinner(job: Job, book: Consultation) -> Any:
        return [evolve(item, product="thinner") for item in coats_of_paint(job, book)]

    done = run(provided(thinner, name="a", defaults=None), evolve(provided(name="b", defaults=DEFAULTS), own=True))
    asked = [q for q in done.questions if "How many coats" in q.text]
    assert [q.items for q in asked] == [("a:thinner", "b:finish-paint")]


def test_a_default_of_nothing_is_quoted() -> None:
    def asks(job: Job, book: Consultation) -> Iterator[LineItem]:
        book.ask("waste", "screw")
        return iter(())

    done = run(provided(asks, defaults="waste; screw; 0 %"))
    assert done.questions[0].text.endswith("The documents do not say; “waste; screw; 0 %” was assumed (default line).")


def test_reading_diagnostics_are_passed_on_once() -> None:
    from darby.text.diagnostics import problem

    def complaining(source: Source, layer: Layer, language: Language, **more: Any) -> Reading:
        reading = fake_read(source, layer, language, **more)
        return evolve(reading, diagnostics=(problem("odd", "Odd.", severity=Severity.WARNING),) * 2)

    done = estimate(job(), [], Plugins(trades=(provided(),)), LANGUAGE, reader=complaining)
    assert codes(done) == ["odd"]
