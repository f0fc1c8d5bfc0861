"""What holds of the reading of any text at all, hostile ones included."""

from __future__ import annotations

import re
import string
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from attrs import evolve
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from checkout import ROOT
from darby.quantities.numerals import exact, value_of
from darby.reading.layout.normalize import mend
from darby.reading.read import Reading
from darby.rules.rule import HOUSE, Rule
from darby.text.spans import Source
from darby_grammars.kinds import KINDS
from phrase_cases import phrases
from reads import language, read_anew, read_text
from told_numbers import not_in_a_rule

SPECS = ROOT / "fixtures" / "specs"
PHRASES = [case["text"].strip() for case in phrases().values()]
DOCUMENTS = [path.read_text(encoding="utf-8") for path in sorted(SPECS.glob("*.txt"))]

QUICK = settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
LONG = settings(max_examples=3_000, deadline=None, suppress_health_check=[HealthCheck.too_slow])

MARKS = list("()[]{}|/\\-–—.,:;\"'”’½⅝⁄×x@#*_~<>&+±%°²\t\r\n \u00a0\u200b\ufeff\x0c\x00İßﬁµº٢፪")
WORDS = (
    "walls ceilings gypsum board primer finish paint joint compound tape screws coats coat layers o.c. in. inch ft mm m2 L gal per "
    "sq to or and not over at least minimum two three Level PART SECTION each side where except thick by long lb kg pails rolls % "
    "mils dry wet one first 2nd of eggshell"
).split()
NUMBERS = st.one_of(
    st.integers(0, 10**6).map(str),
    st.from_regex(r"[0-9]{1,3}[-/ .,][0-9]{1,3}", fullmatch=True),
    st.from_regex(r"[0-9]{1,2}[- ][0-9]/[0-9]{1,2}", fullmatch=True),
    st.integers(1, 60).map(lambda n: "7" * n),
)
SOUP = st.lists(
    st.one_of(st.sampled_from(WORDS), st.sampled_from(MARKS), NUMBERS), max_size=40
).map(" ".join)  # fmt: skip
GLUED = st.lists(st.one_of(st.sampled_from(WORDS), st.sampled_from(MARKS), NUMBERS), max_size=40).map("".join)
RUNS = st.builds(
    lambda part, times: part * times, st.sampled_from([*MARKS, "1/", "1 ", "(1", "2 coats ", "a "]), st.integers(1, 300)
)


@st.composite
def spliced(draw: st.DrawFn) -> str:
    """Pieces of phrases and specifications cut anywhere and put together with anything between."""
    sources = st.sampled_from([*PHRASES, *DOCUMENTS])
    pieces = []
    for _ in range(draw(st.integers(1, 5))):
        text = draw(sources)
        start = draw(st.integers(0, len(text)))
        pieces.append(text[start : start + draw(st.integers(0, 200))])
        pieces.append(draw(st.one_of(st.sampled_from(["", " ", "\n", "\n\n"]), st.sampled_from(MARKS), NUMBERS)))
    return "".join(pieces)


ANY_TEXT = st.one_of(st.text(max_size=200), st.text(string.printable, max_size=200), SOUP, GLUED, RUNS, spliced())


def digits_of(text: str) -> list[tuple[int, int]]:
    """Runs of ASCII digits that are numbers of the text: those that are no part of a unit's own word, as `m2`."""
    return [m.span() for m in re.finditer(r"[0-9]+", text)]


def check(text: str) -> Reading:
    """Everything that holds of every reading."""
    reading = read_text(text)
    _ledger_holds(reading)
    for rule in reading.rules:
        _rule_holds(rule, reading)
    for diagnostic in reading.diagnostics:
        for label in diagnostic.labels:
            assert label.span.source is reading.source
            assert 0 <= label.span.start <= label.span.end <= len(text)
    return reading


def _ledger_holds(reading: Reading) -> None:
    text, numbers = reading.source.text, reading.numbers
    for before, after in pairwise(numbers):
        assert before.span.end <= after.span.start, "two entries overlap or stand out of order"
    for number in numbers:
        assert number.span.source is reading.source
        assert 0 <= number.span.start < number.span.end <= len(text)
        assert number.became in ("read", "set aside", "unread")
        assert number.became == "read" or number.why
    assert not not_in_a_rule(reading), "a number told as read stands in no rule"
    units = {m.span() for m in re.finditer(r"(?<=[a-zA-Z])[0-9]+", text)}
    for start, end in digits_of(text):
        held = [n for n in numbers if n.span.start < end and start < n.span.end]
        if (start, end) in units and not held:
            continue  # the 2 of `m2` is no number
        covered = sum(min(end, n.span.end) - max(start, n.span.start) for n in held)
        assert covered == end - start, f"{text[start:end]!r} at {start} is not wholly in the ledger: {held}"
        assert len(held) == 1, f"{text[start:end]!r} at {start} is in {len(held)} entries"


