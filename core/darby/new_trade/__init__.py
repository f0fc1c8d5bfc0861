"""A new trade: a small, complete, tested distribution written from the template beside this file."""

from __future__ import annotations

import keyword
import re
import sys
from collections.abc import Iterable
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from attrs import frozen

from darby.plugin_host.discovery import GROUP, installed
from darby.plugin_host.word_ownership import meaning
from darby.reading.parsing.vocabulary import Vocabulary
from darby.text.diagnostics import Diagnostic, problem

LONGEST = 40
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_HELD = re.compile(r"\{\{(\w+)\}\}")


@frozen
class Names:
    """The name of a trade in all its uses."""

    name: str

    @property
    def module(self) -> str:
        """Of the Python package."""
        return f"{GROUP}_{self.name.replace('-', '_')}"

    @property
    def held(self) -> dict[str, str]:
        """What each place held open in the template is filled with."""
        product = self.name.replace("-", " ")
        return {
            "name": self.name,
            "module": self.module,
            "distribution": f"{GROUP}-{self.name}",
            "product": product,
            "Product": product.capitalize(),
            "mark": self.name.replace("-", "_"),
        }


def unfit(name: str, vocabularies: Iterable[Vocabulary]) -> Diagnostic | None:
    """Why a trade cannot have a name, or None. `vocabularies` are those of the plugins that are there."""
    if not _NAME.fullmatch(name) or len(name) > LONGEST:
        close = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-0123456789")[:LONGEST].strip("-")
        way_out = f"Try {close}." if _NAME.fullmatch(close) else "As in: darby new-trade roof-felt"
        return problem(
            "trade-name",
            f"“{name[:LONGEST]}” is no name for a trade: small letters and digits, words joined by a hyphen, {LONGEST} at most.",
            help=way_out,
        )
    if name in {entry.name for entry in installed()}:
        return problem("trade-name", f"There is a plugin {name} already.", help="Take another name.")
    if keyword.iskeyword(name) or name in sys.stdlib_module_names:
        return problem("trade-name", f"{name} is a word of Python's own.", help="Take another name.")
    said = name.replace("-", " ")
    taken = meaning(said, vocabularies) or meaning(f"{said}s", vocabularies)
    if taken:
        return problem(
            "trade-name",
            f"The word {said} is taken: to {taken[0]} it is {taken[1]}.",
            help="Name the trade by what it orders and nobody else does. To take another trade's place, copy that trade.",
        )
    return None


def write(name: str, folder: Path) -> tuple[tuple[Path, ...], Diagnostic | None]:
    """Write the distribution into a folder that is not there yet, or is empty; the files written, or why none was."""
    names = Names(name)
    try:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            message = f"{folder} is there already, and nothing is written over."
            return (), problem("folder-taken", message, help="Name another folder with --to, or move it away.")
        made = tuple(_written(files(__name__) / "template", folder, names))
    except OSError as error:
        why = error.strerror or str(error)
        return (), problem("folder-taken", f"{folder} cannot be written: {why}.", help="Name another folder with --to.")
    return made, None


def _written(template: Traversable, folder: Path, names: Names) -> Iterable[Path]:
    folder.mkdir(parents=True, exist_ok=True)
    held = names.held
    for part in sorted(template.iterdir(), key=lambda p: p.name):
        if part.is_dir():
            yield from _written(part, folder / (names.module if part.name == "package" else part.name), names)
        elif part.name.endswith(".tmpl"):
            path = folder / part.name.removesuffix(".tmpl")
            text = _HELD.sub(lambda match: held[match[1]], part.read_text(encoding="utf-8"))
            path.write_text(text, encoding="utf-8")
            yield path
