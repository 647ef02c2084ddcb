"""Mutation sampler: how many small mistakes in a room the tests would notice.

    python -m tests.mutation assess --sample 80 --seed 1
    python -m tests.mutation report --tests tests/report tests/cli --killers

A mutant is a file of the room with one mistake: a comparison, a sum, a condition, a constant, a text, a returned value
or a statement changed. Mutants are chosen by a hash of the seed, the function and the change, so a sample stays nearly
the same while other code is edited. Each is tried in a process of its own, forked from one that has loaded pytest and
the packages but nothing of the project: there the room's file is compiled with the mistake in it, and the test files
that ran the function are run, the quickest tests that entered it first, until one fails.

Which tests ran what is found out first, each file in a process of its own, by watching calls. Programs that tests start
as processes of their own run without the mistake, so what only those hold counts as survived. Of the
processor's time a mutant gets `--budget` seconds: if its tests need less without it, it never ends and is killed; else
it survived as far as it was tried. A hundred mutants take some minutes.
"""

from __future__ import annotations

import argparse
import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import resource
import signal
import sys
import tempfile
import threading
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FrameType, ModuleType
from typing import Any

from tests.mutation.mutants import MODULE, ROOT, SOURCE, Mutant, mutants_of, mutated, sample

TESTS_OF = {
    "textfiles": ("tests/textfiles", "tests/sheet", "tests/settings", "tests/standards"),
    "wording": ("tests/wording", "tests/report", "tests/job"),
}
"""The test folders of rooms that have more than the one of their own name."""

Answer = dict[str, Any]
"""What a process of its own hands back, as JSON can hold it."""


# ---- which tests ran what ----


class _Watch:
    """Notes which functions of a room a test enters; a pytest plugin."""

    def __init__(self, files: Iterable[Path]) -> None:
        self._files = {str(file) for file in files}
        self._now: dict[int, CodeType] = {}
        self.of_tests: dict[str, dict[int, CodeType]] = {}
        self.seconds: Counter[str] = Counter()
        self.failed: list[str] = []
        self.at_import = self._now

    def _called(self, frame: FrameType, _event: str, _argument: Any) -> None:
        code = frame.f_code
        if code.co_filename in self._files:
            self._now[id(code)] = code  # its own hash would be made from all it holds, at every call

    def start(self) -> None:
        sys.settrace(self._called)
        threading.settrace(self._called)

    def pytest_runtest_protocol(self, item: Any) -> None:
        self._now = self.of_tests.setdefault(item.nodeid, {})
        sys.settrace(self._called)

    def pytest_runtest_logreport(self, report: Any) -> None:
        self.seconds[report.nodeid] += report.duration
        if report.failed:
            self.failed.append(report.nodeid)


@dataclass(slots=True)
class Coverage:
    """Of one test file: how long each test takes, and which functions of the room each entered."""

    of_tests: dict[str, list[str]]
    at_import: list[str]
    seconds: dict[str, float]
    failed: list[str]

    def ran(self, function: str) -> bool:
        return function in self.at_import or any(function in each for each in self.of_tests.values())


def _pytest(files: Iterable[str], plugin: object, *options: str) -> int:
    import pytest

    ours = ["-q", "-p", "no:cacheprovider", "-m", "not slow", "-W", "ignore::pytest.PytestAssertRewriteWarning"]
    return int(pytest.main([*ours, *options, *files], plugins=[plugin]))


def _names(entered: dict[int, CodeType]) -> set[str]:
    qualified = {(code.co_filename, code.co_qualname.replace(".<locals>", "")) for code in entered.values()}
    return {f"{file}::{'.'.join(name.split('.')[:2])}" for file, name in qualified}


def _cover(test_file: str, room_files: Sequence[Path]) -> Answer:
    watch = _Watch(room_files)
    watch.start()
    status = _pytest([test_file], watch)
    sys.settrace(None)
    loaded = {getattr(module, "__file__", None) for module in list(sys.modules.values())}
    at_import = {*_names(watch.at_import), *(f"{file}::{MODULE}" for file in room_files if str(file) in loaded)}
    return {
        "status": status,
        "of_tests": {name: sorted(_names(entered)) for name, entered in watch.of_tests.items()},
        "at_import": sorted(at_import),
        "seconds": dict(watch.seconds),
        "failed": watch.failed,
    }


