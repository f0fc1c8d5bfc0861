"""Words changed by an addendum: the specification then says what it would have said had they stood there from the first."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

import reads
from darby.reading.account.ledger import Number
from darby.reading.addenda.addenda import amend
from darby.reading.read import Language, Reading, read
from darby.rules.rule import SPECIFICATION, Rule, addendum
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source

SECTION = """\
SECTION 09 91 23
INTERIOR PAINTING
2.1 COLORS
  .1 PT-1: Moss. PT-2: Bone.
3.1 SCHEDULE
  .1 PT-1: one coat primer, two coats latex eggshell.
  .2 PT-2: one coat primer, one coat latex flat.
  .3 Walls PT-1; ceilings PT-2.
3.2 BOARD
  .1 Level 4 generally. Level 5 in Lobby.
  .2 Walls: 1/2 in. thick gypsum board, moisture resistant in Washrooms.
  .3 Sweep the floor before "handing over".
"""
ITEMS = """\
SCHEDULE OF WORKS
B  MAIN HALL
B1  Walls: two coats matt emulsion, colour Oatmeal.
B2  Ceilings: two coats matt emulsion, colour White.
"""
HEAD = "ADDENDUM 1\n\n"


@pytest.fixture(scope="module")
def language() -> Language:
    return reads.language()


def amended(language: Language, spec: str, *addenda: str) -> tuple[list[Reading], list[Diagnostic]]:
    papers = [(Source(f"add-{n}.txt", text), addendum(n)) for n, text in enumerate(addenda, 1)]
    return amend([reads.paper(spec), *(read(source, layer, language) for source, layer in papers)], language)


def said(rules: list[Rule]) -> Counter[tuple[object, ...]]:
    """What rules say, wherever they stand."""
    return Counter((r.kind.name, r.subject, tuple(r.scope.items()), r.says(), r.bound) for r in rules)


CHANGES = [
    ("3.1.2", "latex flat", "latex matte"),
    ("3.1.2", "one coat latex flat", "two coats alkyd semi-gloss"),
    ("2.1.1", "Moss", "Fern"),
    ("2.1.1", "PT-2: Bone", "PT-2: Fog"),
    ("3.1.1", "eggshell", "semi-gloss"),
    ("3.1.3", "ceilings PT-2", "ceilings PT-1"),
    ("3.2.1", "Level 4 generally", "Level 4 generally, Level 3 in the Switch Room"),
    ("3.2.1", "Lobby", "Foyer"),
    ("3.2.2", "moisture resistant in Washrooms", "type X in Washrooms"),
    ("3.2.2", "1/2 in. thick", "5/8 in. thick, type X"),
]
ORDERS = [
    'Section 09 91 23, {at}: change "{old}" to "{new}".',
    'Section 09 91 23, paragraph {at}: Delete "{old}" and insert "{new}".',
    "In section 09 91 23, clause {at}, for “{old}” read “{new}”.",
    'SECTION 09 91 23\n  A. Paragraph {at}: replace "{old}" with "{new}".',
]


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize(("at", "old", "new"), CHANGES)
def test_the_specification_says_what_it_would_with_the_words_in_it(
    language: Language, order: str, at: str, old: str, new: str
) -> None:
    readings, told = amended(language, SECTION, HEAD + order.format(at=at, old=old, new=new))
    wanted = reads.paper(SECTION.replace(old, new))
    assert said([rule for reading in readings for rule in reading.rules]) == said(list(wanted.rules))
    assert [d.code for d in told] == ["amended"], told
    assert not [n for n in readings[-1].numbers if n.became == "unread" and n.span.line > 1]  # the title has a number


def test_the_clause_of_a_changed_rule_is_the_addendum_and_its_rank_that_of_what_it_replaced(language: Language) -> None:
    readings, _ = amended(language, SECTION, f'{HEAD}Section 09 91 23, 2.1.1: change "Moss" to "Fern".')
    (fern,) = [r for r in readings[-1].rules if r.choice == "fern"]
    assert (fern.span.source.name, fern.span.text, fern.layer) == ("add-1.txt", "Fern", SPECIFICATION)
    assert fern.bound_by[0][0] == "change"


def test_one_change_after_another_leaves_one_rule(language: Language) -> None:
    both = [
        'Section 09 91 23, 3.1.1: change "two coats" to "three coats".',
        'Section 09 91 23, 3.1.1: change "eggshell" to "satin".',
    ]
    for lines in (both, both[::-1]):
        readings, told = amended(language, SECTION, HEAD + "\n".join(lines))
        rules = [r for x in readings for r in x.rules if r.kind.name == "coats" and r.scope.get("mark") == "PT-1"]
        paint = [r for r in rules if r.subject == "finish paint"]
        assert max(paint, key=lambda r: r.layer).says() == "3"
        assert {r.scope["sheen"] for r in paint} == {"satin"}
        assert not [d for d in told if d.severity is Severity.QUESTION]


def test_a_later_addendum_changes_the_words_of_an_earlier_one(language: Language) -> None:
    first, second = (
        f'{HEAD}Section 09 91 23, 2.1.1: change "{old}" to "{new}".'
        for old, new in (("Moss", "Fern"), ("Fern", "Sage"))
    )
    readings, told = amended(language, SECTION, first, second)
    colors = {r.choice for x in readings for r in x.rules if r.kind.name == "color"}
    assert colors == {"sage", "bone"}
    assert [d.code for d in told] == ["amended"] * 2


def test_words_that_an_addendum_takes_out_are_gone(language: Language) -> None:
    readings, told = amended(language, SECTION, f'{HEAD}Section 09 91 23, 3.1.1: delete "eggshell".')
    wanted = reads.paper(SECTION.replace(" eggshell", ""))
    assert said([rule for reading in readings for rule in reading.rules]) == said(list(wanted.rules))
    assert [d.code for d in told] == ["amended"]


@pytest.mark.parametrize(
    ("order", "old", "new"),
    [
        ('Item B1: for "matt" read "eggshell".', "B1  Walls: two coats matt", "B1  Walls: two coats eggshell"),
        ('B2: change "matt" to "silk".', "B2  Ceilings: two coats matt", "B2  Ceilings: two coats silk"),
        ('Item B1, lower part: for "Oatmeal" read "Slate".', "Oatmeal", "Slate"),
        ('Change "Oatmeal" to "Slate".', "Oatmeal", "Slate"),
        ('Item B2, ceilings: for "two coats" read "three coats".', "Ceilings: two", "Ceilings: three"),
    ],
)
def test_words_are_found_by_the_item_and_by_what_else_is_said(
    language: Language, order: str, old: str, new: str
) -> None:
    readings, told = amended(language, ITEMS, HEAD + order)
    wanted = reads.paper(ITEMS.replace(old, new))
    assert said([rule for reading in readings for rule in reading.rules]) == said(list(wanted.rules)), told


@pytest.mark.parametrize(
    ("order", "changes"),
    [
        ('3.2.2: insert "and Kitchens" after "Washrooms".', [("Washrooms", "Washrooms and Kitchens")]),
        ('Paragraph 3.1.2: after the words "latex flat" add ", Fog".', [("latex flat", "latex flat, Fog")]),
        ('3.2.1: before "Lobby" insert "Stair and".', [("Lobby", "Stair and Lobby")]),
        (
            '3.1.1: change "two coats" to "three coats" and "eggshell" to "satin".',
            [("two coats latex eggshell", "three coats latex satin")],
        ),
        ('Paragraph 3.1.1: "eggshell" is replaced by "satin".', [("eggshell", "satin")]),
        ('Change "eggshell" to "satin" in paragraph 3.1.1.', [("eggshell", "satin")]),
        (
            'In 3.1.1: change "eggshell" to "satin" and in paragraph 3.2.1 change "Lobby" to "Foyer".',
            [("eggshell", "satin"), ("Lobby", "Foyer")],
        ),
        (
            'Paragraphs 3.1.1 and 3.1.2: change "latex" to "alkyd".',
            [("two coats latex", "two coats alkyd"), ("one coat latex", "one coat alkyd")],
        ),
        ('3.2.1: replace "generally. Level 5 in Lobby" with "generally. Level 3 in Lobby".', [("Level 5", "Level 3")]),
    ],
)
def test_all_that_a_sentence_tells_is_done(language: Language, order: str, changes: list[tuple[str, str]]) -> None:
    text = SECTION
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    readings, told = amended(language, SECTION, f"{HEAD}Section 09 91 23, {order}")
    wanted = reads.paper(text)
    last = {
        (r.kind.name, r.subject, tuple(r.scope.items())): r
        for x in readings
        for r in sorted(x.rules, key=lambda r: r.layer)
    }
    assert said(list(last.values())) == said(list(wanted.rules)), told
    assert {d.code for d in told} == {"amended"}


@pytest.mark.parametrize(
    "order", ['Item C1: for "matt" read "silk".', 'Paragraph 3.1.1: "eggshell" should have said "satin".']
)
def test_a_change_that_is_of_nothing_or_not_understood_is_asked_about(language: Language, order: str) -> None:
    text = ITEMS if order.startswith("Item") else SECTION
    readings, told = amended(language, text, HEAD + order)
    assert said(list(readings[0].rules)) == said(list(reads.paper(text).rules))
    assert not readings[-1].rules
    assert [d.severity for d in told] == [Severity.QUESTION]


@pytest.mark.parametrize(
    ("order", "code"),
    [
        ('Section 09 91 23, 3.1.9: change "one coat latex flat" to "two coats latex flat".', "amend-nothing"),
        ('Section 09 91 23, 3.1.2: change "one coat latex gloss" to "two coats latex gloss".', "amend-nothing"),
        ('Change "one coat primer" to "two coats primer".', "amend-several"),
        ('Section 09 91 23, 3.1.2: change "one coat latex flat" to "a coat of frobnic".', "amend-nothing"),
        ('Section 09 91 23, 3.1.2: change "latex flat" to "flummery 7".', "amend-nothing"),
    ],
)
def test_what_cannot_be_carried_out_is_asked_about_and_said_of_nothing(
    language: Language, order: str, code: str
) -> None:
    readings, told = amended(language, SECTION, HEAD + order)
    assert not readings[-1].rules
    assert said(list(readings[0].rules)) == said(list(reads.paper(SECTION).rules))
    assert [d.code for d in told if d.severity is Severity.QUESTION] == [code]


def test_a_row_below_an_item_is_of_that_item(language: Language) -> None:
    text = "Item 4   Screws at 300 mm centres.\n\nItem 5   Painting as under.\n\n   Code   Description\n   E1     Two coats satin, shade Sand.\n   E2     Two coats satin, shade Jade.\n"
    readings, told = amended(language, text, f'{HEAD}Item 5, Code E1: for "Sand" read "Wheat".')
    assert {r.scope["color"] for x in readings for r in x.rules if "color" in r.scope} == {"wheat", "jade"}, told
    readings, told = amended(language, text, f'{HEAD}Item 4: for "Sand" read "Wheat".')
    assert [d.code for d in told] == ["amend-nothing"]


def test_a_change_of_a_clause_that_orders_nothing_is_a_note(language: Language) -> None:
    readings, told = amended(language, SECTION, f'{HEAD}Section 09 91 23, 3.2.3: change "Sweep" to "Wash".')
    assert [(d.code, d.severity) for d in told] == [("amended", Severity.NOTE)]
    assert not readings[-1].rules


@given(st.permutations([c for c in CHANGES if c[0] in ("2.1.1", "3.1.2", "3.2.2")]), st.integers(1, 3))
def test_any_changes_in_any_order_say_what_the_text_would(changes: list[tuple[str, str, str]], count: int) -> None:
    language = reads.language()
    text, orders = SECTION, []
    for at, old, new in changes[:count]:
        if text.count(old) == 1:
            text = text.replace(old, new)
            orders.append(f'Section 09 91 23, {at}: change "{old}" to "{new}".')
    readings, _ = amended(language, SECTION, HEAD + "\n".join(orders))
    wanted = reads.paper(text)
    highest: dict[tuple[object, ...], Rule] = {}
    for rule in (r for reading in readings for r in reading.rules):
        key = (rule.kind.name, rule.subject, tuple(rule.scope.items()))
        if key not in highest or rule.layer >= highest[key].layer:
            highest[key] = rule
    assert said(list(highest.values())) == said(list(wanted.rules))


def test_every_number_of_the_addendum_is_accounted_for_once(language: Language) -> None:
    text = f'{HEAD}Section 09 91 23, 3.1.2: change "one coat latex flat" to "two coats latex flat".\nItem 9: for "7 pints" read "8 pints".'
    readings, _ = amended(language, SECTION, text)
    numbers: tuple[Number, ...] = readings[-1].numbers
    assert len({n.span.start for n in numbers}) == len(numbers)
    assert {n.span.text for n in numbers if n.became == "unread"} == {"7", "8"}
