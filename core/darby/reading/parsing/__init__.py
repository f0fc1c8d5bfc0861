"""Clauses to tags, tags to facts.

A clause's text comes in; known words, numbers and signs go out as tags, and what the grammars make of them as facts. The
only folder that imports lark. Of what and where a fact is said is not decided here.
"""
