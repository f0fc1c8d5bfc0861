"""What a table says of several things without telling them apart is to be confirmed."""

from __future__ import annotations

from reads import read_text


def confirmed(text: str) -> list[bool]:
    return [bool(rule.confirm) for rule in read_text(text).rules]


def test_rows_of_rooms_are_told_apart() -> None:
    assert confirmed("Room | Walls\nKitchen | two coats satin\nHall | three coats satin\n") == [False, False]


def test_packages_of_two_sizes_contradict_nothing() -> None:
    text = "Product   Package\nPrimer    1 gal cans\nPrimer    5 gal pails\n"
    assert confirmed(text) == [False, False]


def test_the_same_said_twice_contradicts_nothing() -> None:
    text = "Product | Spread (sq ft/gal)\nPrimer | 300\nPrimer | 300\n"
    assert not any(confirmed(text))


def test_one_product_with_two_rates_is_doubted_in_both() -> None:
    text = "Product | Spread (sq ft/gal)\nPrimer | 300\nPrimer | 350\n"
    assert confirmed(text) == [True, True]
