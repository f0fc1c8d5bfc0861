"""A trade asks the rules: what it was told and what nobody said is remembered, each once."""

from __future__ import annotations

from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, HOUSE, Rule
from kit import rule

WALL = {"surface": "wall"}


def coats(amount: str, **more: object) -> Rule:
    return rule("coats", "finish paint", amount, **more)  # type: ignore[arg-type]


def test_a_consultation_remembers_each_answer_and_each_silence_once() -> None:
    rules = [coats("2"), rule("package", "primer", "1 gal", "1 can"), rule("package", "primer", "5 gal", "1 pail")]
    consultation = Consultation(RuleBook(rules))
    for _ in range(3):
        consultation.ask("coats", "finish paint", WALL)
        consultation.all("package", "primer", WALL)
        assert consultation.ask("waste", "gypsum board", WALL) is None
        assert consultation.all("package", "gypsum board") == ()
        assert consultation.peek("waste", "screw") is None
    consultation.ask("coats", "finish paint", {"surface": "ceiling"})
    assert [a.asked.about.get("surface") for a in consultation.answers] == ["wall", "wall", "wall", "ceiling"]
    assert consultation.used == tuple(rules)
    assert [(a.kind, a.subject) for a in consultation.unanswered] == [
        ("waste", "gypsum board"),
        ("package", "gypsum board"),
    ]


def test_what_was_heard_is_the_winner_with_all_whom_it_beat_met_or_agreed_with() -> None:
    two, three, also, weak = coats("2"), coats("3"), coats("3"), coats("4", layer=DEFAULT)
    consultation = Consultation(RuleBook([two, three, also, weak]))
    consultation.ask("coats", "finish paint")
    assert list(consultation.heard) == [three, also, two, weak]
    assert consultation.used == (three,)


def test_an_answer_chosen_from_several_is_used_and_those_left_are_not() -> None:
    can, pail = rule("package", "primer", "1 gal", "1 can"), rule("package", "primer", "5 gal", "1 pail")
    consultation = Consultation(RuleBook([can, pail]))
    offers = consultation.book.all("package", "primer")
    assert consultation.use(offers[1]) is offers[1]
    assert consultation.used == (pail,)
    assert consultation.unanswered == []


def test_what_was_said_and_is_of_no_use_becomes_one_question_as_a_silence_does() -> None:
    consultation = Consultation(RuleBook([coats("2", layer=HOUSE)]))
    for _ in range(2):
        consultation.miss("coats", "finish paint", {"surface": "wall", "room": ""})
    consultation.ask("waste", "screw", {"surface": "wall"})
    assert [(a.kind, a.subject, dict(a.about)) for a in consultation.unanswered] == [
        ("coats", "finish paint", WALL),
        ("waste", "screw", WALL),
    ]


def test_a_key_that_describes_is_taken_by_every_way_of_asking() -> None:
    satin = coats("2", sheen="satin")
    for ask in (Consultation.ask, Consultation.peek):
        consultation = Consultation(RuleBook([satin]))
        assert ask(consultation, "coats", "finish paint", WALL) is None
        answer = ask(consultation, "coats", "finish paint", WALL, take=["sheen"])
        assert answer is not None
        assert answer.rule is satin
    answers = Consultation(RuleBook([satin])).all("coats", "finish paint", WALL, take=["sheen"])
    assert [a.rule for a in answers] == [satin]
