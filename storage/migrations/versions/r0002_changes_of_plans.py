"""What was changed about a plan's kitchen so that the meal fits: a list of changes with every plan.

Plans stored before have none.
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("plans") as plans:
        plans.add_column(sa.Column("changes", sa.JSON(), nullable=False, server_default="[]"))
