"""For other programs: JSON with exact values.

One module for each schema in `darby/schemas`; every value is a string that `fractions.Fraction` takes.
"""
