"""Sentences of an addendum taken apart.

A sentence comes in; the paragraphs that it names and the old and new words of the changes that it tells go out. Nothing is known
here of the specification that is changed.
"""
