"""What a session means: pure functions from what was recorded to figures, checks and findings."""

from cornerwalk.assess.assessment import Assessment
from cornerwalk.assess.whole import assess

__all__ = ["Assessment", "assess"]
