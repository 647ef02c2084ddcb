"""cornerwalk: walk round a vehicle, read its corner heights, and know at once what they mean.

From Python: `cornerwalk.open(path)`, `cornerwalk.library(folder)`, `cornerwalk.read_tables(folder)` and
`cornerwalk.judge(sheet)`, all of them in `cornerwalk.api` and loaded when they are first used; `__init__.pyi` has
their types.
"""

from importlib import import_module
from typing import Any

__version__ = "0.1.0"
__all__ = ["Job", "JobLibrary", "__version__", "judge", "library", "open", "read_tables"]


def __getattr__(name: str) -> Any:
    """The application interface, loaded on first use: the commands import this package for its version alone."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("cornerwalk.api"), name)


def __dir__() -> list[str]:
    """What the package offers, loaded or not."""
    return __all__
