"""`darby api`: every public name with all that its module says of it, in the order of the interface."""

from __future__ import annotations

import re

from commands import darby
from darby.api import __all__ as public
from darby.new_trade.api_page import origins, page


def test_the_page_has_every_public_name_once_and_in_order() -> None:
    heads = re.findall(r"^## (?:class )?`(\w+)", page(), re.MULTILINE)
    assert heads == public == list(origins())


def test_a_class_has_its_fields_and_methods_and_a_function_its_arguments() -> None:
    trade = page(["Trade"])
    assert "- `tables: tuple[JobTable, ...] = ()`: Tables of the job file that it brings" in trade
    assert "- `short: str`: Its first sentence." in page(["Caution"])
    assert "- `text(key: str) -> str`: The words under a key" in page(["Entry"])
    assert page(["pack"]).startswith(
        "## `pack(need: Amount, product: str, book: Consultation, about: Mapping[str, str] | None=None, *, take"
    )
    assert page(["LENGTH"]) == "## `LENGTH`\n\nOf lengths: feet, metres, mils of a film.\n"


def test_the_command_prints_it_and_refuses_what_is_not_there() -> None:
    done = darby("api", "Key", "Claim")
    assert done.returncode == 0
    assert re.findall("^## .*", done.stdout, re.MULTILINE) == ["## class `Key`", "## class `Claim`"]
    wrong = darby("api", "Trad")
    assert wrong.returncode == 2
    assert "Did you mean Trade?" in wrong.stderr
