"""A whole job line by line, from the customer's question over the handover to the follow-up."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.session.events import HandedOver, JobReopened
from cornerwalk.session.log import active_events
from cornerwalk.session.model import Session
from tests.line import whole_job as job
from tests.line.talking import WORKED_WALK, Talk, as_one, new_job

INCH, LBF, PSI = 25.4, 4.4482216152605, 6.894757293168361


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    """A new job, nothing stated."""
    return new_job(tmp_path)


def test_the_whole_job_goes_in_line_by_line(talk: Talk) -> None:
    """Nothing of the script is refused, and the job is closed, opened for the follow-up, and closed again."""
    for line in job.SCRIPT:
        prompt = talk.prompt
        said = talk.say(line)
        assert not talk.conversation.refused, (prompt, line, said)
    assert talk.prompt == "Handed over:"
    lasting = [what for what in talk.recorded() if isinstance(what, HandedOver | JobReopened)]
    assert [type(what) for what in lasting] == [HandedOver, JobReopened, HandedOver]


def test_what_was_typed_is_what_is_recorded(talk: Talk) -> None:
    """Facts, loads, answers, torques, tickets, air, leak and soap stand in the file with the values of their texts."""
    talk.say(*job.SCRIPT)
    session = talk.session
    _facts(session)
    _work(session)
    assert [stage.key for stage in session.stages] == [
        ("unloaded", 1), ("loaded", 1), ("fitted", 1), ("fitted", 2), ("road-test", 1), ("follow-up", 1),
    ]  # fmt: skip
    assert all(stage.all_read for stage in session.stages)


def _facts(session: Session) -> None:
    assert session.job.customer == "A. Customer (invented)"
    assert session.job.complaint == "hangs low, lamps in the trees"
    assert session.vehicle.wheelbase_mm == pytest.approx(119 * INCH)
    assert session.vehicle.gvwr_N == pytest.approx(5800 * LBF)
    assert session.vehicle.levelling == "none"
    assert session.lamps.screen_mm == pytest.approx(300 * INCH)
    assert session.lamps.rule == "un-r48-09"
    assert session.kit.min_kPa == pytest.approx(8 * PSI)
    assert session.kit.max_kPa == pytest.approx(40 * PSI)
    assert list(session.table.loads_N) == pytest.approx([300 * LBF, 410 * LBF])
    assert session.service.retorque_distance == "60 miles"
    (load,) = session.loads
    assert load.name == "trailer tongue"
    assert load.ahead_mm == pytest.approx(-46 * INCH)


def _work(session: Session) -> None:
    answers = {(answer.check, answer.stage): answer for answer in session.answers}
    assert answers[("sag-before", None)].note == "it leaned left a little"
    assert answers[("brake-valve", None)].answer == "no"
    assert answers[("alignment", None)].answer == "not checked"
    assert answers[("hole", None)].answer == "not fitted"
    assert answers[("driver", ("unloaded", 1))].answer == answers[("driver", ("loaded", 1))].answer == "no"
    assert answers[("clearance-loaded", None)].note == "3/4 in"
    (torque,) = session.torques
    assert (torque.specified_entered, torque.reached_entered) == ("100 lbf·ft", "100 lbf·ft")
    assert session.weighings["hitched"].trailer_N == pytest.approx(3690 * LBF)
    assert session.weighings["unhitched"].trailer_N is None
    first, last = session.leak_readings
    assert [first.pressure_kPa, last.pressure_kPa] == pytest.approx([30 * PSI, 27 * PSI])
    assert first.temperature_C == pytest.approx(22.2222, abs=1e-3)
    assert first.loaded
    assert [(joint.joint, joint.bubbles) for joint in session.joints][-1] == ("gauge", True)
    assert session.stages[0].mark_mm == pytest.approx(-2.125 * INCH)


def test_nothing_is_handed_over_while_a_stop_stands_without_a_decision(talk: Talk) -> None:
    """The stop is named, and the words of whoever decided are kept before the handover."""
    talk.say(*WORKED_WALK, "soap", "2", "")
    said = as_one(talk.say("hand over"))
    assert "STOP: Air leak" in said
    assert "Not checked:" in said
    talk.say("A. Customer (invented)", "")
    assert talk.conversation.refused
    talk.say("left open until Friday", "leave")
    assert not any(isinstance(what, HandedOver) for what in talk.recorded())
    talk.say("hand over", "", "left open until Friday", "y")
    note, handed = talk.recorded()[-2:]
    assert isinstance(handed, HandedOver)
    assert handed.to == ""
    assert getattr(note, "text", "") == "left open until Friday"


def test_the_figures_handed_over_are_those_of_the_session(talk: Talk) -> None:
    """They are kept as they were shown: the rear's change at the last trial, in mm."""
    talk.say(*WORKED_WALK, "hand over", "", "y")
    handed = talk.recorded()[-1]
    assert isinstance(handed, HandedOver)
    assert handed.figures["stage.fitted.2.rear_mm"] == pytest.approx(-0.46875 * INCH)


