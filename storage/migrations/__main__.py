"""`python -m storage.migrations "what changes"`: draft a revision from the difference to tables.py."""

from __future__ import annotations

import sys

from storage.engine import make_engine
from storage.migrations import draft

if len(sys.argv) != 2:
    sys.exit(__doc__)
draft(make_engine(None), sys.argv[1])
