"""Surfaces that trades claim for their goods: beside each rule that gives them some, rules that others' goods leave the place."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence

from attrs import evolve, field, frozen

from darby.estimate.open_points import quoted
from darby.estimate.trade import Claim
from darby.plugin_host.model import Plugins, Provided
from darby.plugin_host.trade_runner import Run
from darby.plugin_host.word_ownership import products
from darby.quantities.amounts import Amount
from darby.quantities.plurals import plural
from darby.quantities.units import NUMBER_ONLY
from darby.reading.read import Language
from darby.rules.rule import DEFAULT, Kind, Rule, Scope
from darby.text.diagnostics import Diagnostic, Severity, problem

LEAVES = "replaced"
"""The kind of a rule that says that other goods take the place of a product."""


@frozen(eq=False)
class Claimed:
    """What comes of claims, by the name of the trade that claims: each claiming rule, with the rules that others' goods leave the place."""

    by_trade: Mapping[str, tuple[tuple[Rule, tuple[Rule, ...]], ...]] = field(factory=dict)

    @property
    def rules(self) -> list[Rule]:
        """The rules that goods leave a place."""
        return [rule for claims in self.by_trade.values() for _, some in claims for rule in some]

    def without(self, trades: Collection[str]) -> Claimed:
        """Those of other trades."""
        return Claimed({name: some for name, some in self.by_trade.items() if name not in trades})

    def told(self, runs: Iterable[Run]) -> Iterator[Diagnostic]:
        """What left which place; and what stayed there because a clause of equal weight gives it the place as well, which is asked about."""
        runs = list(runs)
        used = {id(rule) for run in runs for rule in run.consultation.used}
        ordered = {item.product for run in runs for item in run.items}
        for name, claims in self.by_trade.items():
            for rule, some in claims:
                left = [one.subject for one in some if id(one) in used]
                stays = [one.subject for one in some if id(one) not in used and one.subject in ordered]
                what, where = f"{rule.subject.capitalize()} ({quoted(rule)}) of the trade {name}", _where(rule, some)
                if left:
                    message = f"{what} takes the place of {_and(left)}: none of it is ordered for the {where}."
                    yield problem("surface-claimed", message, rule.span, severity=Severity.NOTE, help=_NOT_SO)
                if stays:
                    message = f"{what} is for the {where}, and other clauses give it {_and(stays)}: both are ordered."
                    yield problem("surface-contested", message, rule.span, severity=Severity.QUESTION, help=_WHICH)


def claimed(said: Iterable[Rule], trades: Iterable[Provided], plugins: Plugins, language: Language) -> Claimed:
    """What comes of the claims of trades: of every rule above the default lines that gives a place some of their goods."""
    claiming = [provided for provided in trades if provided.trade.claims]
    if not claiming:
        return Claimed()
    said = [rule for rule in said if rule.layer != DEFAULT and "mark" not in rule.scope]
    leaving = {goods for goods, kinds in language.lexicon.kinds.items() if LEAVES in kinds}
    kind = language.kinds.get(LEAVES, Kind(LEAVES, frozenset({NUMBER_ONLY})))
    made: dict[str, tuple[tuple[Rule, tuple[Rule, ...]], ...]] = {}
    for provided in claiming:
        others, name = sorted(leaving - _own(provided, plugins)), provided.trade.name
        for claim in provided.trade.claims:
            goods = [one for one in others if not claim.goods or one in claim.goods]
            asked = [rule for rule in said if (rule.kind.name, rule.subject) in claim.asks]
            found = ((rule, tuple(_leaving(rule, claim, goods, kind))) for rule in asked)
            made[name] = (*made.get(name, ()), *((rule, some) for rule, some in found if some))
    return Claimed(made)


def kept(claims: Claimed, call: Callable[[Sequence[Rule]], list[Run]]) -> tuple[Claimed, list[Run]]:
    """The claims that hold, and the trades called with them: one that breaks orders nothing, and leaves its surfaces to the others."""
    runs = call(claims.rules)
    broken = {run.provided.trade.name for run in runs if run.failure} & claims.by_trade.keys()
    return (claims, runs) if not broken else kept(claims.without(broken), call)


def _own(provided: Provided, plugins: Plugins) -> frozenset[str]:
    """The goods that the plugin of a trade names itself."""
    words = [v for plugin, v in plugins.words if plugin == provided.plugin]
    words += [v for guest in plugins.guests if guest.plugin == provided.plugin for v in guest.vocabularies]
    return products(words)


def _leaving(rule: Rule, claim: Claim, goods: Iterable[str], kind: Kind) -> Iterator[Rule]:
    """Rules that goods leave where a rule gives the place to others: of its scope, layer and weight."""
    if not rule.choice and not rule.amount:  # "no ceiling tile" claims nothing
        return
    surfaces = [s for s in claim.surfaces if rule.scope.get("surface", s) == s]
    scope = {key: value for key, value in rule.scope.items() if key in _PLACES}
    for surface in surfaces:
        for one in goods:
            yield evolve(
                rule, kind=kind, subject=one, scope=Scope({**scope, "surface": surface}), per=None, upper=None, by=None,
                bound="exact", amount=Amount.of(1, "each", rule.amount.step.origin), choice=rule.subject,
            )  # fmt: skip


_PLACES = ("name", "room", "given", "condition", "facing", "part", "system")
"""Keys of a scope that say where; what is said of the goods themselves limits no other goods."""


def _where(rule: Rule, some: Iterable[Rule]) -> str:
    where = _and([plural(surface) for surface in dict.fromkeys(one.scope["surface"] for one in some)])
    return rule.scope.get("name") or where + (f" of {rule.scope['room']}" if "room" in rule.scope else "")


_NOT_SO = "Where some of it is wanted all the same, say so of that place in a line of your own in the job."

_WHICH = "Ask which is meant, or say it in a line of your own in the job."


def _and(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
