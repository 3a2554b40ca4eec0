"""How a post looks to a person at a terminal."""

from __future__ import annotations

import pytest

from bot.messages import Post
from bot.transports import screen


def test_post_to_a_member_names_them() -> None:
    assert screen.post_text(Post("Your reminder.", to="Ines")) == "Clerk to Ines: Your reminder."


def test_further_lines_and_picture_are_indented() -> None:
    post = Post("Pencils:\n5¢ each", picture="pencils.png")

    assert screen.post_text(post) == "Clerk: Pencils:\n  5¢ each\n  (picture: pencils.png)"


def test_control_characters_never_reach_the_screen(capsys: pytest.CaptureFixture[str]) -> None:
    screen.writer()("Mei: \x1b[2Jpencils\r\x07 ✏️\n  0.47", screen.PERSON_STYLE)

    assert capsys.readouterr().out == "Mei: [2Jpencils ✏️\n  0.47\n"
