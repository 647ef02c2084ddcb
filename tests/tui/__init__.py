"""The full-screen app, driven without a terminal but for `test_on_a_terminal`."""
