"""Workbooks of random jobs, and the lines of their order sheets."""

from __future__ import annotations

import random
from typing import Any

import handed
from darby.estimate.model import Estimate
from desk import estimated


def book(estimate: Estimate) -> bytes:
    return handed.table("xlsx", estimate)


Rows = list[list[Any]]


def lines(sheet: Rows) -> Rows:
    head = next(n for n, row in enumerate(sheet) if row[0] == "No.")
    return [row for row in sheet[head + 1 :] if row[0]]


def number(chance: random.Random, low: int, high: int) -> str:
    return str(chance.randint(low, high))


def length(chance: random.Random, low: int, high: int) -> str:
    """A length of so many feet, spelled one way or another."""
    feet = chance.randint(low, high)
    return chance.choice(
        (
            f"{feet} ft",
            f"{feet} ft {chance.randint(1, 11)} in",
            f"{feet} ft {chance.randint(1, 11)} {chance.choice(('1/2', '1/4', '5/8'))} in",
            f"{feet * 12} in",
            f"{feet * 305} mm",
            f"{feet * 0.3:.2f} m",
        )
    )


def job(chance: random.Random) -> str:
    """A job file of random rooms, walls, ceilings, openings and corners."""
    lines: list[str] = []
    for n in range(chance.randint(1, 5)):
        lines += ["[[walls]]", f"name = 'wall {n}'", f"faces = {chance.randint(1, 2)}"]
        if chance.random() < 0.2:
            lines += [f"area = '{number(chance, 40, 400)} sq ft'"]
        else:
            lines += [f'length = "{length(chance, 6, 60)}"', f'height = "{length(chance, 7, 14)}"']
        if chance.random() < 0.6:
            lines += [
                "[[openings]]",
                f"name = 'hole {n}'",
                f"wall = 'wall {n}'",
                "width = '3 ft'",
                "height = '6 ft 8 in'",
            ]
    for n in range(chance.randint(0, 3)):
        lines += [
            "[[ceilings]]",
            f"name = 'ceiling {n}'",
            f'length = "{length(chance, 8, 40)}"',
            f'width = "{length(chance, 8, 30)}"',
        ]
    for n in range(chance.randint(0, 2)):
        lines += ["[[rooms]]", f"name = 'room {n}'"]
        lines += [f'{side} = "{length(chance, 7, 20)}"' for side in ("length", "width", "height")]
    if chance.random() < 0.7:
        lines += [
            "[[corners]]",
            "kind = 'inside'",
            f"count = {chance.randint(1, 20)}",
            f'height = "{length(chance, 7, 14)}"',
        ]
    return "\n".join(lines) + "\n"


def specification(chance: random.Random) -> str:
    """Some clauses with random numbers; what they leave out, defaults supply."""
    pick = chance.choice
    lines = [
        f"Primer: {number(chance, 180, 420)} square feet per gallon.",
        f"Finish paint: {pick(('9', '11.5', '13'))} m2/L.",
        f"Finish paint: {number(chance, 250, 450)} sq ft per gallon.",
        f"Walls: one coat primer, {pick(('two', 'three', 'one'))} coats satin finish paint.",
        f"Ceilings: one coat primer, {pick(('two', 'one'))} coats flat finish paint.",
        f"Joint compound: {number(chance, 7, 19)} lb per 100 sq ft.",
        f"Joint compound: {pick(('0.5', '0.65', '0.8'))} kg per m2.",
        f"Joint tape: {number(chance, 28, 52)} ft per 100 sq ft.",
        f"Gypsum board waste: {number(chance, 1, 15)} %.",
        f"Walls: {pick(('one layer', 'two layers'))} of gypsum board on each face.",
        f"Gypsum board: {pick(('4 ft x 8 ft', '4 ft x 12 ft', '1200 x 2400 mm'))}.",
        f"Drywall clips at inside corners: {pick(('12', '16', '24'))} inches on center.",
        f"Screws: {number(chance, 90, 140)} per 100 sq ft.",
        f"Primer comes in {pick(('5 gal pails', '1 gal cans', '10 L pails'))}.",
        pick(("Deduct all openings.", "Deduct openings over 10 sq ft.", "Do not deduct openings.")),
    ]
    return "\n".join(line for line in lines if chance.random() < 0.6) + "\n"


def generated(seed: int) -> Estimate:
    chance = random.Random(seed)
    return estimated(job(chance), specification(chance), chance.choice(("us", "us", "metric")))
