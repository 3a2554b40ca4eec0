"""The methods that put something into a chat, change it or take it away."""

from __future__ import annotations

from dataclasses import replace

from tests.telegram.envelope import ApiError, Json, Params, integer, truth
from tests.telegram.messenger import REACTIONS, Chat, Messenger
from tests.telegram.shapes import Shown, rows

LONGEST_TEXT = 4096
"""Manual, sendMessage: 1-4096 characters after entities parsing."""
LONGEST_CAPTION = 1024
"""Manual, sendPhoto: 0-1024 characters after entities parsing."""


def send_message(messenger: Messenger, params: Params) -> object:
    """A new post of words."""
    chat = messenger.reached(params)
    preview = params.get("link_preview_options") or {}
    return _post(chat, params, _text(params), link_preview=not truth(preview, "is_disabled"))


def send_photo(messenger: Messenger, params: Params) -> object:
    """A new post of a photo that somebody sent before."""
    chat = messenger.reached(params)
    photo, caption = str(params["photo"]), str(params.get("caption", "")).strip()
    if photo not in messenger.files:
        raise ApiError(400, "Bad Request: wrong file identifier/HTTP URL specified")  # from memory
    if len(caption) > LONGEST_CAPTION:
        raise ApiError(400, "Bad Request: message caption is too long")  # from memory
    return _post(chat, params, caption, photo=photo)


def edit_text(messenger: Messenger, params: Params) -> object:
    """Other words, and other buttons or none."""
    chat = messenger.reached(params)
    post = _own(chat, params, "edit")
    if post.photo is not None:
        raise ApiError(400, "Bad Request: there is no text in the message to edit")
    return _changed(chat, replace(post, text=_text(params), rows=rows(params.get("reply_markup"))))


def edit_reply_markup(messenger: Messenger, params: Params) -> object:
    """Other buttons or none."""
    chat = messenger.reached(params)
    return _changed(chat, replace(_own(chat, params, "edit"), rows=rows(params.get("reply_markup"))))


def delete_message(messenger: Messenger, params: Params) -> object:
    """A post of the bot is gone; of others' too where the bot administers the group or the chat is private."""
    chat = messenger.reached(params)
    message_id = integer(params, "message_id")
    if chat.bot != "administrator" and chat.kind != "private":
        _own(chat, params, "delete")
    if chat.posts.pop(message_id, None) is None and chat.messages.pop(message_id, None) is None:
        raise ApiError(400, "Bad Request: message to delete not found")
    return True


def set_reaction(messenger: Messenger, params: Params) -> object:
    """The bot's one reaction to a message, or none any more."""
    chat = messenger.reached(params)
    message_id = integer(params, "message_id")
    if chat.message(message_id) is None:
        raise ApiError(400, "Bad Request: message to react not found")  # from memory
    chosen: list[Json] = params.get("reaction") or []
    if len(chosen) > 1:
        raise ApiError(400, "Bad Request: REACTIONS_TOO_MANY")  # manual: up to one; the word is from memory
    emoji = [str(one.get("emoji")) for one in chosen]
    if not chat.allowed_reactions.intersection(REACTIONS).issuperset(emoji):
        raise ApiError(400, "Bad Request: REACTION_INVALID")
    chat.reactions[message_id].append("".join(emoji))
    return True


def _text(params: Params) -> str:
    text = str(params.get("text", "")).strip()
    if not text:
        raise ApiError(400, "Bad Request: message text is empty")
    if len(text) > LONGEST_TEXT:
        raise ApiError(400, "Bad Request: message is too long")
    return text


def _post(chat: Chat, params: Params, text: str, photo: str | None = None, link_preview: bool = True) -> object:
    answers = _replied_to(chat, params.get("reply_parameters"))
    return chat.show(
        Shown(
            rows=rows(params.get("reply_markup")),
            topic=_topic(chat, params, answers),
            message_id=next(chat.numbers),
            chat=chat.chat_id,
            text=text,
            answers=answers,
            parse_mode=params.get("parse_mode"),
            link_preview=link_preview,
            photo=photo,
        )
    )


def _replied_to(chat: Chat, reply: Params | None) -> int | None:
    if not reply:
        return None
    message_id = integer(reply, "message_id")
    if chat.message(message_id) is not None:
        return message_id
    if not truth(reply, "allow_sending_without_reply"):
        raise ApiError(400, "Bad Request: message to be replied not found")
    return None


def _topic(chat: Chat, params: Params, answers: int | None) -> int | None:
    """The topic that was asked for, else that of the message that is answered (the latter from memory)."""
    asked = integer(params, "message_thread_id")
    answered = (chat.message(answers) or {}) if answers is not None else {}
    topic: int | None = asked or answered.get("message_thread_id")
    if topic is None:
        return None
    if topic not in chat.topics:
        raise ApiError(400, "Bad Request: message thread not found")
    if not chat.topics[topic] and chat.bot != "administrator":
        raise ApiError(400, "Bad Request: TOPIC_CLOSED")
    return topic


def _own(chat: Chat, params: Params, aim: str) -> Shown:
    """The bot's post that is to be changed or deleted."""
    message_id = integer(params, "message_id")
    if message_id in chat.messages:
        raise ApiError(400, f"Bad Request: message can't be {aim.removesuffix('e')}ed")
    if message_id not in chat.posts:
        raise ApiError(400, f"Bad Request: message to {aim} not found")
    return chat.posts[message_id]


def _changed(chat: Chat, post: Shown) -> object:
    if post == chat.posts[post.message_id]:
        raise ApiError(
            400,
            "Bad Request: message is not modified: specified new message content and reply markup are exactly the same"
            " as a current content and reply markup of the message",
        )
    return chat.show(post)
