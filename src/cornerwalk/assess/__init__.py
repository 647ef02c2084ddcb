"""Assessment room: pure functions from what was recorded to figures, checks and findings."""

from cornerwalk.assess.assessment import Assessment
from cornerwalk.assess.session_assessment import assess

__all__ = ["Assessment", "assess"]
