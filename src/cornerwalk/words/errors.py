"""Errors in the user's language: an English template with its fields, worded where it is shown."""

from __future__ import annotations

from typing import LiteralString


class TemplateError(Exception):
    """Something a person can put right; `template` is English with {named} `fields`."""

    def __init__(self, template: LiteralString, **fields: object) -> None:
        super().__init__(template, fields)
        self.template = template
        self.fields = fields

    def __str__(self) -> str:
        """The English text."""
        return self.template.format(**self.fields)
