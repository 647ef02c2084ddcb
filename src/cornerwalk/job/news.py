"""News: what an answer changed, told one thing after the other, where not everything stands in sight."""

from __future__ import annotations

from collections.abc import Sequence

from cornerwalk.assess.assessment import Assessment, Finding
from cornerwalk.job.chapters import CHAPTER_KINDS, chapter_state
from cornerwalk.job.checks import checklists_of
from cornerwalk.job.leak import leak_panel
from cornerwalk.job.notice import Notice, count_words
from cornerwalk.job.open_job import OpenJob
from cornerwalk.session.chapters import chapters
from cornerwalk.session.model import StageKey
from cornerwalk.wording.checks import unchecked_names
from cornerwalk.wording.findings import TRUE_OF_EVERY_JOB, finding_text
from cornerwalk.wording.glance import Topic, glance
from cornerwalk.wording.names import corner_name, overall_sentence, stage_title
from cornerwalk.wording.results import air_sentences
from cornerwalk.words import tr


def new_findings(before: Assessment, job: OpenJob, known_cautions: set[str]) -> tuple[Notice, ...]:
    """Stops and cautions that were not there before.

    A caution whose code is among `known_cautions` is only named again; the codes told in full are added to them.
    """
    known = {(finding.code, finding.stage) for finding in before.findings}
    told = []
    for finding in job.assessment.findings:
        if finding.level == "note" or finding.code in TRUE_OF_EVERY_JOB or (finding.code, finding.stage) in known:
            continue
        again = finding.level == "caution" and finding.code in known_cautions
        told.append(_finding(job, finding, brief=again))
        known_cautions.add(finding.code)
    return tuple(told)


def _finding(job: OpenJob, finding: Finding, *, brief: bool = False) -> Notice:
    text = finding_text(finding, job.wording)
    parts = (f"{text.heading}.",) if brief else (f"{text.heading}.", text.text, text.action)
    return Notice(" ".join(filter(None, parts)), text.level_word, "caution", "caution")


def stage_news(job: OpenJob, key: StageKey, *, with_check: bool) -> tuple[Notice, ...]:
    """What a stage came to once its corners are done; `with_check` unless new findings were told just before."""
    topics: tuple[Topic, ...] = ("body", "lamps", "air", "check") if with_check else ("body", "lamps", "air")
    conditions = checklists_of(job)["conditions"]
    given = {answer.check for answer in job.session.answers if answer.stage == key}
    if any(item.id in given for item in conditions.items):
        return _glance(job, key, topics)
    unnoted = tr("Nothing noted on floor, tires or load: {key}.", key=job.control("job.stage"))
    return (*_glance(job, key, topics), Notice(unnoted))


def _glance(job: OpenJob, key: StageKey, topics: Sequence[Topic]) -> tuple[Notice, ...]:
    told = glance(job.session, job.assessment, job.wording, key)
    return tuple(Notice(f"{line.text.rstrip('.')}.", line.label) for line in told if line.topic in topics)


def all_results(job: OpenJob) -> tuple[Notice, ...]:
    """Everything that matters now: each stage, the air, every finding, the worst verdict, what was not checked."""
    told: list[Notice] = []
    for stage in job.assessment.stages:
        told.append(Notice(f"{stage_title(stage.key).upper()}:"))
        told += _glance(job, stage.key, ("body", "lamps"))
    for air in job.assessment.air:
        told += (Notice(sentence) for sentence in air_sentences(air, job.wording))
    told += leak_panel(job)
    told += (_finding(job, finding) for finding in job.assessment.findings)
    told.append(Notice(overall_sentence(job.assessment.overall), tr("Checks")))
    if missing := unchecked_names(job.assessment):
        told.append(Notice(f"{'; '.join(missing)}.", tr("Not checked")))
    return tuple(told)


def progress(job: OpenJob) -> tuple[Notice, ...]:
    """How far each chapter is, and what is read of the stage in place."""
    now = job.context.clock()
    told = []
    for chapter in chapters(job.session, checklists_of(job)):
        state = chapter_state(job, chapter, now) or count_words(chapter.done, chapter.total)
        told.append(Notice(state, tr(CHAPTER_KINDS[chapter.id].title)))
    current = job.session.current_stage
    if current is not None:
        records = [(corner, current.corner(corner).readings) for corner in job.session.job.order]
        read = [
            f"{corner_name(corner)} {', '.join(r.entered for r in readings)}"
            for corner, readings in records
            if readings
        ]
        told.append(Notice(", ".join(read) or "–", stage_title(current.key)))
    return tuple(told)