# ---- trying mutants ----


class _Loader(importlib.machinery.SourceFileLoader):
    def __init__(self, name: str, path: str, code: CodeType) -> None:
        super().__init__(name, path)
        self._code = code

    def get_code(self, fullname: str) -> CodeType:
        return self._code


class _Finder(importlib.abc.MetaPathFinder):
    """Finds the one module that has the mistake."""

    def __init__(self, mutant: Mutant) -> None:
        parts = mutant.file.relative_to(SOURCE.parent).with_suffix("").parts
        self._package = parts[-1] == "__init__"
        self._name = ".".join(parts[:-1] if self._package else parts)
        self._path = str(mutant.file)
        self._code = mutated(mutant)

    def find_spec(
        self, fullname: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self._name:
            return None
        loader = _Loader(fullname, self._path, self._code)
        places = [str(Path(self._path).parent)] if self._package else None
        return importlib.util.spec_from_file_location(
            fullname, self._path, loader=loader, submodule_search_locations=places
        )


class _Order:
    """Runs first what entered the function, and the quick before the long; a pytest plugin."""

    def __init__(self, direct: set[str], seconds: dict[str, float]) -> None:
        self._direct = direct
        self._seconds = seconds
        self.failed = ""

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        items.sort(key=lambda item: (item.nodeid not in self._direct, self._seconds.get(item.nodeid, 9.0)))

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed and not self.failed:
            self.failed = report.nodeid


def _try(mutant: Mutant, coverages: dict[str, Coverage]) -> Answer:
    function = mutant.code_name
    files = [name for name, coverage in coverages.items() if coverage.ran(function)]
    if not files:
        return {"status": 5, "by": "no test runs it"}
    direct = {test for name in files for test, entered in coverages[name].of_tests.items() if function in entered}
    seconds = {test: took for name in files for test, took in coverages[name].seconds.items()}
    sys.meta_path.insert(0, _Finder(mutant))
    order = _Order(direct, seconds)
    failing = [f"--deselect={test}" for name in files for test in coverages[name].failed]
    return {"status": _pytest(files, order, "-x", *failing), "by": order.failed}


# ---- processes ----

Task = tuple[Callable[[], Answer], float]
"""Something to do in a process of its own, and how many seconds of the processor it may take."""


def _forked(tasks: Sequence[Task], jobs: int, place: Path) -> Iterator[tuple[int, Answer | None]]:
    """The answer to each task, as they come; None when its time ran out."""
    waiting = list(enumerate(tasks))[::-1]
    running: dict[int, tuple[int, float]] = {}
    while waiting or running:
        while waiting and len(running) < jobs:
            number, (task, limit_s) = waiting.pop()
            pid = os.fork()
            if pid == 0:
                _child(task, limit_s, place / f"{number}.json")
            running[pid] = (number, time.monotonic() + 10 * limit_s)
        for pid, (number, until) in list(running.items()):
            done, status = os.waitpid(pid, os.WNOHANG)
            if not done and time.monotonic() > until:
                os.killpg(pid, signal.SIGKILL)
                done, status = os.waitpid(pid, 0)
            if done:
                del running[pid]
                answer = place / f"{number}.json"
                late = os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL)
                crash = {"status": -1, "by": "a crash"}
                yield number, None if late else json.loads(answer.read_text()) if answer.exists() else crash
        time.sleep(0.01)


def _child(task: Callable[[], Answer], limit_s: float, answer: Path) -> None:
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (int(limit_s), int(limit_s) + 5))
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    said = os.open(answer.with_suffix(".txt"), os.O_WRONLY | os.O_CREAT)
    os.dup2(said, 1)
    os.dup2(said, 2)
    try:
        answer.write_text(json.dumps(task()))
    finally:
        traceback.print_exc()
        sys.stdout.flush()
        os._exit(0)


