"""Whatever is typed, in whatever order: an answer comes, nothing is raised, and the file stays as it should be."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from cornerwalk.line.words import spoken, words
from cornerwalk.store.check import check_file
from tests.line.talking import WORKED_WALK, new_job, sessions_in

WORDS = [word.name for word in words()] + [word.short for word in words() if word.short]
ANSWERS = [
    "",
    "y",
    "n",
    "-",
    "f",
    "1",
    "2",
    "25",
    "28 5/8",
    "29 1/4",
    "45",
    "27 13",
    "LF",
    "RR unloaded",
    "2 below",
    "same",
]
LINES = st.one_of(
    st.sampled_from(ANSWERS),
    st.sampled_from(WORDS),
    st.tuples(st.sampled_from(WORDS), st.sampled_from(ANSWERS)).map(" ".join),
    st.text(max_size=20),
)


@settings(max_examples=40)
@given(st.lists(LINES, max_size=40))
def test_any_lines_in_any_order(lines: list[str]) -> None:
    """Every line gets an answer or a next question; the file passes its check afterwards."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        talk = new_job(folder)
        for line in (*WORKED_WALK[:5], *lines):
            if talk.conversation.done or line.startswith("move"):
                continue
            for said in (*talk.conversation.answer(line), talk.prompt):
                assert said.isprintable()
        talk.conversation.close()
        (path,) = sessions_in(folder)
        assert check_file(path).findings == ()


def test_every_word_is_found_by_its_names() -> None:
    """Its English name, its short form; and no two words share one."""
    called = [name for word in words() for name in (word.name, word.short) if name]
    assert len(called) == len(set(called))
    for word in words():
        found = spoken(word.name, alone=True)
        assert found is not None
        assert found[0].name == word.name


def test_the_help_of_every_word_says_what_it_does(tmp_path: Path) -> None:
    """`help WORD` and `help all` tell each of them."""
    talk = new_job(tmp_path)
    everything = talk.say("help all")
    for word in words():
        (told,) = talk.say(f"help {word.name}")
        assert told in everything
        assert word.about in told


def test_no_screen_library_is_loaded() -> None:
    """A whole job can be walked on a machine where the screen library does not even import."""
    script = (
        "import sys\nsys.modules['textual'] = None\nsys.modules['rich'] = None\n"
        "from cornerwalk.cli import main\nsys.exit(main(['--plain']))\n"
    )
    lines = "1\n\n\n28 5/8\nresults\nreport\nquit\n"
    done = subprocess.run([sys.executable, "-c", script], input=lines, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "Left front 28 5/8. Saved" in done.stdout
