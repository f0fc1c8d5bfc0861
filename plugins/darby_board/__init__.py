"""The board trade."""
