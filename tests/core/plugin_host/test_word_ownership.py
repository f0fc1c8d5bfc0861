"""Whose word is whose: two claims on one word, a built-in product shadowed, a built-in trade replaced on purpose."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.job.model import Job
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.word_ownership import Guest, settle
from darby.quantities.amounts import Amount
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.consultation import Consultation
from darby.rules.rule import SPECIFICATION
from darby.text.diagnostics import Severity
from darby.text.spans import Source
from outsiders import own
from rogues import Entry, plugin, trade, words

JOB = '[[walls]]\nname = "north"\nlength = "10 ft"\nheight = "8 ft"\nfaces = 1\n'
TILE = '[subject]\n"ceiling tile" = ["perforated ceiling panel", "perforated ceiling panels"]\n[kinds]\n"ceiling tile" = ["package", "layers", "spacing"]\n'


def made_with(specification: str, *entries: Entry) -> Estimate:
    plugins = load_plugins(entries=[*entries, *own()])
    work, found = load(Source("job.toml", f'name = "j"\nunits = "us"\n{JOB}'), [])
    assert work is not None, found
    return estimate(work, [(Source("s.txt", specification), SPECIFICATION)], plugins)


def rules(made: Estimate) -> list[str]:
    said = [r for r in made.rules if r.span.source.name == "s.txt"]
    return [f"{r.kind.name} of {r.subject}: {r.says()}" for r in said]


def told(made: Estimate, code: str) -> list[str]:
    return [d.message for d in made.diagnostics if d.code == code]


def vocabulary(name: str, text: str) -> tuple[str, Vocabulary]:
    return name, Vocabulary(name, Source(f"{name}.toml", text))


def guest(name: str, text: str, **more: Any) -> Guest:
    return Guest(name, "1", (), (vocabulary(name, text)[1],), **more)


def meanings(own: list[tuple[str, Vocabulary]], *guests: Guest) -> tuple[dict[str, tuple[str, str]], list[str]]:
    found, said = settle(own, guests)
    return Lexicon.of(found).stock.phrases, [d.message for d in said]


COAT = vocabulary("paint", '[subject]\npaint = ["paint", "enamel"]\n')


def test_a_word_stays_with_darbys_own_whatever_the_name_of_the_plugin() -> None:
    for name in ("aaa", "zzz"):
        found, said = meanings([COAT], guest(name, '[subject]\nlacquer = ["enamel", "lacquer"]\n'))
        assert (found["enamel"], found["lacquer"]) == (("subject", "paint"), ("subject", "lacquer"))
        assert said == [f"paint and {name} both claim the word “enamel”; it stays paint, as paint says."]


def test_between_two_outsiders_the_first_by_name_has_the_word_in_whatever_order_they_come() -> None:
    one, two = (guest(n, f'[subject]\n{n} = ["lacquer"]\n') for n in ("alpha", "beta"))
    for order in ((one, two), (two, one)):
        found, said = meanings([COAT], *order)
        assert found["lacquer"] == ("subject", "alpha")
        assert said == ["alpha and beta both claim the word “lacquer”; it stays alpha, as alpha says."]


def test_two_that_mean_the_same_by_a_word_do_not_clash() -> None:
    found, said = meanings([COAT], guest("zzz", '[subject]\npaint = ["Enamel", "gloss paint"]\n'))
    assert found["gloss paint"] == ("subject", "paint")
    assert said == []


def test_a_word_for_what_nobody_orders_yields_to_a_plugin_that_orders_it() -> None:
    aside = vocabulary("general", '[aside]\n"no order of ours" = ["carpet", "felt"]\n')
    found, said = meanings([aside], guest("floors", '[subject]\ncarpet = ["carpet"]\n'))
    assert found["carpet"] == ("subject", "carpet")
    assert found["felt"][0] == "ASIDE"
    assert said == []


def test_a_plugin_that_replaces_takes_the_words_along() -> None:
    found, said = meanings([COAT], guest("zzz", '[subject]\n"our paint" = ["paint"]\n', replaces=("paint",)))
    assert found["paint"] == ("subject", "our paint")
    assert said == ["zzz and paint both claim the word “paint”; it stays our paint, as zzz says."]


def test_what_a_product_can_have_is_for_its_owner_to_say() -> None:
    mine = '[subject]\nlacquer = ["lacquer"]\n[kinds]\nlacquer = ["coats"]\npaint = ["spacing"]\n[bands]\ncoats = ["0", "90"]\n'
    known = vocabulary("paint", COAT[1].source.text + '[kinds]\npaint = ["coats"]\n[bands]\ncoats = ["0", "5"]\n')
    found, said = settle([known], [guest("zzz", mine)])
    lexicon = Lexicon.of(found)
    assert lexicon.kinds == {"paint": frozenset({"coats"}), "lacquer": frozenset({"coats"})}
    assert lexicon.bands["coats"][1] == 5
    assert [d.message for d in said] == [
        "zzz says in [kinds] what paint is; that is for paint to say.",
        "zzz says in [bands] what coats is; that is for paint to say.",
    ]


def test_without_outsiders_nothing_is_touched() -> None:
    shelf = [COAT, vocabulary("broken", "[[[")]
    found, said = settle(shelf, [])
    assert [id(v) for v in found] == [id(v) for _, v in shelf]
    assert said == ()


def test_words_that_are_no_toml_are_left_for_the_reading_to_tell() -> None:
    found, said = settle([COAT], [guest("zzz", "[[[")])
    assert [v.name for v in found] == ["paint", "zzz"]
    assert said == ()


def test_a_claim_on_a_built_in_word_is_told_in_the_estimate_and_changes_no_reading() -> None:
    spec = "Primer: two coats on walls."
    made = made_with(spec, plugin("tiles", darby_vocabulary=words('[subject]\ntile = ["primer"]\n', "tiles")))
    assert rules(made) == rules(made_with(spec)) == ["coats of primer: 2"]
    assert told(made, "word-twice") == [
        "coatings and tiles both claim the word “primer”; it stays primer, as coatings says."
    ]
    assert made.complete


def test_a_longer_phrase_shadows_a_built_in_product_and_the_place_is_told() -> None:
    spec = "Perforated ceiling panels: two layers."
    assert rules(made_with(spec)) == ["layers of gypsum board: 2"]
    made = made_with(spec, plugin("tiles", darby_vocabulary=words(TILE, "tiles")))
    assert rules(made) == ["layers of ceiling tile: 2"]
    (found,) = (d for d in made.diagnostics if d.code == "word-taken")
    assert found.severity is Severity.NOTE
    assert "In the words of tiles 0.9, “two layers” is layers of ceiling tile, 2" in found.message
    assert "without them it is layers of gypsum board, 2" in found.message
    assert found.span is not None
    assert (found.span.line, found.span.text) == (1, "two layers")


def test_a_plugin_may_give_a_built_in_product_another_name_and_the_place_is_told() -> None:
    made = made_with(
        "Rockslab: two layers.", plugin("ours", darby_vocabulary=words('[subject]\n"gypsum board" = ["rockslab"]\n'))
    )
    assert rules(made) == ["layers of gypsum board: 2"]
    assert told(made, "word-taken") == ["In the words of ours 0.9, “two layers” is layers of gypsum board, 2."]
    assert made.complete


def test_a_plugin_whose_words_make_something_unsaid_takes_no_part_in_reading() -> None:
    spec = "Primer: two coats on walls."
    made = made_with(spec, plugin("hush", darby_vocabulary=words('[aside]\n"hushed up" = ["coats on"]\n')))
    assert rules(made) == ["coats of primer: 2"]
    assert made.missing == ("hush (vocabulary)",)
    (message,) = told(made, "plugin-broken")
    assert "contradicts coats of primer, 2 (s.txt:1:9)" in message


def our_coats(job: Job, book: Consultation) -> Iterator[LineItem]:
    coats = book.ask("coats", "finish paint", {"surface": "wall"}, take=("sheen",))
    if coats is not None:
        yield LineItem("our paint", (Amount.of(1, "can") * coats.amount).named("a can a coat"), rules=(coats.rule,))


def test_a_trade_replaced_on_purpose_is_told_and_its_default_lines_stand_in() -> None:
    lines = {"us": Source("ours.us", "Finish paint: three coats. [ours]")}
    ours = plugin("ours", darby_trades=trade(our_coats, "our coatings", replaces="coatings", defaults=lines))
    made = made_with("", ours)
    assert told(made, "trade-replaced") == ["The trade coatings of coatings is replaced by our coatings of ours."]
    assert {i.trade for i in made.items} == {"board", "joints", "fasteners", "our coatings"}
    (item,) = (i for i in made.items if i.trade == "our coatings")
    assert item.need.exact() == "3 cans"
    assert made.complete
    assert ("our coatings", "ours", "0.9") in made.trades


def test_the_default_lines_of_an_outsider_are_heard_by_its_own_trades_alone() -> None:
    lines = {"us": Source("ours.us", "Finish paint: four coats. [ours]\nPrimer waste: 50 %. [ours]")}
    made = made_with("", plugin("ours", darby_trades=trade(our_coats, "ours", defaults=lines)))
    assert [i.need.exact() for i in made.items if i.trade == "ours"] == ["4 cans"]
    before = {i.id: i.need for i in made_with("").items}
    assert {i.id: i.need for i in made.items if i.trade != "ours"} == before
