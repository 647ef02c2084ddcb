"""Table engines: optional libraries (Parquet, SQL, Dask), loaded on first use, and the errors of this room."""

from __future__ import annotations

from importlib import import_module
from typing import Any, Literal

from cornerwalk.words.errors import TemplateError

Engine = Literal["pyarrow", "pyarrow.parquet", "duckdb", "dask", "distributed"]


class TablesError(TemplateError):
    """Tables cannot be made, or asked, for a reason that a person can put right."""


class MissingEngineError(TablesError):
    """The extra that holds the table engines is not installed."""


def engine(name: Engine) -> Any:
    """A table engine.

    Raises:
        MissingEngineError: it is not installed; the text says what installs it.
    """
    try:
        return import_module(name)
    except ModuleNotFoundError as error:
        raise MissingEngineError(
            "tables of many sessions need {engine}, which is not installed here. It comes with the extra [fleet]: "
            "`pip install 'cornerwalk[fleet]'`, or `pip install '.[fleet]'` in a copy of the source.",
            engine=name.partition(".")[0],
        ) from error
