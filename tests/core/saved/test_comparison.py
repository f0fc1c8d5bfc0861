"""Two estimates side by side: what moved is all there, and what is named as its cause is what did it."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve

from commands import darby
from darby.documents import changes
from darby.documents.exact_json import comparison as comparison_json
from darby.documents.terminal import comparison as comparison_terminal
from darby.job.loader import load
from darby.plugin_host.loader import load_plugins
from darby.rules.rule import HOUSE, SPECIFICATION
from darby.saved.comparison import Comparison, RowChange, RuleChange, compare
from darby.saved.model import Saved
from darby.saved.replay import causes as module
from darby.saved.replay.causes import causes
from darby.saved.replay.one import Office
from darby.saved.row_mixture import Mixture, rows_of
from darby.text.spans import Source
from ropes import JOB, LINES, SPEC, held, made, office


def told(one: Saved, other: Saved, product: str) -> list[str]:
    """The causes of a product's only line that moved, in words."""
    comparison, found = held(one, other)
    (moved,) = (m for m in comparison.items if m.line.product == product)
    return [changes.cause(c, moved) for c in found[moved.id]]


def test_a_rule_that_only_stands_elsewhere_is_the_same() -> None:
    comparison = compare(made(), made(house="# rates\n\n" + LINES, spec=SPEC.replace("2.01", "\n\n2.01")))
    assert comparison.same
    assert not comparison.rules


def test_a_changed_rate_is_named_with_its_line_and_what_it_makes() -> None:
    said = told(made(), made(house=LINES.replace("13 lb", "15 lb")), "joint compound")
    assert said == ["consumption of joint compound 13 to 15 lb per 100 sq ft, house.txt, line 1 (+2 pails)"]


def test_an_addendum_is_named_as_the_rule_that_is_new() -> None:
    (said,) = told(made(), made(more="Primer: 175 sq ft per gallon.\n"), "primer")
    assert said.startswith("new: coverage of primer 175 sq ft per gal, addendum-1.txt, line 1 (+")


def test_a_clause_that_is_gone_is_quoted_from_where_it_was() -> None:
    comparison, found = held(made(), made(spec=SPEC.replace("A. Primer: 250 sq ft per gallon.\n", "")))
    (gone,) = comparison.rules
    assert gone.after is None
    text = comparison_terminal.make(comparison, found)
    assert "no longer said: coverage of primer" in text
    assert "was spec.txt, line 2: “250 sq ft per gallon" in text


def test_a_beaten_rule_that_changed_too_is_no_cause() -> None:
    old = made(house=LINES + "Finish paint: 400 sq ft per gallon.\n")
    new = made(house=LINES + "Finish paint: 390 sq ft per gallon.\n", spec=SPEC.replace("350 sq ft", "300 sq ft"))
    comparison, found = held(old, new)
    assert len(comparison.rules) == 2
    for moved in comparison.items:
        (cause,) = found[moved.id]
        assert "350 to 300 sq ft" in changes.cause(cause, moved)


def test_changes_that_move_an_order_only_together_are_both_named() -> None:
    """4,000 sq ft of wall take 250 sq ft a gallon: 16 gal, 4 pails of 5. One more gallon in each of two ways makes 18, five
    more in both 20.1: so each alone leaves the four pails, and both make five."""
    job = 'name = "x"\nunits = "us"\n[[walls]]\nname = "a"\narea = "{} sq ft"\nfaces = 1\n'
    spec = "A. Walls: one coat primer.\nB. Primer: {} sq ft per gallon.\n"
    old = made(job.format(4000), spec.format(250), "Primer comes in 5 gal pails.\nPrimer waste: 0 %.\n")
    new = made(job.format(4500), spec.format(223), "Primer comes in 5 gal pails.\nPrimer waste: 0 %.\n")
    said = told(old, new, "primer")
    assert said == [
        "coverage of primer 250 to 223 sq ft per gal, spec.txt, line 2 (only together with the others)",
        'wall "a": area 4000 sq ft to 4500 sq ft, job.toml, line 4 (only together with the others)',
    ]


def test_a_changed_opening_and_a_new_room_are_rows() -> None:
    job = (
        JOB.replace("count = 2", "count = 1")
        + '[[rooms]]\nname = "Net shed"\nlength = "40 ft"\nwidth = "30 ft"\nheight = "9 ft"\n'
    )
    comparison, found = held(made(), made(job))
    assert [(r.before is None, (r.after or r.before).what) for r in comparison.rows] == [  # type: ignore[union-attr]
        (True, 'room "Net shed"'), (False, 'opening "gate"')
    ]  # fmt: skip
    boards = [m for m in comparison.items if m.line.trade == "board"]
    assert boards
    assert any("Net shed" in changes.cause(c, m) for m in boards for c in found[m.id])


