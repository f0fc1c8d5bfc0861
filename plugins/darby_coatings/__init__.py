"""The coatings trade."""