# ---- the command ----


def _room(name: str) -> list[Path]:
    folder = SOURCE / name
    files = sorted(folder.rglob("*.py")) if folder.is_dir() else [folder.with_suffix(".py")]
    if not files or not files[0].exists():
        raise SystemExit(f"{name}: no such room in {SOURCE}")
    return files


def _coverages(tests: Sequence[str], room: Sequence[Path], jobs: int) -> dict[str, Coverage]:
    files = sorted(str(file.relative_to(ROOT)) for folder in tests for file in (ROOT / folder).rglob("test_*.py"))
    tasks: list[Task] = [(lambda file=file: _cover(file, room), 600.0) for file in files]  # type: ignore[misc]
    coverages = {}
    with tempfile.TemporaryDirectory() as place:
        for number, answer in _forked(tasks, jobs, Path(place)):
            if answer is None or answer.pop("status") not in (0, 1, 5):
                said = (Path(place) / f"{number}.txt").read_text()
                raise SystemExit(f"{said}\n{files[number]} cannot be run")
            coverage = coverages[files[number]] = Coverage(**answer)
            for test in coverage.failed:
                print(f"  left out, as it fails without any mistake: {test}")
    return dict(sorted(coverages.items(), key=lambda each: len({f for of in each[1].of_tests.values() for f in of})))


def _judge(answer: Answer | None, expected_s: float, budget_s: float) -> tuple[str, str]:
    if answer is None:
        return ("killed", "never ends") if expected_s < budget_s else ("survived", "cut off")
    return ("survived" if answer["status"] in (0, 5) else "killed"), answer["by"]


def main() -> None:
    """Try a sample of mutants of a room, and say how many were killed and which were not."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__.partition("\n")[0])
    parser.add_argument("room", help="a folder or module of src/cornerwalk")
    parser.add_argument("--sample", type=int, default=80, metavar="N", help="how many mutants (80; 0 is all)")
    parser.add_argument("--seed", type=int, default=1, metavar="S", help="which ones (1)")
    parser.add_argument("--tests", nargs="+", metavar="FOLDER", help="the test folders asked (that of the room)")
    parser.add_argument("--jobs", type=int, default=2, metavar="N", help="how many at a time (2)")
    parser.add_argument("--budget", type=float, default=60.0, metavar="SECONDS", help="for one mutant at most (60)")
    parser.add_argument("--killers", action="store_true", help="also say which test killed each")
    asked = parser.parse_args()

    os.environ["CI"] = "1"  # the same random examples each time
    began = time.monotonic()
    room = _room(asked.room)
    every = [mutant for file in room for mutant in mutants_of(file)]
    chosen = sample(every, asked.sample or len(every), asked.seed)
    for needed in ("pytest", "hypothesis", "pydantic", "pint"):
        importlib.import_module(needed)
    tests = asked.tests or TESTS_OF.get(asked.room, (f"tests/{asked.room}",))
    coverages = _coverages([folder for folder in tests if (ROOT / folder).exists()], room, asked.jobs)
    print(f"{asked.room}: {len(every)} mutants, {len(chosen)} tried; tests read in {time.monotonic() - began:.0f} s")

    tasks: list[Task] = [(lambda mutant=mutant: _try(mutant, coverages), asked.budget) for mutant in chosen]  # type: ignore[misc]
    outcomes = Counter[str]()
    with tempfile.TemporaryDirectory() as place:
        for number, answer in _forked(tasks, asked.jobs, Path(place)):
            mutant = chosen[number]
            expected_s = sum(sum(each.seconds.values()) for each in coverages.values() if each.ran(mutant.code_name))
            outcome, by = _judge(answer, expected_s, asked.budget)
            outcomes[outcome] += 1
            if outcome == "survived" or asked.killers:
                print(f"  {outcome}: {mutant.name}{f'  ({by})' if by else ''}", flush=True)
    killed = outcomes["killed"]
    share = killed / max(1, len(chosen))
    print(f"{asked.room}: {killed} of {len(chosen)} killed, {share:.0%}, in {time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    main()
