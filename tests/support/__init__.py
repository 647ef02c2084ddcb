"""What several tests need: a terminal to drive, a clock that stands still, texts kept for comparison."""
