"""Addenda carried out.

Readings of the specification and its addenda come in; readings with what was deleted and changed go out, and what could not be
found. Only numbers that an addendum names change.
"""
