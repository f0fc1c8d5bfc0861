"""One line to order: its name, its container, its whole packages."""

from __future__ import annotations

import pytest

from darby.estimate.line_item import LineItem, dashed
from darby.quantities.amounts import Amount

PAIL = Amount.read("64 lb") / Amount.of(1, "pail")


@pytest.mark.parametrize(
    ("need", "package", "count", "container"),
    [
        ("64 lb", PAIL, 1, "pail"),
        ("64.01 lb", PAIL, 2, "pail"),
        ("0 lb", PAIL, 0, "pail"),
        ("29.02 kg", PAIL, 1, "pail"),  # 64 lb are 29.02991168 kg
        ("29.03 kg", PAIL, 2, "pail"),
        ("64 lb", None, None, ""),
    ],
)
def test_a_need_is_ordered_in_whole_packages(
    need: str, package: Amount | None, count: int | None, container: str
) -> None:
    item = LineItem("joint compound", Amount.read(need), {}, package)
    assert (item.count, item.container) == (count, container)
    assert item.order == (None if count is None else Amount.of(count, "pail"))
    assert item.order is None or item.order.label == "order"


def test_pieces_without_a_package_size_are_counted_themselves() -> None:
    item = LineItem("clip", Amount.of(7) / 2, {}, Amount.of(1))
    assert (item.count, item.container) == (4, "")


def test_the_id_holds_trade_product_and_pool_in_small_letters_and_hyphens() -> None:
    pool = {"type": "Type X", "thickness": "5/8 in", "empty": ""}
    item = LineItem("Gypsum  Board", Amount.of(1), pool, trade="board")
    assert item.id == "board:gypsum-board:5/8-in:type-x"
    assert LineItem("screw", Amount.of(1)).id == "screw"
    assert dashed("Semi  GLOSS") == "semi-gloss"
