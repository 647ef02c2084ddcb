"""Many sessions as tidy tables."""
