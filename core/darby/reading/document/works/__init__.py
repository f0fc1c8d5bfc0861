"""Schedules of works: the places their chapters are named after, the numbers of their items, and what one item takes over from another."""