@pytest.mark.parametrize(
    ("text", "spelled"),
    [
        ("Walls: 5/8 in. gypsum board.", "5/8"),
        ("Screws on walls: 12 in. o.c.", "12"),
        ("Primer covers three hundred square feet per gallon.", "three hundred"),
        ("Joint compound: 14 lb per 100 sq ft.", "100"),
        ("Gypsum board 4'-0\" x 10'-0\".", "10'-0\""),
    ],
)
def test_a_number_that_is_told_as_read_and_lost_on_the_way_is_noticed(text: str, spelled: str) -> None:
    reading = check(text)
    (rule,) = reading.rules
    fivefold = {name: part * 5 for name in ("amount", "by", "per") if (part := getattr(rule, name)) is not None}
    for rules in ((), (evolve(rule, **fivefold),)):
        assert spelled in [n.span.text for n in not_in_a_rule(evolve(reading, rules=rules))]


def _rule_holds(rule: Rule, reading: Reading) -> None:
    text, span = reading.source.text, rule.span
    assert span.source is reading.source
    assert 0 <= span.start < span.end <= len(text)
    assert span.text == text[span.start : span.end]
    assert rule.kind is KINDS[rule.kind.name]
    assert rule.amount.unit.dimension in rule.kind.amount
    assert rule.subject
    assert rule.per is None or rule.per.unit.dimension in rule.kind.per
    assert rule.per is None or rule.per.value > 0
    assert rule.upper is None or rule.amount.value <= rule.upper.value
    for amount in (rule.amount, rule.per, rule.upper, rule.by):
        assert amount is None or amount.value >= 0


@QUICK
@given(ANY_TEXT)
@example("")
@example("1")
@example("m²/L 2")
@example("İ 12 in. o.c. ﬁ 2 coats")
@example("12m2/L3")
@example("Joint compound: 14 lb per m2 14 lb per m2")
@example("Ceilings 8'-0\" 9'-0\"")
@example('6" 6" pieces')
@example("&#50; coats <b>2</b> 3")
def test_any_text_is_read_and_every_number_of_it_is_in_the_ledger_once(text: str) -> None:
    check(text)


@pytest.mark.slow
@LONG
@given(ANY_TEXT)
def test_any_text_is_read_and_every_number_of_it_is_in_the_ledger_once_at_length(text: str) -> None:
    check(text)


