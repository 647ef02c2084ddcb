"""Session: events, the projection that folds them, facts, stages, checklists, and the order of the walk."""

from cornerwalk.session.log import RecordedEvent, record_event
from cornerwalk.session.model import Session
from cornerwalk.session.projection import fold

__all__ = ["RecordedEvent", "Session", "fold", "record_event"]
