"""The fasteners trade."""
