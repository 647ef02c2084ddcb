"""Widgets that pages are put together from."""
