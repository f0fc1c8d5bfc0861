"""From a job and a specification in plain text to an estimate, as the command line goes about it."""

from __future__ import annotations

from functools import cache

from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount, walk
from darby.reading.read import Language
from darby.rules.rule import SPECIFICATION
from darby.text.diagnostics import Severity
from darby.text.spans import Source


@cache
def _desk() -> tuple[Plugins, Language]:
    plugins = load_plugins()
    return plugins, Language.of(plugins.readers, plugins.vocabularies)


def estimated(job: str, specification: str = "", units: str = "us") -> Estimate:
    """The estimate of a job file's text (its name and units are put before it) under a specification's text."""
    plugins, language = _desk()
    marks = {key for p in plugins.trades for key in p.trade.marks}
    work, found = load(Source("job.toml", f'name = "test"\nunits = "{units}"\n{job}'), marks)
    assert work is not None, found
    papers = [(Source("spec.txt", specification), SPECIFICATION)] if specification else []
    made = estimate(work, papers, plugins, language)
    assert made.complete, made.missing
    wrong = [d for d in made.diagnostics if d.severity is Severity.ERROR]
    assert not wrong, wrong
    return made


def item(made: Estimate, product: str, **pool: str) -> LineItem:
    """The one line item of a product, or of one of its pools."""
    found = [i for i in made.items if i.product == product and pool.items() <= dict(i.pool).items()]
    assert len(found) == 1, [i.id for i in made.items]
    return found[0]


def inner(found: LineItem, label: str) -> Amount:
    """A named step of an item's working."""
    return next(a for a in walk(found.need) if a.label == label)