def test_other_units_are_a_cause_of_their_own() -> None:
    comparison, found = held(made(), made(units="metric"))
    assert comparison.units is not None
    assert any("units of the job us to metric" in changes.cause(c, m) for m in comparison.items for c in found[m.id])


def test_a_trade_that_counts_otherwise_now_is_said_to() -> None:
    new = made()
    data = comparison_of_other_need(new)
    (moved,) = data.items
    (cause,) = causes(data, office().plugins)[moved.id]
    assert "works it out otherwise" in changes.cause(cause, moved)


def comparison_of_other_need(saved: Saved) -> Comparison:
    first, *rest = saved.items
    older = evolve(first, need=evolve(first.need, value=first.need.value / 2), count=1)
    return compare(evolve(saved, items=(older, *rest)), saved)


def test_a_trade_that_took_no_part_is_said_to() -> None:
    less = Office.of(load_plugins(without=["fasteners"]))
    lines = LINES.replace("Screws: 110 per 100 sq ft.\n", "")
    papers = [(Source("house.txt", lines), HOUSE), (Source("spec.txt", SPEC), SPECIFICATION)]
    worked = less.work(Source("job.toml", JOB), papers)
    assert worked.saved is not None
    comparison, found = held(worked.saved, made(house=lines))
    assert comparison.items
    for moved in comparison.items:
        assert moved.before is None
        assert changes.cause(found[moved.id][0], moved) == "the trade fasteners took no part before"


def test_what_moved_most_comes_first_and_what_came_or_went_before_all() -> None:
    comparison = compare(made(), made(spec=SPEC.replace("satin", "eggshell").replace("Primer: 250", "Primer: 150")))
    sizes = [m.size for m in comparison.items]
    assert sizes == sorted(sizes, reverse=True)
    assert comparison.items[0].before is None or comparison.items[0].after is None


def test_the_json_holds_every_value_exactly_and_both_places() -> None:
    comparison, found = held(made(), made(house=LINES.replace("13 lb", "15 lb")))
    data = json.loads(comparison_json.make(comparison, found))
    assert data["schema"] == "darby.comparison/1"
    (item,) = data["items"]
    assert item["packages"] == 2
    (cause,) = item["causes"]
    (change,) = cause["changes"]
    assert (change["before"]["amount"]["value"], change["after"]["amount"]["value"]) == ("13", "15")
    assert change["before"]["source"]["line"] == change["after"]["source"]["line"] == 1


def test_rows_put_together_anew_make_the_same_job() -> None:
    source = Source("job.toml", JOB)
    rows = rows_of(source)
    assert [r.table for r in rows] == ["walls", "walls", "ceilings", "rooms", "openings", "corners"]
    again = Mixture.of(source, rows).job("Rope walk", ())
    assert again is not None
    first, _ = load(source)
    assert first is not None
    assert [(s.name, s.area, len(s.openings), s.span) for s in again.surfaces] == [
        (s.name, s.area, len(s.openings), s.span) for s in first.surfaces
    ]


Texts = dict[str, str]
Plant = Callable[[Texts, random.Random], tuple[str, str]]
"""Changes one thing in the texts, and says what it is: a rule's kind and subject, or a row's table and name."""


def swap(which: str, old: str, new: str, *named: str) -> Plant:
    def plant(texts: Texts, chance: random.Random) -> tuple[str, str]:
        assert old in texts[which], old
        texts[which] = texts[which].replace(old, new.format(n=chance.randint(1, 9)), 1)
        return named[0], named[1]

    return plant


PLANTS: tuple[Plant, ...] = (
    swap("house", "13 lb", "1{n}.5 lb", "consumption", "joint compound"),
    swap("house", "38 ft", "4{n} ft", "consumption", "joint tape"),
    swap("house", "110 per", "13{n} per", "consumption", "screw"),
    swap("house", "5 gal", "1 gal", "package", "primer"),
    swap("house", "over 32 sq ft", "over 10{n} sq ft", "deduct openings over", ""),
    swap("spec", "250 sq ft", "20{n} sq ft", "coverage", "primer"),
    swap("spec", "350 sq ft", "28{n} sq ft", "coverage", "finish paint"),
    swap("spec", "two coats satin", "three coats satin", "coats", "finish paint"),
    swap("spec", "B. Ceilings: one coat primer", "B. Ceilings: two coats primer", "coats", "primer"),
    swap("job", '"96 ft"\nheight', '"12{n} ft"\nheight', "walls", "long wall"),
    swap("job", "31'-6\\\"", "4{n}'-6\\\"", "walls", "short wall"),
    swap("job", '"96 ft"\nwidth', '"11{n} ft"\nwidth', "ceilings", "loft ceiling"),
    swap("job", 'length = "14 ft"', 'length = "2{n} ft"', "rooms", "Tar store"),
    swap("job", "count = 2", "count = 9", "openings", "gate"),
    swap("job", "count = 4", "count = 4{n}", "corners", "outside"),
    swap("job", "8 %", "1{n} %", "waste", "gypsum board"),
)  # fmt: skip


