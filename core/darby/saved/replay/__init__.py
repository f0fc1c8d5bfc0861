"""Saved estimates worked out again.

Saved files come in; what moved in each goes out, and which rule or measure moved it, on one core, many or a cluster. It
prints nothing, and writes only what was accepted, in one step.
"""
