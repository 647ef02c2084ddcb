"""The guide, readable without a network."""
