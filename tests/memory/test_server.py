"""What only a server can do: drop a connection, and say no."""

from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from bakelab.bakebook import BakeBook, BookError
from bakelab.formula import Formula
from tests.memory.conftest import PLACES, SERVER

if "server" in PLACES:

    def end_connection(pid: int) -> None:
        """As a server does that is started anew."""
        engine = create_engine(SERVER)
        with engine.begin() as db:
            db.execute(text("SELECT pg_terminate_backend(:pid)"), {"pid": pid})
        engine.dispose()

    @pytest.mark.parametrize("address", ["server"], indirect=True)
    def test_a_lost_connection_is_made_again(book: BakeBook, dough: Formula) -> None:
        bake_id = book.start(dough)
        with book._reading() as db:
            pid = db.execute(text("SELECT pg_backend_pid()")).scalar_one()
        end_connection(pid)
        book.mark(bake_id, "mixed")
        assert len(book.bake(bake_id).marks) == 1

    @pytest.mark.parametrize("address", ["server"], indirect=True)
    def test_a_connection_lost_within_an_entry_keeps_nothing_of_it(
        book: BakeBook, dough: Formula
    ) -> None:
        bake_id = book.start(dough, dough_c=25)

        def half() -> None:
            with book._writing() as db:
                db.execute(text("UPDATE bakes SET dough_c = 30"))
                pid = db.execute(text("SELECT pg_backend_pid()")).scalar_one()
                end_connection(pid)
                db.execute(text("SELECT 1"))

        with pytest.raises(BookError, match="cannot be reached"):
            half()
        assert book.bake(bake_id).facts["dough_c"] == 25.0

    @pytest.mark.parametrize("address", ["server"], indirect=True)
    def test_a_wrong_password_is_said(address: str, tmp_path: Path) -> None:
        wrong = address.replace("bakelab:bakelab@", "bakelab:guessed@")
        with pytest.raises(BookError, match="cannot be reached") as told:
            BakeBook(wrong, folder=tmp_path)
        assert "guessed" not in str(told.value)
