"""The cascade: who wins, who is beaten, what contradicts what."""

from __future__ import annotations

import itertools

import pytest

from darby.quantities.amounts import Amount
from darby.rules.cascade import RuleBook
from darby.rules.rule import DEFAULT, HOUSE, OVERRIDE, SPECIFICATION, Rule, addendum
from kit import rule

WALL = {"surface": "wall"}


def coats(amount: str, **more: object) -> Rule:
    return rule("coats", "finish paint", amount, **more)  # type: ignore[arg-type]


def test_the_later_layer_wins_and_the_beaten_stay_listed_strongest_first() -> None:
    layers = [DEFAULT, HOUSE, SPECIFICATION, addendum(1), addendum(2), OVERRIDE]
    rules = [coats(str(n + 1), layer=layer) for n, layer in enumerate(layers)]
    for order in itertools.permutations(rules):
        answer = RuleBook(order).ask("coats", "finish paint", WALL)
        assert answer is not None
        assert answer.rule is rules[5]
        assert answer.beaten == tuple(reversed(rules[:5]))
        assert answer.conflict is None


def test_addendum_2_beats_addendum_1_and_addendum_10_beats_addendum_9() -> None:
    for low, high in ((1, 2), (9, 10)):
        first, second = coats("3", layer=addendum(high)), coats("2", layer=addendum(low))
        answer = RuleBook([first, second]).ask("coats", "finish paint")
        assert answer is not None
        assert answer.rule is first
        assert answer.beaten == (second,)


def test_within_a_layer_the_narrower_scope_wins() -> None:
    everywhere = coats("1")
    sheen = coats("5", sheen="satin", coat="finish")
    wall = coats("2", surface="wall")
    bath = coats("3", room="bathrooms")
    one = coats("4", name="North wall")
    about = {"surface": "wall", "room": "Bathroom 2", "name": "north wall", "sheen": "satin", "coat": "finish"}
    rules = [everywhere, bath, one, wall, sheen]
    for count in range(5, 0, -1):
        ranked = [one, bath, wall, sheen, everywhere][5 - count :]
        answer = RuleBook([r for r in rules if r in ranked]).ask("coats", "finish paint", about)
        assert answer is not None
        assert (answer.rule, *answer.beaten) == tuple(ranked)
        assert answer.conflict is None


def test_a_room_on_its_surface_beats_the_room() -> None:
    room, both = coats("1", room="bath"), coats("2", room="bath", surface="wall")
    answer = RuleBook([room, both]).ask("coats", "finish paint", {"surface": "wall", "room": "Bath"})
    assert answer is not None
    assert answer.rule is both


def test_a_broad_addendum_beats_a_narrow_specification() -> None:
    narrow, broad = coats("3", surface="wall"), coats("2", layer=addendum(1))
    answer = RuleBook([narrow, broad]).ask("coats", "finish paint", WALL)
    assert answer is not None
    assert answer.rule is broad


def test_a_rule_narrowed_by_what_was_not_asked_does_not_apply() -> None:
    book = RuleBook([coats("2", surface="wall")])
    assert book.ask("coats", "finish paint") is None
    assert book.ask("coats", "finish paint", {"surface": "ceiling"}) is None
    assert book.ask("coats", "primer", WALL) is None
    assert book.ask("coverage", "finish paint", WALL) is None
    assert book.ask("coats", "finish paint", {"surface": "WALL", "room": "Hall"}) is not None


def test_an_empty_value_asked_about_counts_as_not_given() -> None:
    book = RuleBook([coats("2", room="bath")])
    assert book.ask("coats", "finish paint", {"room": ""}) is None
    assert book.ask("coats", "finish paint", {"room": ""}, take=["room"]) is not None


def test_a_taken_key_describes_the_answer_and_narrows_nothing() -> None:
    book = RuleBook([coats("2", sheen="eggshell")])
    assert book.ask("coats", "finish paint", WALL) is None
    answer = book.ask("coats", "finish paint", WALL, take=["sheen"])
    assert answer is not None
    assert answer["sheen"] == "eggshell"
    assert answer["color"] == ""
    assert book.ask("coats", "finish paint", {"sheen": "satin"}, take=["sheen"]) is None


def test_of_equals_that_say_the_same_the_one_that_describes_more_is_used() -> None:
    plain, full = coats("2"), coats("2", sheen="eggshell")
    for rules in ([plain, full], [full, plain]):
        answer = RuleBook(rules).ask("coats", "finish paint", take=["sheen"])
        assert answer is not None
        assert answer.rule is full
        assert answer.agreeing == (plain,)
        assert answer.conflict is None
        assert answer.beaten == ()


