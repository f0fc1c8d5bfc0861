"""Measures that cannot be right, or seldom are.

A job that was read comes in; what somebody should look at before trusting the order goes out, each at its place. Nothing
here changes a measure or an order.
"""
