"""Pages of the app, one file each, loaded when they are first opened.

To add a page of a job:

1. a file here with a class derived from `job_screen.JobScreen`: name its `places`, compose it in `compose_page`, draw
   it in `show` (when it comes up, and once after every key that changed something), record with `record(events)`,
   speak with `tell`;
2. one line in `keys.TABLE` with `opens="file:Class"`. Key, palette, help page and README follow from it.

A page that is no part of a job derives from `page.PageScreen` and is given the context.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cornerwalk.job.open_job import OpenJob
    from cornerwalk.tui.screens.job_screen import JobScreen


def job_page(opens: str, job: OpenJob) -> JobScreen:
    """The page called `module:Class`, of this job; `module:Class:what` names what it is a page of."""
    module, name, *what = opens.split(":")
    page: JobScreen = getattr(import_module(f"cornerwalk.tui.screens.{module}"), name)(job, *what)
    page.opens = opens
    return page


def first_page(job: OpenJob) -> JobScreen:
    """The page a job opens on: the walk, or the replay of one that is looked back at."""
    return job_page(job.opens_on, job)