def test_two_sheens_for_the_same_coats_are_a_conflict() -> None:
    first, second = coats("2", sheen="eggshell"), coats("2", sheen="satin")
    answer = RuleBook([first, second]).ask("coats", "finish paint", take=["sheen"])
    assert answer is not None
    assert answer.conflict is not None
    assert (answer.rule, answer.conflict.others) == (first, (second,))


@pytest.mark.parametrize(
    ("kind", "subject", "less", "more"),
    [
        ("coats", "finish paint", ("2", ""), ("3", "")),
        ("coverage", "primer", ("400 sq ft", "1 gal"), ("300 sq ft", "1 gal")),
        ("coverage", "primer", ("300 sq ft", "1 gal"), ("7 m2", "1 L")),
        ("spacing", "screw", ("16 in", ""), ("12 in", "")),
        ("consumption", "joint compound", ("14 lb", "100 sq ft"), ("15 lb", "100 sq ft")),
    ],
)
def test_a_conflict_uses_the_reading_that_buys_more(
    kind: str, subject: str, less: tuple[str, str], more: tuple[str, str]
) -> None:
    little, much = rule(kind, subject, *less), rule(kind, subject, *more)
    for rules in ([little, much], [much, little]):
        answer = RuleBook(rules).ask(kind, subject, WALL)
        assert answer is not None
        assert answer.rule is much
        assert answer.conflict is not None
        assert answer.conflict.used is much
        assert answer.conflict.others == (little,)
        assert set(answer.heard) == {little, much}


def test_a_conflict_of_sheet_sizes_uses_the_first_stated() -> None:
    one, two = rule("sheet", "gypsum board", "4 ft", by="8 ft"), rule("sheet", "gypsum board", "4 ft", by="12 ft")
    for first, second in ((one, two), (two, one)):
        answer = RuleBook([first, second]).ask("sheet", "gypsum board")
        assert answer is not None
        assert answer.rule is first
        assert answer.conflict is not None
        assert answer.conflict.others == (second,)


def test_a_conflict_names_all_who_differ_and_not_those_who_agree() -> None:
    two, three, also, four = coats("2"), coats("3"), coats("3"), coats("4")
    answer = RuleBook([two, three, also, four]).ask("coats", "finish paint")
    assert answer is not None
    assert answer.conflict is not None
    assert (answer.rule, answer.conflict.others) == (four, (two, three, also))
    answer = RuleBook([two, three, also]).ask("coats", "finish paint")
    assert answer is not None
    assert answer.conflict is not None
    assert (answer.rule, answer.agreeing, answer.conflict.others) == (three, (also,), (two,))


def test_equals_who_contradict_below_the_winner_are_only_beaten() -> None:
    two, three, top = coats("2"), coats("3"), coats("1", layer=OVERRIDE)
    answer = RuleBook([two, three, top]).ask("coats", "finish paint")
    assert answer is not None
    assert answer.conflict is None
    assert answer.beaten == (two, three)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (("14 lb", "100 sq ft"), ("140 lb", "1000 sq ft")),
        (("1 gal", "300 sq ft"), ("4 qt", "300 sq ft")),
    ],
)
def test_the_same_rate_said_in_other_words_is_no_conflict(first: tuple[str, str], second: tuple[str, str]) -> None:
    rules = [rule("consumption", "joint compound", *first), rule("consumption", "joint compound", *second)]
    answer = RuleBook(rules).ask("consumption", "joint compound")
    assert answer is not None
    assert answer.conflict is None
    assert (answer.rule, answer.agreeing) == (rules[0], (rules[1],))


def test_all_offers_every_package_of_the_strongest_layer_in_the_order_stated() -> None:
    can, pail = Amount.of(1, "can"), Amount.of(1, "pail")
    default = rule("package", "primer", "5 gal", "1 pail", layer=DEFAULT)
    offered = [rule("package", "primer", "1 gal", "1 can"), rule("package", "primer", "5 gal", "1 pail")]
    again = rule("package", "primer", "4 qt", "1 can")
    assert offered[0].per == can
    assert offered[1].per == pail
    answers = RuleBook([default, *offered, again]).all("package", "primer", WALL)
    assert [a.rule for a in answers] == offered
    assert answers[0].agreeing == (again,)
    assert all(a.beaten == (default,) and a.conflict is None for a in answers)
    assert RuleBook([default]).all("package", "finish paint") == ()


def test_a_trades_own_defaults_are_not_bent_by_those_of_another() -> None:
    own = coats("2", layer=DEFAULT, file="own.txt")
    other = coats("3", layer=DEFAULT, file="other.txt", surface="wall")
    house = coats("4", layer=HOUSE)
    answer = RuleBook([other, own], own.span.source).ask("coats", "finish paint", WALL)
    assert answer is not None
    assert (answer.rule, answer.beaten, answer.conflict) == (own, (other,), None)
    answer = RuleBook([other, own, house], own.span.source).ask("coats", "finish paint", WALL)
    assert answer is not None
    assert answer.rule is house
    answer = RuleBook([other, own]).ask("coats", "finish paint", WALL)
    assert answer is not None
    assert answer.rule is other


