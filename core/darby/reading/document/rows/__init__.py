"""Rows of tables: what their cells stand under, and columns that say nothing of goods."""
