"""The table of default lines in DEVELOPERS.md, made from the lines themselves: `python tests/defaults_table.py` writes it anew."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from pathlib import Path

from darby.job.loader import load
from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language, read
from darby.rules.answer import Answer
from darby.rules.cascade import RuleBook
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, Rule
from darby.text.spans import Source

GUIDE = Path(__file__).parent.parent / "DEVELOPERS.md"
BEGIN, END = "<!-- default lines: made by tests/defaults_table.py -->", "<!-- end of the default lines -->"
JOB = """
name = "everything"
units = "us"
[[rooms]]
name = "r"
length = "12 ft"
width = "10 ft"
height = "8 ft"
condition = "rough"
[[corners]]
kind = "outside"
count = 1
height = "8 ft"
"""


class Heard(RuleBook):
    """A rule book that remembers what it was asked."""

    def __init__(self, rules: Iterable[Rule]) -> None:
        super().__init__(rules)
        self.asked: set[tuple[str, str]] = set()

    def ask(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        self.asked.add((kind, subject))
        return super().ask(kind, subject, about, take=take)

    def all(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> tuple[Answer, ...]:
        self.asked.add((kind, subject))
        return super().all(kind, subject, about, take=take)


def table() -> str:
    """One row a rule: the line it stands in, its value in both systems, its source, and the trades that ask for it."""
    plugins = load_plugins()
    language = Language.of(plugins.readers, plugins.vocabularies)
    own = sorted((p.trade for p in plugins.trades if p.own), key=lambda t: t.name)
    rules = {
        (trade.name, system): read(source, DEFAULT, language, strict=True).rules
        for trade in own
        for system, source in trade.defaults.items()
    }
    job, found = load(Source("job.toml", JOB), {mark for trade in own for mark in trade.marks})
    assert job is not None, found
    users: dict[tuple[str, str], list[str]] = {}
    for trade in own:
        book = Heard(rule for (_, system), said in rules.items() if system == "us" for rule in said)
        list(trade.line_items(job, Consultation(book)))
        for asked in book.asked:
            users.setdefault(asked, []).append(trade.name)
    lines = ["| trade | line | US | metric | source | asked for by |", "| --- | --- | --- | --- | --- | --- |"]
    for trade in own:
        for us, metric in _pairs(rules[trade.name, "us"], rules[trade.name, "metric"]):
            about = ", ".join((us.subject, us.kind.name, *us.scope.values()))
            used = ", ".join(users.get((us.kind.name, us.subject), ["no trade"]))
            lines.append(f"| {trade.name} | {about} | {_value(us)} | {_value(metric)} | {us.cited} | {used} |")
    return "\n".join(lines)


def _pairs(us: Iterable[Rule], metric: Iterable[Rule]) -> Iterable[tuple[Rule, Rule]]:
    """Rules that stand for each other: of one kind, subject, scope and measure, in the order of their files."""
    left = list(metric)
    for rule in us:
        twin = next(r for r in left if (r.kind.name, r.subject, r.scope) == (rule.kind.name, rule.subject, rule.scope)
                    and r.amount.unit.dimension == rule.amount.unit.dimension)  # fmt: skip
        left.remove(twin)
        yield rule, twin
    assert not left, left


def _value(rule: Rule) -> str:
    return "none comes out" if rule.kind.name == "deduct openings over" else rule.says().replace(" per 1 ", " per ")


def parts(text: str) -> tuple[str, str, str]:
    """The guide before, in and after the table."""
    before, rest = text.split(BEGIN)
    inside, after = rest.split(END)
    return before, inside.strip(), after


if __name__ == "__main__":
    start, _, end = parts(GUIDE.read_text(encoding="utf-8"))
    GUIDE.write_text(f"{start}{BEGIN}\n\n{table()}\n\n{END}{end}", encoding="utf-8")
    sys.stdout.write(f"{GUIDE.name} has the default lines of today\n")
