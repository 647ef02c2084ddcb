"""The schema of a job sheet says what its reader takes: the same tables, the same keys."""

from __future__ import annotations

import tomllib
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.sheet import SheetError, read_job_sheet
from cornerwalk.sheet.schema import sheet_schema

SHEETS = Path(__file__).parent / "sheets"
SCHEMA = sheet_schema()
NOW = datetime(2026, 7, 1, tzinfo=UTC)


def told_of(text: str) -> str:
    """What is said of a sheet; nothing if it is taken."""
    try:
        read_job_sheet(text, name="s", session_id="x", now=NOW)
    except SheetError as error:
        return str(error)
    return ""


def tables() -> list[tuple[str, dict[str, Any]]]:
    """Each table with closed keys as it is headed in TOML, and its schema."""
    found = []
    for name, schema in SCHEMA["properties"].items():
        if schema.get("type") == "object" and "properties" in schema:
            found.append((f"[{name}]", schema))
        elif schema.get("type") == "array":
            found.append((f"[[{name}]]", schema["items"]))
    return found


@pytest.mark.parametrize(("head", "schema"), tables(), ids=lambda value: value if isinstance(value, str) else "")
def test_the_reader_knows_every_key_of_the_schema_and_no_other(head: str, schema: dict[str, Any]) -> None:
    """Schema and reader name the same keys, so an editor's help can be trusted."""
    for key in schema["properties"]:
        assert "is no key" not in told_of(f'{head}\n{key} = "x"\n')
    assert "is no key" in told_of(f'{head}\nxyzzy = "x"\n')
    assert not schema["additionalProperties"]


def test_the_reader_knows_every_table_of_the_schema() -> None:
    """The same of the tables."""
    assert "is no table" in told_of("[xyzzy]\n")
    for head, _ in tables():
        assert "is no table" not in told_of(f"{head}\n")


@pytest.mark.parametrize("name", ["worked-case.toml", "everything.toml"])
def test_good_sheets_fit_the_schema(name: str) -> None:
    """Every key of a sheet that is taken stands in the schema, with a value of the kind it asks for."""
    fits(tomllib.loads((SHEETS / name).read_text("utf-8")), SCHEMA)


def fits(value: Any, schema: dict[str, Any]) -> None:
    if isinstance(value, datetime):
        value = value.isoformat()
    if "anyOf" in schema:
        assert any(fits_one(value, choice) for choice in schema["anyOf"])
    elif "enum" in schema:
        assert value in schema["enum"]
    else:
        kinds = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
        assert isinstance(value, tuple(PYTHON[kind] for kind in kinds))
        if isinstance(value, dict):
            for key, member in value.items():
                known = schema.get("properties", {}).get(key) or schema["additionalProperties"]
                assert known
                fits(member, known)
        if isinstance(value, list):
            for member in value:
                fits(member, schema["items"])


def fits_one(value: Any, schema: dict[str, Any]) -> bool:
    try:
        fits(value, schema)
    except (AssertionError, AttributeError):
        return False
    return True


PYTHON: dict[str, type | tuple[type, ...]] = {
    "object": dict,
    "array": list,
    "string": str,
    "boolean": bool,
    "number": (int, float),
}
