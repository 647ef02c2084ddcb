"""The least a full-screen app can be: the yardstick for the first frame and for memory."""

from textual.app import App, ComposeResult
from textual.widgets import Static


class BlankApp(App[None]):
    """One line of text."""

    def compose(self) -> ComposeResult:
        """One line of text."""
        yield Static("ready")


if __name__ == "__main__":
    BlankApp().run()
