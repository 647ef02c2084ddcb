"""Catalog compiler: a build makes each language's `.mo`, which the program reads, from its `.po`, which people write.

Run for a wheel and for an editable install alike. In a checkout the tests compile what is missing or older than its
`.po`; by hand it is the command `pybabel compile` above `[[tool.babel.mappings]]` in `pyproject.toml`.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

CATALOGS = "src/cornerwalk/words/locale"


def compile_catalogs(locale: Path) -> list[Path]:
    """Compile the catalogs of a folder whose `.mo` is missing or older than the `.po`; where each `.mo` stands."""
    compiled = []
    for source in sorted(locale.glob("*/LC_MESSAGES/*.po")):
        target = source.with_suffix(".mo")
        if not target.exists() or target.stat().st_mtime_ns <= source.stat().st_mtime_ns:
            with source.open("rb") as stream:
                catalog = read_po(stream)
            # Another program may be reading the old one, and keeps what it has opened, or be compiling too.
            beside = target.with_suffix(f".mo.{os.getpid()}.new")
            with beside.open("wb") as stream:
                write_mo(stream, catalog)
            beside.replace(target)
        compiled.append(target)
    return compiled


class CustomBuildHook(BuildHookInterface[Any]):
    """Compiles the catalogs before the files of a wheel, or of an editable install, are gathered."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002 - hatchling calls it so
        """Compile, and have the compiled catalogs packed although version control passes them over."""
        root = Path(self.root)
        build_data["artifacts"] += [path.relative_to(root).as_posix() for path in compile_catalogs(root / CATALOGS)]
