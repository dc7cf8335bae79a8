"""What can be wrong with a database as a whole."""

from __future__ import annotations


class StoreError(Exception):
    """A database that cannot be used; the text names it and says why, in words for the person who runs it."""
