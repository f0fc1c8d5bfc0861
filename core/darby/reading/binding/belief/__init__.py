"""Whether a fact can be believed.

A fact comes in; the reason why it is no rule, the question that it raises, or the sentence that asks to confirm it goes out.
"""
