"""Paper in: job sheets and tables become the events of a session."""
