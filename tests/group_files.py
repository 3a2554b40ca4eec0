"""A group.toml of any text, and what it is answered with."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.group_file import GroupFileError, read_group


def folder_with(folder: Path, text: str) -> Path:
    """The folder, with a group.toml of this text."""
    (folder / "group.toml").write_text(text, encoding="utf-8")
    return folder


def fault_of(folder: Path, text: str) -> str:
    """What a group.toml of this text is answered with."""
    with pytest.raises(GroupFileError) as caught:
        read_group(folder_with(folder, text))
    return str(caught.value)
