"""What a command itself refuses."""

from __future__ import annotations


class Refused(Exception):  # noqa: N818 - named for what happened
    """Bad input that no inner room sees; `template` is English with {named} `fields`."""

    def __init__(self, template: str, **fields: object) -> None:
        super().__init__(template, fields)
        self.template = template
        self.fields = fields

    def __str__(self) -> str:
        return self.template.format(**self.fields)
