"""From the order to a bid: an estimate, price lists, labor lines, wages and mark-ups in; a bid with every sum shown out.

Nothing is invented here: a price, a rate or a wage that nobody gave is a question, and the bid says that it is not in it.
"""
