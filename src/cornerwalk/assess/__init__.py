"""What the readings mean: pure functions from a session to an Assessment."""
