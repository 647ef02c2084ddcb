"""What the README says under "What saved means", sentence by sentence, and the tests that hold each.

A reading is called saved once the whole session is in a new file beside the old one …
    test_disk: test_the_order_that_makes_a_file_last, test_a_real_disk_is_synced_twice_a_save
    test_session_file: test_what_is_kept_stands_in_the_file
Kill the program or cut the power at any moment: every saved reading is there.
    test_power_loss: test_no_loss_of_power_takes_a_kept_reading
    test_crash_points: test_a_disk_that_fails_once_anywhere_loses_nothing
    test_faults: test_a_stop_at_any_call_loses_nothing, test_kills_at_random_moments_lose_nothing
    test_terminal_kills: test_kills_of_the_program_on_a_terminal_lose_nothing
If the disk is full, failing or unplugged it says NOT SAVED, goes on in memory, and writes everything once it can.
    test_session_file: test_on_a_full_disk_nothing_is_lost_and_nothing_called_kept
    test_session_file: test_an_unplugged_folder_is_not_made_anew_below, test_moving_takes_the_file_along
    test_crash_points: test_a_disk_that_fails_from_some_moment_on
    test_start: test_not_on_disk_is_loud_and_readings_go_on
    test_elsewhere: test_the_second_try_that_fails_asks_for_another_folder
One program at a time writes a session;
    test_lock: test_one_program_at_a_time, test_another_machine_loses_it_only_with_consent
    test_two_programs: test_the_second_program_reads_only_and_follows_along
    test_two_programs: test_a_lock_of_a_dead_machine_is_broken_only_with_consent
a damaged file is left as it is and read as far as it verifies.
    test_library: test_a_damaged_file_is_set_aside_and_said_so, test_going_on_from_a_damaged_file
    test_hostile_library: test_each_file_is_refused_with_its_reason
Assumed of the disk: what it confirms stays, and a rename is all or nothing.
    test_power_loss: test_the_model_finds_a_save_that_leaves_out_a_sync
Where a system cannot sync a folder …, it relies on the rename alone.
    test_disk: test_where_there_is_no_way_to_sync_a_folder_none_is_tried
    test_disk: test_a_file_system_that_cannot_sync_folders_is_not_asked_to
"""

from __future__ import annotations

import re
from pathlib import Path

PROJECT = Path(__file__).parents[2]


def sentences_and_tests() -> dict[str, list[str]]:
    """Each sentence of the table above, or its beginning, with the tests named below it as `file: test`."""
    table: dict[str, list[str]] = {}
    for line in (__doc__ or "").splitlines()[2:]:
        if line.startswith("    "):
            file, _, tests = line.strip().partition(": ")
            list(table.values())[-1].extend(f"{file}: {test}" for test in tests.split(", "))
        elif line.strip():
            table[line.strip().partition(" …")[0]] = []
    return table


def test_every_sentence_is_in_the_readme_and_none_of_it_is_without_a_test() -> None:
    """The table begins each of the README's sentences in its order, and leaves none out."""
    readme = " ".join((PROJECT / "README.md").read_text("utf-8").split())
    said = re.search(r"## What \*saved\* means (.*?) ## ", readme)
    assert said is not None
    table = sentences_and_tests()
    places = [said[1].find(sentence) for sentence in table]
    assert -1 not in places, [sentence for sentence in table if sentence not in said[1]]
    assert places == sorted(places)
    parts = re.split(r"(?<=[.:;]) ", said[1])
    untold = [part for part in parts if not any(part in sentence or sentence in part for sentence in table)]
    assert untold == [], "say of these which test holds them"
    assert all(table.values())


def test_every_test_of_the_table_is_there() -> None:
    """A test that is renamed is renamed in the table."""
    for file, test in (named.split(": ") for tests in sentences_and_tests().values() for named in tests):
        texts = [path.read_text("utf-8") for path in (PROJECT / "tests").rglob(f"{file}.py")]
        assert any(f"def {test}(" in text for text in texts), (file, test)
