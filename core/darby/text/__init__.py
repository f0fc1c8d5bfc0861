"""Text from outside, and places in it.

Bytes of a file come in; a `Source` goes out whose every character can be pointed at, or a `Diagnostic` that says why
not. Problems are values with a place and a page of help. It knows nothing of quantities, rules or jobs.
"""
