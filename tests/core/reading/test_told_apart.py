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


def test_a_head_that_no_list_knows_puts_confirm_on_what_its_cells_count() -> None:
    rules = read_text(
        "Rom | Vegger | Tak\nKontor | 3 coats satin | 2 coats matt\nLager | 2 coats satin | 1 coat matt\n"
    ).rules
    assert len(rules) == 4
    assert all("the head of its column" in rule.confirm for rule in rules)
