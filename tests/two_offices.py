"""A job with something of every kind, for tests of what reads job files."""

from __future__ import annotations

MARKS = ("board", "paint")
GOOD = """\
name = "Two offices"   # a comment with = and [brackets]
units = "us"
rules = ["Ceilings: two coats flat.", 'Deduct "all" openings.']
[documents]
specification = "section.txt"
addenda = ["addendum-1.txt", "addendum-2.txt"]
house = ["house.txt"]
[plugins]
files = ["ours.py"]

[[walls]]
name = "north wall"
length = "24 ft"
height = "8'-0 1/2\\""
faces = 1
board = "5/8 in. type X"
[[walls]]
name = 'partition'
length = '3.81 m'
height = '8 ft 6 in'
faces = 2
[[walls]]
name = "shaft"
area = "120 sq ft"
[[walls]]
name = "stub"
room = "Office"
length = "4 ft"
height = "8 ft"
[[ceilings]]
name = "lid"
length = "24 ft"
width = "10 ft"
[[openings]]
name = "door"
wall = "North  wall"
width = "3 ft"
height = "7 ft"
count = 2
[[openings]]
name = "hatch"
wall = "lid"
width = "2 ft"
height = "3 ft"
[[openings]]
name = "window"
wall = "Office"
width = "5 ft"
height = "4 ft"
count = 11
[[corners]]
kind = "outside"
count = 2
height = "8 ft"
[[rooms]]
name = "Office"
length = "12 ft"
width = "10 ft"
height = "8 ft"
paint = "Satin."
"""
