"""Where a fact is bound.

A fact, its phrase and everything around it come in; questions about these words are answered. What a rule of binding may look at
stands here; nothing is decided here.
"""