def is_planted(change: Any, planted: set[tuple[str, str]]) -> bool:
    if isinstance(change, RuleChange):
        rule = change.after or change.before
        assert rule is not None
        return (rule.kind.name, rule.subject) in planted or (rule.kind.name, "") in planted
    assert isinstance(change, RowChange)
    row = change.after or change.before
    assert row is not None
    return (row.table, row.name) in planted


@pytest.mark.parametrize("seed", [*range(20), *(pytest.param(n, marks=pytest.mark.slow) for n in range(20, 300))])
def test_of_planted_changes_those_that_are_named_did_it(seed: int) -> None:
    chance = random.Random(seed)
    texts: Texts = {"job": JOB, "spec": SPEC, "house": LINES}
    planted = {plant(texts, chance) for plant in chance.sample(PLANTS, chance.randint(1, 3))}
    old, new = made(), made(texts["job"], texts["spec"], texts["house"])
    comparison, found = held(old, new)
    assert set(found) == {m.id for m in comparison.items}
    known: dict[frozenset[int], Saved] = {}
    for moved in comparison.items:
        assert found[moved.id]
        for cause in found[moved.id]:
            assert not cause.why
            assert all(is_planted(change, planted) for change in cause.changes), changes.cause(cause, moved)
        named = frozenset(id(c) for cause in found[moved.id] for c in cause.changes)
        if named not in known:
            known[named] = with_only(named, texts, comparison)
        line = known[named].lines.get(moved.id)
        said = [changes.cause(c, moved) for c in found[moved.id]]
        if moved.ordered:  # with nothing but what is named, the order is what it is now
            assert (line and line.order) == (moved.after and moved.after.order), said
        else:
            assert line is not None
            assert moved.after is not None
            assert line.need == moved.after.need, said


def with_only(named: frozenset[int], texts: Texts, comparison: Comparison) -> Saved:
    """The old estimate with the changes named and no others, made from its texts."""
    back = {"job": JOB, "spec": SPEC, "house": LINES}
    for change in (*comparison.rules, *comparison.rows):
        if id(change) not in named:
            continue
        for which, text in list(back.items()):
            lines, new = text.split("\n"), texts[which].split("\n")
            side = change.after
            if side is not None and side.span.source.text == texts[which]:
                at = side.span.line - 1
                stop = next((n for n in range(at + 1, len(new)) if new[n].startswith("[[")), len(new))
                stop = stop if isinstance(change, RowChange) else at + 1
                lines[at:stop] = new[at:stop]
                back[which] = "\n".join(lines)
    return made(back["job"], back["spec"], back["house"])


@pytest.mark.parametrize("seed", range(3))
def test_among_many_idle_changes_the_one_that_moves_is_found(seed: int) -> None:
    chance = random.Random(seed)
    walls = "".join(f'[[walls]]\nname = "w{n}"\nlength = "{{}} ft"\nheight = "1 ft"\nfaces = 1\n' for n in range(40))
    old = [chance.randint(8, 12) for _ in range(40)]
    new = list(old)
    at = chance.randrange(40)
    new[at] += 900
    one = made(JOB + walls.format(*old))
    other = made(JOB + walls.format(*new), house=LINES.replace("Primer comes in 5", "Primer comes in  5"))
    comparison, found = held(one, other)
    assert [r.after.name for r in comparison.rows if r.after] == [f"w{at}"]
    assert all(len(c.changes) == 1 for cs in found.values() for c in cs)


@pytest.fixture
def ferry(tmp_path: Path) -> Path:
    assert darby("demo", "--to", str(tmp_path), cwd=tmp_path).returncode == 0
    assert darby("estimate", "job.toml", "--save", "was.json", cwd=tmp_path).returncode == 0
    return tmp_path


def test_a_saved_estimate_against_the_job_as_it_is_now(ferry: Path) -> None:
    same = darby("compare", "was.json", "job.toml", cwd=ferry)
    assert (same.returncode, same.stderr) == (0, "")
    assert "Nothing moved" in same.stdout
    house = ferry / "house.txt"
    house.write_text(house.read_text().replace("13 lb", "25 lb"))
    moved = darby("compare", "was.json", "job.toml", cwd=ferry)
    assert moved.returncode == 1
    assert "consumption of joint compound 13 to 25 lb per 100 sq ft, house.txt, line 2 (+" in " ".join(
        moved.stdout.split()
    )
    data = json.loads(darby("compare", "was.json", "job.toml", "--format", "json", cwd=ferry).stdout)
    assert not data["same"]
    turned = json.loads(darby("compare", "job.toml", "was.json", "--format", "json", cwd=ferry).stdout)
    assert [i["packages"] for i in turned["items"]] == [-i["packages"] for i in data["items"]]


