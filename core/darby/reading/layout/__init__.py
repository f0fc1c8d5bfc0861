"""Text to a tree of clauses.

Text comes in as it was pasted; repaired lines, tables and clauses go out, each with its path of headings and its place in
the original. What a word means is not asked here.
"""
