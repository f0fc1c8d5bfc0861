"""Settings that trades declare: a firm or a job chooses how a trade works, in a plain line or in the job's `[settings]`, as rules.

A line `Lattice: side = 2 ft. [our practice]` stands in default lines, in a house file or among the rules of a job. Each makes a rule
of the kind `setting`, said of the trade and the key (`lattice side`), so that the cascade ranks it as any other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from attrs import frozen

from darby.estimate.trade import Trade
from darby.job.model import Job
from darby.job.rows.declared import SETTING_LINE, Key, Value, value_of
from darby.job.rows.measured_row import Row
from darby.job.rows.sheet import Sheet
from darby.plugin_host.guarded_reader import Text, softer
from darby.plugin_host.model import Provided
from darby.quantities.amounts import Amount, Origin
from darby.quantities.units import AREA, LENGTH, NUMBER_ONLY
from darby.rules.rule import DEFAULT, OVERRIDE, Kind, Layer, Rule
from darby.text.diagnostics import Diagnostic
from darby.text.spans import Source, Span, View
from darby.text.toml_scanner import Path, Place

SETTING = Kind("setting", frozenset({NUMBER_ONLY, LENGTH, AREA}), wanted="What {subject}?", known_to="estimator")
"""The kind of rule that a setting makes."""

_SAID = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}


def subject_of(trade: str, key: str) -> str:
    """What a setting is said of: `lattice side`."""
    return f"{trade} {key.replace('_', ' ')}"


Known = Mapping[str, Mapping[str, Key]]
"""By name of the trade its settings, by name of the key."""


def settings_of(trades: Iterable[Trade]) -> Known:
    """The settings of trades."""
    return {trade.name: {key.name: key for key in trade.settings} for trade in trades if trade.settings}


def settings(
    job: Job, trades: Iterable[Provided], defaults: Iterable[tuple[Source, Layer]], texts: Iterable[Text], lines: Iterable[Text]
) -> tuple[list[Rule], list[Diagnostic]]:  # fmt: skip
    """All that default lines, a firm's and the job's own lines, and the job itself set of trades, and what is wrong with it."""
    known = settings_of(provided.trade for provided in trades)
    rules: list[Rule] = list(of_job(job))
    told: list[Diagnostic] = []
    where = [(View.of(source), layer) for source, layer in defaults]
    for text in (*texts, *lines):
        if text.how.get("strict"):
            within = text.how.get("within")
            where.append((within if isinstance(within, View) else View.of(text.source), text.layer))
    for view, layer in where if known else ():
        some, wrong = in_lines(view, layer, known)
        rules += some
        told += map(softer, wrong) if layer == DEFAULT else wrong  # a fault of the plugin, not of the user's input
    return rules, told


def in_lines(view: View, layer: Layer, known: Known) -> tuple[list[Rule], list[Diagnostic]]:
    """What the lines of a text that set something of a trade say, and what is wrong with them."""
    rules: list[Rule] = []
    told: list[Diagnostic] = []
    at = 0
    for line in view.text.split("\n") if known else ():
        found = SETTING_LINE.fullmatch(line)
        if found is not None and (trade := found[1].casefold()) in known:
            name, span = (
                "_".join(re.split(r"[ _-]+", found[2].casefold())),
                view.span(at + found.start(1), at + found.end(3)),
            )
            sheet = Sheet(_Here(span, view.span(at + found.start(3), at + max(found.end(3), found.start(3)))))
            keys = known[trade]
            data = {name: _typed(keys[name], found[3]) if name in keys else found[3]}
            row = Row.of(sheet, ("settings",), data, what=f"the trade {trade}", keys=list(keys))
            if not sheet.found and (value := value_of(row, keys[name])) is not None:
                rules.append(_rule(trade, name, value, layer, span, found[3], found[4] or ""))
            told += sheet.found
        at += len(line) + 1
    return rules, told


def of_job(job: Job) -> Iterator[Rule]:
    """What the `[settings]` of a job say, which were looked over when it was read."""
    for trade, name, value, span in job.settings:
        yield _rule(trade, name, value, OVERRIDE, span, span.text, "")


def _typed(key: Key, said: str) -> object:
    """What a line says, as a job file would have it."""
    if key.says == "flag":
        return _SAID.get(said.casefold(), said)
    return int(said) if key.says == "count" and said.isascii() and said.isdigit() and len(said) < 10 else said


def _rule(trade: str, key: str, value: Value, layer: Layer, span: Span, said: str, cited: str) -> Rule:
    subject = subject_of(trade, key)
    origin = Origin(subject, said, span, f"setting, {layer.name}")
    if isinstance(value, Amount):
        return Rule(
            SETTING,
            subject,
            {},
            Amount.of(value.value, value.unit, origin, key.replace("_", " ")),
            layer,
            span,
            cited=cited,
        )
    choice = value if isinstance(value, str) else "yes" if value else "no"
    return Rule(SETTING, subject, {}, Amount.of(1, "each", origin), layer, span, cited=cited, choice=choice)


@frozen(eq=False)
class _Here:
    """Places of a line that is read as a table: all of it stands in one."""

    span: Span
    said: Span

    @property
    def source(self) -> Source:
        """The file."""
        return self.span.source

    def at(self, path: Path) -> Place:  # noqa: ARG002
        """The line."""
        return Place(self.span, self.said)

    def is_broken(self, path: Path) -> bool:  # noqa: ARG002
        """Never."""
        return False
