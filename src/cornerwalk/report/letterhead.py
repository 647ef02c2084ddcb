"""Letterhead file reader: the shop's name and phone, and its logo if the file is a small PNG or JPEG that opens."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.report.document import Letterhead

LARGEST_LOGO_BYTES = 1_000_000
_BEGINNINGS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
"""Of a PNG and of a JPEG file."""


def read_letterhead(name: str, phone: str, logo: str) -> Letterhead:
    """The letterhead; `logo` is a path, or "". A page without its logo is better than none, so no file is an error."""
    return Letterhead(name=name, phone=phone, logo=_logo(logo) if logo else b"")


def _logo(path: str) -> bytes:
    try:
        with Path(path).expanduser().open("rb") as file:
            content = file.read(LARGEST_LOGO_BYTES + 1)
    except (OSError, RuntimeError, ValueError):
        return b""
    if len(content) > LARGEST_LOGO_BYTES or not content.startswith(_BEGINNINGS):
        return b""
    return content if _opens(content) else b""


def _opens(content: bytes) -> bool:
    """Whether it is a whole picture. Without the picture library nothing is printed, and a browser judges itself."""
    try:
        import io

        from PIL import Image
    except ImportError:
        return True
    try:
        with Image.open(io.BytesIO(content)) as picture:
            picture.load()
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return False
    return True
