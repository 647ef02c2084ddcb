"""The app without the cryptography of connections: nothing is missing that it uses, nothing taken from anybody else."""

from __future__ import annotations

import subprocess
import sys

import pytest

# FIPS 180-4, example of NIST for the message "abc"; RFC 4231, test case 2.
SHA_256_OF_ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
HMAC_SHA_256 = "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"

DIGESTS = f"""
import hashlib, hmac
assert hashlib.sha256(b"abc").hexdigest() == "{SHA_256_OF_ABC}"
assert hmac.new(b"Jefe", b"what do ya want for nothing?", "sha256").hexdigest() == "{HMAC_SHA_256}"
"""


def in_a_new_python(code: str) -> str:
    """What this code prints in a Python of its own, where nothing is loaded yet."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout


def test_digests_are_the_published_ones() -> None:
    """The chain of a file is the same whoever computes it."""
    in_a_new_python(f"from cornerwalk.cli.commands.app import load_without_openssl; load_without_openssl(){DIGESTS}")


def test_no_cryptography_of_connections_is_loaded_with_the_app() -> None:
    """Neither by the screen library nor by what locks and writes a session."""
    told = in_a_new_python(
        "from cornerwalk.cli.commands.app import load_without_openssl; load_without_openssl()\n"
        "import sys, asyncio, textual.app, filelock, cornerwalk.tui.screens.walk, cornerwalk.store\n"
        "print(*(name for name in ('ssl', '_ssl', '_hashlib') if name in sys.modules))"
    )
    assert told.split() == []


def test_whoever_wants_it_later_gets_it() -> None:
    """Nothing stays hidden: a library that is loaded afterwards finds what it looks for."""
    pytest.importorskip("ssl")
    told = in_a_new_python(
        "from cornerwalk.cli.commands.app import load_without_openssl; load_without_openssl()\n"
        "import ssl\n"
        "print(ssl.create_default_context().protocol.name)"
    )
    assert "TLS" in told


def test_a_python_built_without_its_own_digests_uses_openssl() -> None:
    """Some distributions leave them out: the digests are there all the same, and nothing is printed."""
    pytest.importorskip("_hashlib")
    without = (
        "import sys\n"
        "def missing(find):\n"
        "    own = ('_sha2', '_sha256', '_sha512')\n"
        "    return lambda name, path=None, target=None: None if name in own else find(name, path, target)\n"
        "for finder in sys.meta_path:\n"
        "    finder.find_spec = missing(finder.find_spec)\n"
    )
    in_a_new_python(
        f"{without}from cornerwalk.cli.commands.app import load_without_openssl; load_without_openssl(){DIGESTS}"
    )


def test_what_is_loaded_already_is_left_alone() -> None:
    """Called late, it takes nothing away."""
    told = in_a_new_python(
        "import ssl, hashlib, sys\n"
        "from cornerwalk.cli.commands.app import load_without_openssl; load_without_openssl()\n"
        "print(sys.modules['ssl'] is ssl)"
    )
    assert told.strip() == "True"
