"""Samples: where the invented sample jobs are, in an installed wheel and in a checkout."""

from pathlib import Path

WALK_SAMPLE = "half-done.json"
"""The sample that the demo opens."""

REPORT_SAMPLE = "camper.json"
"""The sample whose report the demo prints without a terminal."""


def sample_folder() -> Path:
    """The folder of the sample sessions and their job sheets.

    A checkout has them at its top, where people look for them; a wheel has them inside the package.

    Raises:
        FileNotFoundError: this copy of the program was built without them.
    """
    package = Path(__file__).parent
    checkout = package.parent.parent
    for folder, sign in (
        (checkout / "sample_sessions", checkout / "pyproject.toml"),
        (package / "sample_sessions", package),
    ):
        if folder.is_dir() and sign.exists():
            return folder
    raise FileNotFoundError(f"the sample sessions are missing beside {package}")