def test_after_the_handover_nothing_is_changed_until_the_job_is_reopened(talk: Talk) -> None:
    """Heights, notes and facts are refused; undo does not reach the handover."""
    talk.say(*WORKED_WALK, "hand over", "", "y")
    before = talk.stored
    for line in ("28 5/8", "note late thought", "undo", "hand over", "25"):
        talk.say(line)
    counting = [event.payload for event in active_events(talk.stored)]
    assert counting == [event.payload for event in active_events(before)]
    talk.say("reopen", "")
    assert [talk.session.open] == [False]
    talk.say("reopen", "leans again")
    assert [talk.session.open] == [True]
    assert "type the pressure, then Enter" in talk.prompt


def test_next_leads_through_the_chapters(talk: Talk) -> None:
    """`next` alone names each chapter in its order and opens its first question."""
    named = []
    for lines in ((), ("leave", *WORKED_WALK[:9]), ("leave", *WORKED_WALK[9:])):
        talk.say(*lines)
        named.append(talk.say("next")[0])
    assert named == ["INTAKE:", "FITTING:", "LEAK CHECK:"]


def test_a_hold_test_tells_how_long_it_runs_after_a_night(talk: Talk) -> None:
    """At the next opening the time, the gauge and the temperature of its start are told."""
    from cornerwalk.context import WalkView
    from tests.line.talking import sessions_in, talk_in

    talk.say(*WORKED_WALK, "leak start", "30", "71", "2")
    talk.conversation.close()
    talk.clock.advance(hours=17)
    (path,) = sessions_in(talk.folder)
    again = talk_in(talk.folder, WalkView(path), clock=talk.clock)
    assert "you started 17 h ago at 71 °F, with 30 psi in" in as_one(again.conversation.greeting())


def test_results_report_and_page_are_read_in_the_conversation(talk: Talk) -> None:
    """Each prints what the reports say, and the question stays."""
    talk.say(*job.SCRIPT[: len(job.INTAKE)], *WORKED_WALK)
    prompt = talk.prompt
    results = as_one(talk.say("results"))
    assert "LOADED, NO AIR:" in results
    assert "Not checked:" in results
    report, page = talk.say("report"), talk.say("customer")
    assert "Findings" in as_one(report)
    assert "Day to day" in as_one(page)
    assert [
        line for line in (*report, *page) if line and not any(map(str.isalnum, line))
    ] == []  # read out sign by sign
    assert talk.prompt == prompt


def test_what_leaving_a_fact_out_costs_is_said_at_once(talk: Talk) -> None:
    """The figures that hang on it are named."""
    talk.say("fact wheelbase")
    assert talk.say("")[0] == "Without it: no tilt, no beam, no axle loads."


def test_a_fact_is_stated_by_its_word(talk: Talk) -> None:
    """By its key, its register name or what it is called; `-` takes it back; an unknown one is refused."""
    talk.say("fact wheelbase 119 in")
    talk.say("fact kit.max 40 psi")
    talk.say("fact lamp centre above ground 28 1/2")
    session = talk.session
    assert session.vehicle.wheelbase_mm == pytest.approx(119 * INCH)
    assert session.kit.max_kPa == pytest.approx(40 * PSI)
    assert session.vehicle.lamp_height_mm == pytest.approx(28.5 * INCH)
    talk.say("fact wheelbase -")
    assert talk.session.vehicle.wheelbase_mm is None
    for wrong in ("fact weelbase 119", "fact wheelbase far", "fact lines both", "fact lamps.rule mine"):
        talk.say(wrong)
        assert talk.conversation.refused, wrong
    assert "wheelbase" not in as_one(talk.say("fact"))


def test_words_that_are_answers_go_in_behind_an_equals_sign(talk: Talk) -> None:
    """A title that is also a word of the vocabulary."""
    talk.say("intake job", "= Undo")
    assert talk.session.job.title == "Undo"


def test_a_shops_own_checklist_is_asked(tmp_path: Path) -> None:
    """A list in the shop's folder stands among the others and is recorded under its ids."""
    lists = tmp_path / "checklists"
    lists.mkdir()
    (lists / "ours.toml").write_text(
        'id = "ours"\ntitle = "Ours"\n[[item]]\nid = "key-back"\nquestion = "Key on the hook?"\n', encoding="utf-8"
    )
    talk = new_job(tmp_path)
    assert any("Ours: 0 of 1" in line for line in talk.say("checks"))
    talk.say("leave", "checks ours", "1")
    assert [answer.check for answer in talk.session.answers] == ["key-back"]
