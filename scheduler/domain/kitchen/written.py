"""Temperatures and lengths as the sentences of the kitchen write them; `scheduler.words` is for messages."""

from __future__ import annotations

from datetime import timedelta


def degrees(celsius: float) -> str:
    """ "57 C", "26.7 C"."""
    return f"{celsius:g} C"


def in_hours(length: timedelta) -> str:
    """ "2 h", "1 h 30 min", "15 min": to the minute."""
    hours, minutes = divmod(round(length.total_seconds() / 60), 60)
    parts = (f"{hours} h" if hours else "", f"{minutes} min" if minutes or not hours else "")
    return " ".join(part for part in parts if part)
