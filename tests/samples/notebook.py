"""Makes the notebook beside the samples from the guide's page on Python, examples, answers and all.

    python -m tests.samples.notebook

writes it anew.
"""

from __future__ import annotations

import doctest
import json
import re
from typing import Any

from cornerwalk.guide import page
from cornerwalk.samples import sample_folder

NAME = "questions.ipynb"
_BLOCK = re.compile(r"^```(?P<kind>\w+)\n(?P<content>.*?)^```\n", re.MULTILINE | re.DOTALL)
_PAGE_LINK = re.compile(r"\[(`[^`]+`)\]\(#[a-z-]+\)")


def made() -> dict[str, Any]:
    """The notebook: text and commands as Markdown, each example as a cell with the answer that the page shows."""
    cells: list[dict[str, Any]] = []
    text = page("python").text
    end = 0
    for block in _BLOCK.finditer(text):
        if block["kind"] == "pycon":
            cells.append(_markdown(text[end : block.start()]))
            cells += map(_code, doctest.DocTestParser().get_examples(block["content"]))
            end = block.end()
    cells.append(_markdown(text[end:]))
    shown = [{"id": f"cell-{number}", **cell} for number, cell in enumerate(cells) if any(cell["source"])]
    kernel = {"display_name": "Python 3", "language": "python", "name": "python3"}
    return {"cells": shown, "metadata": {"kernelspec": kernel}, "nbformat": 4, "nbformat_minor": 5}


def _markdown(text: str) -> dict[str, Any]:
    return {"cell_type": "markdown", "metadata": {}, "source": _lines(_PAGE_LINK.sub(r"\1", text.strip()))}


def _code(example: doctest.Example) -> dict[str, Any]:
    """The notebook lies among the samples: what the page reads from their folder is beside it."""
    source = example.source.replace('"sample_sessions/', '"').replace('"sample_sessions"', '"."')
    outputs = [{"name": "stdout", "output_type": "stream", "text": _lines(example.want)}] if example.want else []
    return {
        "cell_type": "code",
        "execution_count": None,
        "metadata": {},
        "outputs": outputs,
        "source": _lines(source.rstrip("\n")),
    }


def _lines(text: str) -> list[str]:
    return text.splitlines(keepends=True)


def as_text() -> str:
    """The file."""
    return json.dumps(made(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    (sample_folder() / NAME).write_text(as_text(), encoding="utf-8")
