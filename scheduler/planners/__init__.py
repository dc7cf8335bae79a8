"""The two planners: `Here`, in this process, and `Apart`, in one of its own that can be stopped."""

from scheduler.planners.apart import Apart
from scheduler.planners.here import Here

__all__ = ["Apart", "Here"]
