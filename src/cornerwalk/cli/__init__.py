"""The commands of `cornerwalk`; with none, the app. The only room that looks up folders, user, clock and language."""

from cornerwalk.cli.entry import main

__all__ = ["main"]
