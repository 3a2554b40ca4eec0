"""Calls checked against the parameter lists that the Bot API publishes, as aiogram's models carry them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from unittest.mock import patch

from pydantic import BaseModel, ValidationError

from tests.telegram.envelope import Params

# Importing aiogram builds some five hundred models, which takes five seconds; a test needs a dozen of them.
with patch.object(BaseModel, "model_rebuild", lambda *_arguments, **_options: None):
    import aiogram.methods
    import aiogram.types


@cache
def _model(method: str) -> type[BaseModel] | None:
    found: type[BaseModel] | None = getattr(aiogram.methods, method[:1].upper() + method[1:], None)
    if found is not None:
        found.model_rebuild(_types_namespace=vars(aiogram.types))
    return found


@cache
def published(name: str) -> type[BaseModel]:
    """The model of one of the Bot API's types."""
    found: type[BaseModel] = getattr(aiogram.types, name)
    found.model_rebuild(_types_namespace=vars(aiogram.types))
    return found


def wrong(method: str, params: Params) -> str | None:
    """What is wrong with a call: an unknown method or parameter, a missing one, or one of another type."""
    model = _model(method)
    if model is None:
        return f"{method}: no such method"
    try:
        call = model.model_validate(params)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        return f"{method}: {'.'.join(map(str, first['loc']))}: {first['msg']}"
    strangers = ", ".join(unknown(call))
    return f"{method}: unknown parameter {strangers}" if strangers else None


def unknown(value: object, place: str = "") -> Iterator[str]:
    """The names that no list has, at whatever depth; the models let them pass."""
    if isinstance(value, BaseModel):
        for name in value.model_extra or ():
            yield f"{place}{name}"
        for name in value.model_fields_set:
            yield from unknown(getattr(value, name), f"{place}{name}.")
    elif isinstance(value, list):
        for one in value:
            yield from unknown(one, place)