@pytest.mark.parametrize("text", DOCUMENTS + PHRASES[::7])
def test_every_cut_of_a_document_is_read(text: str) -> None:
    for end in range(0, len(text), max(1, len(text) // 12)):
        check(text[:end])
        check(text[end : end + 400])


@QUICK
@given(st.one_of(SOUP, spliced()))
def test_house_lines_are_read_as_strictly_as_anything_and_never_raise(text: str) -> None:
    reading = read_text(text, HOUSE, strict=True)
    _ledger_holds(reading)


@QUICK
@given(ANY_TEXT)
def test_a_mended_text_points_at_what_the_user_gave(text: str) -> None:
    source = Source("s", text)
    view = mend(source, language().known)
    for at in range(len(view.text)):
        span = view.span(at, at + 1)
        assert 0 <= span.start <= span.end <= len(text)
        if len(span.text) == 1 and span.text in string.ascii_lowercase.replace("l", "").replace("i", "").replace(
            "o", ""
        ):
            assert view.text[at] == span.text


def meaning(reading: Reading) -> list[tuple[object, ...]]:
    """What a reading says, without where it stands."""
    return [
        (r.kind.name, r.subject, r.scope, r.amount, r.per, r.upper, r.by, r.bound, r.layer) for r in reading.rules
    ]  # fmt: skip


def ledger(reading: Reading) -> list[tuple[object, ...]]:
    return [(n.span.start, n.span.end, n.became, n.why) for n in reading.numbers]


@QUICK
@given(st.one_of(SOUP, spliced()))
def test_reading_twice_is_identical(text: str) -> None:
    first, second = read_anew(text), read_anew(text)
    assert meaning(first) == meaning(second)
    assert ledger(first) == ledger(second)
    assert [(d.code, d.message) for d in first.diagnostics] == [(d.code, d.message) for d in second.diagnostics]


PROSE = [
    "The contractor shall keep the site clean and tidy.",
    "Coordinate the work with the other trades before it begins.",
    "Protect the work of others from damage and dirt.",
    "The architect may visit the site at any time.",
    "Remove all rubbish from the site as the work goes on.",
]

SENTENCES = [t for t in PHRASES if "\n" not in t and t.endswith(".")]


@QUICK
@given(
    st.lists(st.sampled_from(SENTENCES), min_size=1, max_size=4),
    st.lists(st.sampled_from(PROSE), min_size=5, max_size=5),
)
def test_prose_between_clauses_changes_no_rule(clauses: list[str], prose: list[str]) -> None:
    """Each clause stands alone between blank lines, with and without sentences that say nothing of quantities."""
    plain = read_text("\n\n".join(clauses))
    padded = read_text("\n\n".join(part for pair in zip(clauses, prose, strict=False) for part in pair))
    assert meaning(padded) == meaning(plain)


PARAGRAPH_END = re.compile(r"(?<=[.])\n[ \t]*\n")


@pytest.mark.parametrize("prose", PROSE)
@pytest.mark.parametrize("text", [t for t in DOCUMENTS if PARAGRAPH_END.search(t)])
def test_prose_between_the_paragraphs_of_a_document_changes_no_rule(text: str, prose: str) -> None:
    padded = PARAGRAPH_END.sub(f"\n\n{prose}\n\n", text)
    assert meaning(read_text(padded)) == meaning(read_text(text))


# one fact in two spellings: template, US amount, metric amount of exactly the same size


@QUICK
@given(
    st.sampled_from(
        ["Screws on walls: {} o.c.", "Fix screws at {} centres on ceilings.", "Nails on ceilings {} apart."]
    ),
    st.integers(2, 40),
)
def test_inches_and_their_millimetres_give_equal_spacings(template: str, inches: int) -> None:
    us, metric = (
        read_text(template.format(f"{inches} in.")),
        read_text(template.format(f"{exact(inches * Fraction(254, 10))} mm")),
    )
    assert len(us.rules) == len(metric.rules) == 1
    _same(us.rules[0], metric.rules[0])


def _same(first: Rule, second: Rule) -> None:
    assert (first.kind, first.subject, first.scope, first.bound) == (
        second.kind,
        second.subject,
        second.scope,
        second.bound,
    )
    assert first.rate == second.rate  # amounts are equal where they are of one size, whatever the unit


TWINS = [
    (
        "Joint compound: {} per 100 sq ft.",
        "Joint compound: {} per 9.290304 m2.",
        "lb",
        "kg",
        "0.45359237",
        range(5, 19),
    ),
    ("Joint tape: {} per 100 sq ft.", "Joint tape: {} per 9.290304 m2.", "ft", "m", "0.3048", range(25, 75)),
    ("Joint compound: {} pails.", "Joint compound: {} pails.", "lb", "kg", "0.45359237", range(10, 70)),
    ("Joint tape: {} rolls.", "Joint tape: {} rolls.", "ft", "m", "0.3048", range(50, 500)),
    ("Primer: {} cans.", "Primer: {} cans.", "gal", "L", "3.785411784", range(1, 5)),
    ("Primer covers {} per gal.", "Primer covers {} per 3.785411784 L.", "sq ft", "m2", "0.09290304", range(200, 400)),
    ("Deduct openings over {}.", "Deduct openings over {}.", "sq ft", "m2", "0.09290304", range(10, 100)),
    ("Primer: {} wet film.", "Primer: {} wet film.", "mils", "microns", "25.4", range(2, 10)),
]
"""US and metric template, US and metric unit, what one of the US unit is in the metric one, counts that are believed."""


@QUICK
@given(st.sampled_from(TWINS), st.data())
def test_the_us_and_the_metric_spelling_of_one_fact_are_equal(
    case: tuple[str, str, str, str, str, range], data: st.DataObject
) -> None:
    us, metric, unit, other, factor, counts = case
    count = data.draw(st.sampled_from(counts))
    first = read_text(us.format(f"{count} {unit}"))
    second = read_text(metric.format(f"{count * Decimal(factor):f} {other}"))
    assert len(first.rules) == len(second.rules) == 1, (first.numbers, second.numbers)
    _same(first.rules[0], second.rules[0])


@pytest.mark.parametrize(
    ("fraction", "spellings"),
    [
        ("1/2", ["1/2", "½", "1⁄2", "0.5", ".5", "one-half", "one half"]),
        ("5/8", ["5/8", "⅝", "5⁄8", "0.625", ".625", "five-eighths"]),
        ("3/8", ["3/8", "⅜", "3⁄8", "0.375", "three-eighths"]),
    ],
)
def test_every_spelling_of_a_number_is_one_number(fraction: str, spellings: list[str]) -> None:
    for spelling in spellings:
        for inch in (" in.", " inch", '"', "”", "-inch"):
            rules = read_text(f"Walls: {spelling}{inch} gypsum board.").rules
            assert [(r.kind.name, r.rate.value) for r in rules] == [("thickness", value_of(fraction))], spelling + inch


def test_the_fixtures_hold_whole_documents() -> None:
    assert len(DOCUMENTS) >= 6
    assert all(read_text(text).rules for text in DOCUMENTS)
