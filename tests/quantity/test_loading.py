"""What importing and using the room loads."""

from __future__ import annotations

import subprocess
import sys


def loaded_after(code: str) -> set[str]:
    """The top-level modules in a fresh interpreter that ran `code`."""
    told = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(*sys.modules)"], check=True, capture_output=True, text=True
    )
    return {name.partition(".")[0] for name in told.stdout.split()}


def test_import_loads_nothing_from_outside() -> None:
    """Importing the room loads no package but its own and the standard library's."""
    bare = loaded_after("pass")
    new = loaded_after("import cornerwalk.quantity") - bare
    assert new <= {"cornerwalk", *sys.stdlib_module_names}


def test_what_a_first_screen_needs_does_not_load_pint() -> None:
    """Heights, lengths and the common units of a job sheet are read and shown without pint."""
    code = """
from cornerwalk.quantity import *
read_height("30 1/2", "inch"); read_length("25 ft"); read_signed_length("2 in below"); read_graduation("1/16 in")
for units in ("inch", "metric"):
    format_temperature(read_temperature("72 °F"), units)
read_pressure("35 psi").psi; read_force("410 lb").lbf; read_force("186 kg").kgf
"""
    assert "pint" not in loaded_after(code)


def test_other_units_ask_pint() -> None:
    """A unit that is not written out is pint's business: it is loaded then."""
    assert "pint" in loaded_after("from cornerwalk.quantity import *; read_torque('100 lbf·ft')")
