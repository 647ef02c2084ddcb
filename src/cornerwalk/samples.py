"""Where the invented sample jobs lie, in an installed wheel and in a checkout alike."""

from pathlib import Path

WALK_SAMPLE = "half-done.json"
"""The sample that a person goes on with."""

REPORT_SAMPLE = "camper.json"
"""The sample whose report is printed where nobody can type."""


def sample_folder() -> Path:
    """The folder of the sample sessions and their job sheets.

    A checkout keeps them at its top, where people look for them; the wheel carries them inside the package.

    Raises:
        FileNotFoundError: if this copy of the program was put together without them.
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
