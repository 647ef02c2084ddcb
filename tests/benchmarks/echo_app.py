"""The least an entry can be: a field, and below it what is in the field. The yardstick for key to result."""

from textual.app import App, ComposeResult
from textual.widgets import Input, Static


class EchoApp(App[None]):
    """A field and its echo."""

    def compose(self) -> ComposeResult:
        """A field and its echo."""
        yield Input()
        yield Static(" ")

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show what is in the field now, in the place it has: the quickest way there is."""
        self.query_one(Static).update(f"echo {event.value}", layout=False)


if __name__ == "__main__":
    EchoApp().run()
