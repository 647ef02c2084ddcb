"""What is said about the job besides the questions: kept or not, what a stage came to, what is new, the results."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from cornerwalk.assess.assessment import Assessment, Finding
from cornerwalk.line.job import OpenJob
from cornerwalk.line.leak import hold_results, hold_so_far
from cornerwalk.session.conditions import find_answer
from cornerwalk.session.hold_test import running_tests
from cornerwalk.session.model import StageKey
from cornerwalk.store import UnsavedState
from cornerwalk.wording.checks import unchecked_names
from cornerwalk.wording.findings import TRUE_OF_EVERY_JOB, finding_text
from cornerwalk.wording.glance import Topic, glance
from cornerwalk.wording.names import overall_sentence, stage_title
from cornerwalk.wording.results import air_sentences
from cornerwalk.words import tr, tr_n


def kept(job: OpenJob, sentence: str) -> str:
    """The sentence with `Kept 08:14:32.` behind it, or loudly that it is not on the disk."""
    state = job.state
    if isinstance(state, UnsavedState):
        reason = tr(state.problem.template, **state.problem.fields)
        lost = tr_n(
            "NOT KEPT: {reason}. {count} entry is in memory only. Put that right and type retry, or move FOLDER.",
            "NOT KEPT: {reason}. {count} entries are in memory only. Put that right and type retry, or move FOLDER.",
            state.pending,
            reason=reason,
        )
        return f"{sentence} {lost}".strip()
    return f"{sentence} {kept_at(state.at)}".strip()


def kept_at(at: datetime) -> str:
    """`Kept 08:14:32.`."""
    return tr("Kept {time}.", time=at.strftime("%H:%M:%S"))


def stage_told(job: OpenJob, key: StageKey, topics: Sequence[Topic]) -> tuple[str, ...]:
    """What a stage came to, a line for each of these topics that it has."""
    told = glance(job.session, job.assessment, job.wording, key)
    return tuple(
        tr("{label}: {text}.", label=each.label, text=each.text.rstrip(".")) for each in told if each.topic in topics
    )


def stage_done(job: OpenJob, key: StageKey, fresh: Sequence[str]) -> tuple[str, ...]:
    """What is said once all corners of a stage are done; `fresh` is what was said of new findings just before."""
    topics: tuple[Topic, ...] = ("body", "lamps", "air") if fresh else ("body", "lamps", "air", "check")
    said = stage_told(job, key, topics)
    conditions = job.checklists["conditions"]
    if all(find_answer(job.session, item.id, key) is None for item in conditions.items):
        said += (tr("Nothing is noted of the floor, the tyres, the load: type conditions."),)
    return said


def news(before: Assessment, job: OpenJob, known_cautions: set[str]) -> tuple[str, ...]:
    """Stops and cautions that were not there before.

    A caution whose code is among `known_cautions` is only named again; the codes told in full are added to them.
    """
    known = {(finding.code, finding.stage) for finding in before.findings}
    fresh = [
        finding
        for finding in job.assessment.findings
        if finding.level != "note"
        and finding.code not in TRUE_OF_EVERY_JOB
        and (finding.code, finding.stage) not in known
    ]
    told = []
    for finding in fresh:
        again = finding.level == "caution" and finding.code in known_cautions
        told.append(_heading(job, finding) if again else _finding(job, finding))
        known_cautions.add(finding.code)
    return tuple(told)


def _heading(job: OpenJob, finding: Finding) -> str:
    text = finding_text(finding, job.wording)
    return tr("{level}: {heading}.", level=text.level_word, heading=text.heading)


def _finding(job: OpenJob, finding: Finding) -> str:
    text = finding_text(finding, job.wording)
    parts = (_heading(job, finding), text.text, text.action)
    return " ".join(part for part in parts if part)


def results(job: OpenJob) -> tuple[str, ...]:
    """Everything that matters now: each stage, the air, every finding, the worst verdict, what was not checked."""
    said: list[str] = []
    for stage in job.assessment.stages:
        said.append(tr("{stage}:", stage=stage_title(stage.key).upper()))
        said += stage_told(job, stage.key, ("body", "lamps"))
    for air in job.assessment.air:
        said += air_sentences(air, job.wording)
    said += hold_results(job)
    said += (hold_so_far(job, begun) for begun in running_tests(job.session))
    said += (_finding(job, finding) for finding in job.assessment.findings)
    said.append(overall_sentence(job.assessment.overall))
    if missing := unchecked_names(job.assessment):
        said.append(tr("Not checked: {checks}.", checks="; ".join(missing)))
    return tuple(said)
