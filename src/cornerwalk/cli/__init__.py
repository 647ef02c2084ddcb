"""Command line: the commands, and without one the app. The only room that looks up folders, user and clock."""

from cornerwalk.cli.entry import main

__all__ = ["main"]