def test_what_cannot_be_compared_is_told_and_nothing_else(ferry: Path) -> None:
    (ferry / "bad.json").write_text('{"schema": "darby.saved/1", "name": ')
    done = darby("compare", "bad.json", "was.json", cwd=ferry)
    assert done.returncode == 2
    assert not done.stdout
    assert "bad.json breaks off before its end" in done.stderr
    data = json.loads(darby("compare", "bad.json", "none.json", "--format", "json", cwd=ferry).stdout)
    assert {d["code"] for d in data["diagnostics"]} == {"saved-damaged", "file-missing"}


def test_a_trade_that_cannot_be_asked_today_is_said_to_be() -> None:
    comparison = compare(made(), made(house=LINES.replace("13 lb", "26 lb")))
    (moved,) = comparison.items
    (cause,) = causes(comparison, load_plugins(without=["joints"]))[moved.id]
    assert changes.cause(cause, moved) == "the trade joints cannot be asked today, so the cause is not known"
    assert (cause.changes, cause.alone) == ((), None)


def test_a_trade_that_fails_today_is_said_to_be_beyond_asking(monkeypatch: pytest.MonkeyPatch) -> None:
    comparison = compare(made(), made(house=LINES.replace("13 lb", "26 lb")))
    call = module.call_all

    def failing(*arguments: Any) -> Any:
        return [evolve(one, failure="raised", items=()) for one in call(*arguments)]

    monkeypatch.setattr(module, "call_all", failing)
    (moved,) = comparison.items
    (cause,) = causes(comparison, office().plugins)[moved.id]
    assert changes.cause(cause, moved).startswith("the trade joints cannot be asked today")


def test_a_trade_of_another_version_is_named_with_both() -> None:
    data = comparison_of_other_need(made())
    older = evolve(
        data.before,
        trades=tuple((n, p, "0.9" if n == data.items[0].line.trade else v) for n, p, v in data.before.trades),
    )
    comparison = compare(older, data.after)
    (moved,) = comparison.items
    (cause,) = causes(comparison, office().plugins)[moved.id]
    version = next(v for n, _, v in data.after.trades if n == moved.line.trade)
    assert changes.cause(cause, moved) == (
        f"the trade {moved.line.trade}, 0.9 then and {version} now works it out otherwise than when it was saved, with the same rules and measures"
    )


def test_plugins_that_came_went_or_changed_are_told_by_name() -> None:
    new = made()
    old = evolve(new, plugins=(("board", "0.1"), ("gone", "1"), *new.plugins[1:-1]))
    told_ = {p.name: (p.before, p.after) for p in compare(old, new).plugins}
    version = dict(new.plugins)
    assert told_["gone"] == ("1", None)
    assert told_[new.plugins[-1][0]] == (None, new.plugins[-1][1])
    assert all(before != after for before, after in told_.values())
    assert list(told_) == sorted(told_)
    assert compare(new, new).plugins == ()
    assert set(told_) <= {"gone", "board", *version}


def test_a_trade_that_counts_otherwise_and_a_rule_that_changed_are_both_named() -> None:
    old, new = made(), made(house=LINES.replace("13 lb", "26 lb"))
    at = next(n for n, line in enumerate(old.items) if line.product == "joint compound")
    less = evolve(old.items[at], need=evolve(old.items[at].need, value=old.items[at].need.value / 2), count=1)
    older = evolve(old, items=(*old.items[:at], less, *old.items[at + 1 :]))
    comparison = compare(older, new)
    (moved,) = comparison.items
    first, second = causes(comparison, office().plugins)[moved.id]
    assert "works it out otherwise" in changes.cause(first, moved)
    assert "13 to 26 lb per 100 sq ft" in changes.cause(second, moved)


def test_other_units_and_a_changed_rule_are_told_apart_by_the_lines_they_move() -> None:
    comparison, found = held(made(), made(house=LINES.replace("13 lb", "26 lb"), units="metric"))
    said = {m.line.product: " / ".join(changes.cause(c, m) for c in found[m.id]) for m in comparison.items}
    assert "13 to 26 lb per 100 sq ft" in said["joint compound"]
    assert "units of the job" not in said["joint compound"]
    # its cans are the firm's own in either system, and so nothing moved but the unit of the need
    assert said["primer"] == "units of the job us to metric (need in another unit)"
