"""Settings from the environment."""

from __future__ import annotations

import pytest

from bot.settings import PUBLIC_API, Settings, SettingsError

VARIABLES = ("BOT_TOKEN", "BOT_API_URL", "DATABASE_URL")


@pytest.fixture(autouse=True)
def _bare_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in VARIABLES:
        monkeypatch.delenv(name, raising=False)


def test_defaults_need_nothing_but_a_token(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BOT_TOKEN", " 123456789:AAE-example_of_a_token\n")
    monkeypatch.setenv("DATABASE_URL", "sqlite://")

    settings = Settings()

    assert settings.token() == "123456789:AAE-example_of_a_token"
    assert settings.api_url() == PUBLIC_API


@pytest.mark.parametrize("value", ["http://127.0.0.1:8081", "http://127.0.0.1:8081/", "https://api.example.org/v1/"])
def test_api_address_loses_its_trailing_slash(monkeypatch: pytest.MonkeyPatch, value: str) -> None:
    monkeypatch.setenv("BOT_API_URL", value)
    monkeypatch.setenv("DATABASE_URL", "sqlite://")

    assert Settings().api_url() == value.rstrip("/")


@pytest.mark.parametrize("value", ["api.example.org", "ftp://api.example.org", "http://", "http://a b"])
def test_address_of_no_kind_is_refused(monkeypatch: pytest.MonkeyPatch, value: str) -> None:
    monkeypatch.setenv("BOT_API_URL", value)
    monkeypatch.setenv("DATABASE_URL", "sqlite://")

    with pytest.raises(SettingsError, match="BOT_API_URL is no web address"):
        Settings().api_url()


@pytest.mark.parametrize("value", ["", "  ", "no token at all", "123456789:AAE/../x"])
def test_token_that_is_none_is_refused(monkeypatch: pytest.MonkeyPatch, value: str) -> None:
    monkeypatch.setenv("BOT_TOKEN", value)
    monkeypatch.setenv("DATABASE_URL", "sqlite://")

    with pytest.raises(SettingsError, match=r"@BotFather.*BOT_TOKEN=123456789:AAE") as refusal:
        Settings().token()

    assert "no token at all" not in str(refusal.value)


def test_token_shows_in_no_printout(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BOT_TOKEN", "123456789:AAE-example_of_a_token")
    monkeypatch.setenv("DATABASE_URL", "sqlite://")

    assert "AAE" not in repr(Settings())


@pytest.mark.skipif("sys.platform != 'linux'", reason="the data folder follows XDG_DATA_HOME on Linux only")
def test_books_go_into_the_data_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
) -> None:
    home = tmp_path_factory.mktemp("home") / "data"
    monkeypatch.setenv("XDG_DATA_HOME", str(home))

    address = Settings().database_url

    assert address == f"sqlite:///{home}/packing-clerk/books.db"
    assert (home / "packing-clerk").is_dir()


@pytest.mark.skipif("sys.platform != 'linux'", reason="the data folder follows XDG_DATA_HOME on Linux only")
def test_data_folder_in_the_way_is_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
) -> None:
    file = tmp_path_factory.mktemp("home") / "file"
    file.touch()
    monkeypatch.setenv("XDG_DATA_HOME", str(file))

    with pytest.raises(SettingsError, match=r"DATABASE_URL=sqlite:///books\.db"):
        Settings()
