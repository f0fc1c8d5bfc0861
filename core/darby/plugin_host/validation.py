"""What plugins register, looked over before it is used; words of claims held against what anybody knows."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from attrs import evolve

from darby.estimate.document_format import Document
from darby.estimate.trade import Caution, Claim, Trade
from darby.job.rows.declared import JobTable, Key, unsound_keys, unsound_table
from darby.labor.task import Operation
from darby.plugin_host.model import Provided
from darby.quantities.units import UnitError
from darby.reading.parsing.fact_parser import Reader
from darby.reading.parsing.vocabulary import Vocabulary
from darby.rules.rule import Kind
from darby.text.files import nearest
from darby.text.spans import Source

HOOKS: dict[str, type] = {
    "darby_trades": Trade,
    "darby_readers": Reader,
    "darby_vocabulary": Vocabulary,
    "darby_documents": Document,
}
"""What each hook gives a list of."""


def unsound(things: tuple[object, ...] | None, given: object, kind: type) -> str:
    """What is wrong with what a hook returned, or nothing."""
    wanted = f"a list of {kind.__name__} is wanted"
    if things is None or isinstance(given, str):
        return f"returned {'nothing' if given is None else 'a ' + type(given).__name__}; {wanted}"
    for thing in things:
        if not isinstance(thing, kind):
            return f"returned a {type(thing).__name__} in its list; {wanted}"
        if not isinstance(getattr(thing, "name", None), str) or not thing.name:  # type: ignore[attr-defined]
            return f"returned a {kind.__name__} without a name"
        if isinstance(thing, Trade) and (wrong := _unsound_trade(thing)):
            return f"returned the trade {thing.name}, whose {wrong}"
        if isinstance(thing, Vocabulary) and not isinstance(thing.source, Source):
            return f"returned the vocabulary {thing.name}, whose source is no source"
        if isinstance(thing, Vocabulary) and (wrong := _unsound_units(thing)):
            return f"returned the vocabulary {thing.name}, of whose units {wrong}"
        if isinstance(thing, Reader) and not (_holds(thing.kinds, Kind) and all(map(_sound_kind, thing.kinds))):
            return f"returned the reader {thing.name}, whose kinds is no tuple of kinds"
        if isinstance(thing, Document) and not callable(thing.make):
            return f"returned the document {thing.name}, whose make is no function"
    return ""


def _unsound_units(words: Vocabulary) -> str:
    """What is wrong with the units of a vocabulary; those that are sound are known from now on."""
    try:
        list(words.units)
    except UnitError as error:
        return str(error)
    except Exception:  # no TOML: whoever reads with it says so
        return ""
    return ""


def _unsound_trade(trade: Trade) -> str:
    checks: tuple[tuple[str, bool, str], ...] = (
        ("line_items", callable(trade.line_items), "no function"),
        ("defaults", _maps(trade.defaults, Source), "no mapping of us and metric to sources"),
        ("marks", _maps(trade.marks, str), "no mapping of words to subjects"),
        (
            "mark_words",
            _maps(trade.mark_words, Mapping) and all(_maps(w, str) for w in trade.mark_words.values()),
            "no mapping of words",
        ),
        (
            "cautions",
            _holds(trade.cautions, Caution) and all(map(_sound_caution, trade.cautions)),
            "no tuple of cautions",
        ),
        (
            "operations",
            _holds(trade.operations, Operation) and all(map(_sound_operation, trade.operations)),
            "no tuple of operations",
        ),
        ("claims", _holds(trade.claims, Claim) and all(map(_sound_claim, trade.claims)), "no tuple of claims"),
        ("tables", _holds(trade.tables, JobTable), "no tuple of tables"),
        ("settings", _holds(trade.settings, Key), "no tuple of keys"),
        ("labor", trade.labor is None or callable(trade.labor), "no function"),
        ("title or about", isinstance(trade.title, str) and isinstance(trade.about, str), "no text"),
        ("replaces", isinstance(trade.replaces, str), "no name"),
    )
    unsound = next((f"{name} is {wrong}" for name, right, wrong in checks if not right), "")
    return unsound or _taken_marks(trade) or _unsound_tables(trade) or unsound_keys(trade.settings)


def _taken_marks(trade: Trade) -> str:
    """What is wrong with marks that a job file has a meaning for already: no job with a wall in it could be opened."""
    from darby.job.loader import MARKED  # noqa: PLC0415 - it imports the reading of TOML, which a look at plugins does without

    taken = sorted(MARKED.intersection(trade.marks))
    return f"marks take {', '.join(taken)}, which every job file has a meaning for already" if taken else ""


def _unsound_tables(trade: Trade) -> str:
    from darby.job.loader import KINDS, TOP  # noqa: PLC0415 - as above

    wrong = (unsound_table(table, TOP, KINDS) for table in trade.tables)
    names = [word for table in trade.tables for word in (table.name, table.kind)]
    return next(filter(None, wrong), "tables bring a name or a kind twice" if len({*names}) < len(names) else "")


def _sound_caution(caution: Caution) -> bool:
    return all(isinstance(text, str) for text in (caution.topic, caution.text, caution.cited))


def _sound_claim(claim: Claim) -> bool:
    pairs = all(isinstance(pair, tuple | list) and len(pair) == 2 for pair in claim.asks)
    return pairs and all(
        isinstance(t, str) for t in (*(w for p in claim.asks for w in p), *claim.surfaces, *claim.goods)
    )


def _sound_operation(operation: Operation) -> bool:
    return bool(operation.name) and all(
        isinstance(text, str) for text in (operation.name, operation.about, *operation.by)
    )


def _sound_kind(kind: Kind) -> bool:
    texts = (kind.name, kind.wanted, kind.known_to)
    return all(isinstance(t, str) for t in texts) and all(isinstance(s, frozenset) for s in (kind.amount, kind.per))


def _maps(value: object, kind: type) -> bool:
    return isinstance(value, Mapping) and all(isinstance(k, str) and isinstance(v, kind) for k, v in value.items())


def _holds(value: object, kind: type) -> bool:
    return isinstance(value, tuple | list) and all(isinstance(v, kind) for v in value)


SURFACES = frozenset({"wall", "ceiling", "door", "trim"})
"""The kinds of surface that every job may have."""
_SETTING = "setting"
"""The kind of rules that settings make, which no reader brings."""

Wrong = tuple[str, str]
"""What is wrong with a claim, and the way out."""


def sound_claims(
    provided: Provided, kinds: Collection[str], goods: Collection[str], surfaces: Collection[str]
) -> tuple[Provided, list[Wrong]]:
    """The trade with those of its claims whose every word is known, and what is wrong with the others.

    `kinds` are those of rules, `goods` what anybody names, `surfaces` the kinds of surface that jobs may have.
    """
    trade, kept, wrong = provided.trade, [], []
    settings = {f"{trade.name} {key.name}" for key in trade.settings}
    for claim in trade.claims:
        found = list(_unknown_words(claim, {*kinds, _SETTING}, {*goods, *settings}, surfaces))
        wrong += [(f"The trade {trade.name} of {provided.plugin} claims {text}", way_out) for text, way_out in found]
        kept += [] if found else [claim]
    return (evolve(provided, trade=evolve(trade, claims=tuple(kept))) if wrong else provided), wrong


def _unknown_words(
    claim: Claim, kinds: Collection[str], goods: Collection[str], surfaces: Collection[str]
) -> Iterator[Wrong]:
    said = [
        *((kind, "by rules of the kind", kinds) for kind, _ in claim.asks),
        *((subject, "by rules of", goods) for _, subject in claim.asks),
        *((surface, "surfaces of the kind", surfaces) for surface in claim.surfaces),
        *((one, "the place of", goods) for one in claim.goods),
    ]
    for word, what, known in dict.fromkeys((word, what, frozenset(known)) for word, what, known in said):
        if word not in known:
            yield f"{what} {word}, and nobody knows such a thing; that claim is left out.", _way_out(word, known)


def _way_out(word: str, known: Iterable[str]) -> str:
    close = nearest(word, known)
    return f"Did you mean {close}?" if close else "`darby plugins` lists what every plugin brings."
