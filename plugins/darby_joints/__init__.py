"""The joints trade."""
