"""What a trade is to the core: words, defaults, line items and cautions, in one frozen value."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from attrs import field, frozen

from darby.estimate.line_item import LineItem
from darby.job.model import Job
from darby.rules.consultation import Consultation
from darby.text.spans import Source


@frozen
class Caution:
    """A danger of the work, said once in the estimate, with the published rule behind it."""

    topic: str
    """Two or three words, shown above it."""
    text: str
    """One or more whole sentences."""
    cited: str = ""
    """The published rule, or that there is none: `29 CFR 1926.1153`, `common practice, no source`."""


WORK_AT_HEIGHT = Caution(
    "Work at height",
    "Ceilings and high walls are work at height: lifts, ladders and scaffolds are set up and used as local law and a "
    "competent person on site require.",
    "common practice, no source",
)
"""For whatever goes on ceilings and high walls."""


def silica_dust(work: str) -> Caution:
    """For work that raises silica dust; `work` says which, and begins the sentence: `Grinding floors`."""
    return Caution(
        "Silica dust",
        f"{work} can raise respirable silica. The limit is 50 micrograms per cubic metre over a shift, "
        "with action from 25; wet or vacuum sanding keeps it down. Local rules may be stricter.",
        "29 CFR 1926.1153",
    )


@frozen
class Trade:
    """A trade plugin's contribution.

    `line_items(job, book)` returns what to order; it must be pure: same job and rules, same items, nothing written.
    `defaults` maps `us` and `metric` to a source of plain spec lines, the lowest layer of the cascade, read strictly.
    `marks` maps a key that the job file may carry on a surface (`floor = "two layers, 30 mm"`) to the subject that its plain
    text is read under; what it says holds for that surface alone and beats every document. Under no subject (`""`) the text
    is kept as it is, for the trade to look up in `Surface.marks`.
    """

    name: str
    """One word, as `--without` takes it; it is the first part of the ids of its line items."""
    title: str
    """As a heading says it."""
    line_items: Callable[[Job, Consultation], Iterable[LineItem]]
    """What to order for a job under the rules."""
    defaults: Mapping[str, Source] = field(factory=dict)
    cautions: tuple[Caution, ...] = ()
    """Told where the trade orders anything."""
    marks: Mapping[str, str] = field(factory=dict)
    replaces: str = ""
    """Name of the trade that this one takes the place of, or nothing."""
    about: str = ""
    """One sentence for `darby trades`."""


def defaults_of(package: str, systems: Iterable[str] = ("us", "metric")) -> dict[str, Source]:
    """The default lines that lie beside a trade's code as `defaults.us.txt` and `defaults.metric.txt`.

    Raises FileNotFoundError where one is missing, ModuleNotFoundError where the package is.
    """
    return {system: Source.shipped(package, f"defaults.{system}.txt") for system in systems}
