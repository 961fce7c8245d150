"""Run by Alembic: the connection and its transaction come from the bake book."""

from alembic import context

from bakelab.bakebook.tables import METADATA


def run() -> None:
    """Run the migrations that Alembic has chosen."""
    context.configure(
        connection=context.config.attributes["connection"],
        target_metadata=METADATA,
        render_as_batch=True,
    )
    with context.begin_transaction():
        context.run_migrations()


if hasattr(context, "config"):  # not where the module is only looked at
    run()
