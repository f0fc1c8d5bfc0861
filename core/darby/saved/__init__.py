"""Estimates as they are kept.

An estimate comes in; canonical JSON goes out, and back again, checked. Two of them compare to what moved. Nothing is
worked out again here: that is `replay`.
"""
