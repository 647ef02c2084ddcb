"""The table engines, loaded when they are first needed; without them a plain word on how to have them."""

from __future__ import annotations

from importlib import import_module
from typing import Any, Literal

Engine = Literal["pyarrow", "pyarrow.parquet", "duckdb", "dask", "distributed"]


class FleetError(Exception):
    """Something a person can put right; `template` is English with {named} `fields`."""

    def __init__(self, template: str, **fields: object) -> None:
        super().__init__(template, fields)
        self.template = template
        self.fields = fields

    def __str__(self) -> str:
        """The English text."""
        return self.template.format(**self.fields)


class EngineMissing(FleetError):  # noqa: N818 - named for what happened
    """The extra that holds the table engines is not installed."""


def engine(name: Engine) -> Any:
    """A table engine.

    Raises:
        EngineMissing: it is not installed; the text says what installs it.
    """
    try:
        return import_module(name)
    except ModuleNotFoundError as error:
        raise EngineMissing(
            "tables of many sessions need {engine}, which is not installed here. It comes with the extra [fleet]: "
            "`pip install 'cornerwalk[fleet]'`, or `pip install '.[fleet]'` in a copy of the source.",
            engine=name.partition(".")[0],
        ) from error
