"""The keys of the pages around the heights: the whole job, its chapters, air, side view, the customer's sheet."""

from __future__ import annotations

from cornerwalk.tui.key import Key


def chapter_page(chapter: str) -> str:
    """The page of a chapter, for `Key.opens`."""
    return f"chapters:OneChapterScreen:{chapter}"


CHAPTER_KEYS: tuple[Key, ...] = (
    Key(
        id="app.pad",
        keys="ctrl+k",
        label="pad",
        what="a number pad on the screen, for a mouse or a finger",
        rank=6,
        place="everywhere",
        badge="▦",
    ),
    Key(
        id="job.chapters",
        keys="f9",
        label="job",
        what="the whole job: how far each chapter is, what comes next",
        rank=5,
        place="job",
        opens="whole_job:WholeJobScreen",
    ),
    Key(
        id="job.stage",
        keys="f10",
        label="conditions",
        what="conditions, wall mark and leveller of the stage in hand",
        rank=12,
        place="job",
        opens="at_stage:StageScreen",
    ),
    Key(
        id="job.side",
        keys="f12",
        label="side view",
        what="the vehicle from the side and from above, before and now",
        rank=13,
        place="job",
        opens="side:SideScreen",
    ),
    Key(
        id="job.air",
        keys="",
        label="air",
        what="trials, the next pressure, and what another pressure or load would do",
        place="job",
        opens="air:AirScreen",
    ),
    Key(
        id="job.sheet",
        keys="",
        label="sheet",
        what="the customer's sheet, and its code for a telephone",
        place="job",
        opens="sheet:SheetScreen",
    ),
    *(
        Key(id=f"job.chapter-{chapter}", keys="", label=chapter, what=what, place="job", opens=chapter_page(chapter))
        for chapter, what in (
            ("intake", "who and why, vehicle, kit, loads, scale, presets"),
            ("before", "what is found, and what the height touches"),
            ("fitting", "the work in its order, and the torques"),
            ("leak", "hold test and soapy water"),
            ("road", "after the road test"),
            ("handover", "what is told, and the end of the job"),
            ("follow-up", "when it comes back"),
        )
    ),
    Key(id="chapters.enter", keys="enter", label="open", what="open the marked chapter", place="chapters", rank=1),
    Key(id="chapters.earlier", keys="up", label="chapter", what="the line above", place="chapters", rank=2, badge="↑↓"),
    Key(id="chapters.later", keys="down", label="chapter", what="the line below", place="chapters"),
    Key(
        id="chapter.enter",
        keys="enter",
        label="keep, next",
        what="keep what is typed, go to the next question",
        place="chapter",
        rank=1,
    ),
    Key(
        id="chapter.earlier-line",
        keys="up",
        label="question",
        what="the question above",
        place="chapter",
        rank=2,
        badge="↑↓",
    ),
    Key(id="chapter.later-line", keys="down", label="question", what="the question below", place="chapter"),
    Key(id="chapter.earlier-group", keys="pageup", label="heading", what="the heading above", place="chapter"),
    Key(id="chapter.later-group", keys="pagedown", label="heading", what="the heading below", place="chapter"),
    Key(id="chapter.read-on", keys="shift+down", label="read on", what="scroll down", place="chapter"),
    Key(id="chapter.read-back", keys="shift+up", label="read back", what="scroll up", place="chapter"),
    Key(id="chapter.note", keys="f3", label="note", what="write a note about this question", place="chapter", rank=6),
    Key(id="chapter.take-out", keys="f7", label="take out", what="take the answer out", place="chapter", rank=8),
    Key(
        id="air.enter",
        keys="enter",
        label="trial",
        what="begin a trial at the typed pressure",
        place="air",
        rank=1,
    ),
    Key(id="air.less-air", keys="left", label="air", what="a little less air", place="air", rank=2, badge="←→"),
    Key(id="air.more-air", keys="right", label="air", what="a little more air", place="air"),
    Key(id="air.more-load", keys="up", label="load", what="a little more load", place="air", rank=3, badge="↑↓"),
    Key(id="air.less-load", keys="down", label="load", what="a little less load", place="air"),
    Key(id="air.dots", keys="f6", label="dots", what="draw in braille, or in blocks", place="air", rank=9),
    Key(id="side.earlier", keys="left", label="stage", what="the stage before", place="side", rank=1, badge="←→"),
    Key(id="side.later", keys="right", label="stage", what="the stage after", place="side"),
    Key(id="side.scroll-up", keys="up", label="scroll", what="read back", place="side"),
    Key(id="side.scroll-down", keys="down", label="scroll", what="read on", place="side"),
    Key(id="side.dots", keys="f6", label="dots", what="draw in braille, or in blocks", place="side", rank=2),
    Key(id="sheet.code", keys="f6,enter", label="code", what="the code for a telephone", place="sheet", rank=1),
    Key(id="sheet.earlier", keys="left", label="code", what="the code before", place="sheet"),
    Key(id="sheet.later", keys="right", label="code", what="the code after", place="sheet"),
)
"""Part of `keys.TABLE`."""
