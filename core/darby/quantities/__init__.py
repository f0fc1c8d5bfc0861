"""Numbers, units and amounts with their working.

Spellings of numbers and units come in; exact `Amount`s go out, which remember the steps that made them. A binary float
is never made here, and nothing is rounded but by `round_up`, at the package.
"""