def test_asking_changes_nothing_in_the_book() -> None:
    book = RuleBook([coats("2"), coats("3")])
    first, second = book.ask("coats", "finish paint"), book.ask("coats", "finish paint")
    assert first is not None
    assert second is not None
    assert first.rule is second.rule
    assert len(book.rules) == 2


def test_the_same_range_said_in_other_words_is_no_conflict_and_another_range_is_one() -> None:
    def use(low: str, high: str, per: str) -> Rule:
        return rule("consumption", "joint compound", low, per, upper=high)

    book = RuleBook([use("12 lb", "14 lb", "100 sq ft"), use("120 lb", "140 lb", "1000 sq ft")])
    answer = book.ask("consumption", "joint compound")
    assert answer is not None
    assert answer.conflict is None
    assert answer.agreeing == (book.rules[1],)
    other = RuleBook([use("12 lb", "14 lb", "100 sq ft"), use("12 lb", "15 lb", "100 sq ft")]).ask(
        "consumption", "joint compound"
    )
    assert other is not None
    assert other.conflict is not None
    assert other.rule.upper == Amount.read("15 lb")


def test_a_book_that_was_asked_before_answers_as_a_fresh_one() -> None:
    """What it keeps of a question is all that decides the answer: every key that some rule has, and the part of the surface."""
    scopes: list[dict[str, str]] = [
        {}, {"surface": "wall"}, {"surface": "soffit"}, {"room": "baths"}, {"room": "bath 2", "surface": "wall"},
        {"name": "north"}, {"facing": "north or south"}, {"sheen": "satin"}, {"coat": "finish", "note": "twice"},
    ]  # fmt: skip
    rules = [coats(str(n + 1), **scope) for n, scope in enumerate(scopes)]
    asked: list[dict[str, str]] = [
        dict(zip(("surface", "room", "name", "part", "facing", "sheen", "coat"), about, strict=True))
        for about in itertools.product(
            ("wall", "ceiling"), ("", "Bath 2", "Hall"), ("", "North", "x"), ("", "soffit"), ("", "south"),
            ("", "satin"), ("", "finish"),
        )
    ]  # fmt: skip
    book = RuleBook(rules, rooms=["Bath 2", "Hall"])
    for take in ((), ("sheen",), ("room", "coat")):
        for about in asked:
            fresh = RuleBook(rules, rooms=["Bath 2", "Hall"])
            one, again = (b.ask("coats", "finish paint", about, take=take) for b in (fresh, book))
            assert one is not None
            assert again is not None
            assert (one.asked, one.rule, one.heard) == (again.asked, again.rule, again.heard)
            assert [a.heard for a in fresh.all("coats", "finish paint", about, take=take)] == [
                a.heard for a in book.all("coats", "finish paint", about, take=take)
            ]


def test_what_a_book_keeps_has_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("darby.rules.cascade._MOST_KEPT", 3)
    rules = [coats(str(n), name=f"wall {n}") for n in range(1, 9)]
    book = RuleBook(rules)
    for n in (*range(1, 9), *range(1, 9)):
        answer = book.ask("coats", "finish paint", {"name": f"Wall {n}"})
        assert answer is not None
        assert answer.rule is rules[n - 1]
        assert len(book._kept) <= 3


def test_a_book_that_is_owned_by_another_forgets_what_it_kept() -> None:
    mine, theirs = coats("1", layer=DEFAULT, file="a.txt"), coats("2", layer=DEFAULT, file="b.txt", surface="wall")
    book = RuleBook([mine, theirs], mine.span.source)
    for owner, wanted in ((book, mine), (book.owned(theirs.span.source), theirs), (book, mine)):
        answer = owner.ask("coats", "finish paint", WALL)
        assert answer is not None
        assert answer.rule is wanted


def test_what_is_said_of_all_woodwork_holds_on_its_parts_and_is_wider_than_they_are() -> None:
    whole, doors = coats("1", surface="woodwork"), coats("2", surface="door")
    room = coats("3", surface="woodwork", room="hall")
    book = RuleBook([whole, doors, room])
    asked = {
        ("door", ""): (doors, whole),
        ("trim", ""): (whole,),
        ("door", "Hall"): (room, doors, whole),
        ("trim", "Hall"): (room, whole),
    }
    for (surface, place), (used, *beaten) in asked.items():
        answer = book.ask("coats", "finish paint", {"surface": surface, "room": place})
        assert answer is not None
        assert (answer.rule, answer.beaten, answer.conflict) == (used, tuple(beaten), None)
    assert book.ask("coats", "finish paint", WALL) is None
