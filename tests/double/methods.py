"""The Bot API's methods that answer at once, each a function of the world and the call."""

import json
from collections.abc import Callable
from typing import Any

from tests.double.world import ApiError, Params, World


def _get_me(world: World, _: Params) -> Any:
    return world.me


def _set_webhook(world: World, params: Params) -> Any:
    world.webhook = params.get("url", "")
    return _drop_if_asked(world, params)


def _delete_webhook(world: World, params: Params) -> Any:
    world.webhook = ""
    return _drop_if_asked(world, params)


def _drop_if_asked(world: World, params: Params) -> bool:
    if str(params.get("drop_pending_updates", "")).lower() == "true":
        world.waiting.clear()
    return True


def _get_webhook_info(world: World, _: Params) -> Any:
    return {
        "url": world.webhook,
        "has_custom_certificate": False,
        "pending_update_count": len(world.waiting),
    }


def _set_my_commands(world: World, params: Params) -> Any:
    given = params["commands"]
    world.commands = json.loads(given) if isinstance(given, str) else list(given)
    return True


def _get_my_commands(world: World, _: Params) -> Any:
    return world.commands


def _send_message(world: World, params: Params) -> Any:
    return world.add_message(int(params["chat_id"]), params.get("text", ""), params=params)


def _send_photo(world: World, params: Params) -> Any:
    shown = world.add_message(
        int(params["chat_id"]), params.get("caption", ""), params=params, kind="photo"
    )
    size = {"file_id": "photo", "file_unique_id": "photo", "width": 90, "height": 60}
    return {**shown, "photo": [size]}


def _send_document(world: World, params: Params) -> Any:
    shown = world.add_message(
        int(params["chat_id"]), params.get("caption", ""), params=params, kind="document"
    )
    return {**shown, "document": {"file_id": "document", "file_unique_id": "document"}}


def _edit_message_text(world: World, params: Params) -> Any:
    return world.change_message(int(params["chat_id"]), int(params["message_id"]), params=params)


def _edit_message_reply_markup(world: World, params: Params) -> Any:
    kept = {name: value for name, value in params.items() if name != "text"}
    return world.change_message(int(params["chat_id"]), int(params["message_id"]), params=kept)


def _answer_callback_query(world: World, params: Params) -> Any:
    press = params.get("callback_query_id", "")
    if press not in world.presses:
        raise ApiError(
            400,
            "Bad Request: query is too old and response timeout expired or query ID is invalid",
        )
    world.presses[press] = True
    return True


def _send_chat_action(world: World, params: Params) -> Any:
    if int(params["chat_id"]) not in world.names:
        raise ApiError(400, "Bad Request: chat not found")
    return True


METHODS: dict[str, Callable[[World, Params], Any]] = {
    "getme": _get_me,
    "setwebhook": _set_webhook,
    "deletewebhook": _delete_webhook,
    "getwebhookinfo": _get_webhook_info,
    "setmycommands": _set_my_commands,
    "getmycommands": _get_my_commands,
    "sendmessage": _send_message,
    "sendphoto": _send_photo,
    "senddocument": _send_document,
    "editmessagetext": _edit_message_text,
    "editmessagereplymarkup": _edit_message_reply_markup,
    "answercallbackquery": _answer_callback_query,
    "sendchataction": _send_chat_action,
}
