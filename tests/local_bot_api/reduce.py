"""Cut a machine-readable copy of the public Bot API page down to methods.json.

Usage: ``python -m tests.local_bot_api.reduce FULL_COPY.json``. Kept so that the table can be made
again from a newer copy; the server itself reads methods.json only.
"""

import json
import re
import sys
from pathlib import Path
from typing import Any

METHODS = [
    "getMe",
    "getUpdates",
    "sendMessage",
    "editMessageText",
    "editMessageCaption",
    "editMessageReplyMarkup",
    "answerCallbackQuery",
    "sendPhoto",
    "sendDocument",
    "sendMediaGroup",
    "sendChatAction",
    "deleteMessage",
    "getFile",
    "setMyCommands",
    "getMyCommands",
    "deleteMyCommands",
    "setMyDescription",
    "setMyShortDescription",
    "deleteWebhook",
    "getWebhookInfo",
]
SOURCE = (
    "The public Bot API page, https://core.telegram.org/bots/api, {version} ({date}), "
    "from a machine-readable copy under the MIT licence; reduced to names, types and required."
)
BASIC = {"Integer", "Float", "String", "Boolean", "True", "InputFile"}
Fields = dict[str, dict[str, Any]]


def reduce(full: dict[str, Any]) -> dict[str, Any]:
    """Keep the methods above, and every type their parameters are made of."""
    methods = {name: _fields(full["methods"][name]) for name in METHODS}
    types: dict[str, Fields] = {}
    unions: dict[str, list[str]] = {}
    waiting = [kind for fields in methods.values() for kind in _kinds(fields)]
    while waiting:
        kind = waiting.pop()
        if kind in types or kind in unions or kind in BASIC:
            continue
        if subtypes := full["types"][kind].get("subtypes"):
            unions[kind] = subtypes
        else:
            types[kind] = _fields(full["types"][kind])
        waiting += subtypes or _kinds(types[kind])
    return {
        "source": SOURCE.format(version=full["version"], date=full["release_date"]),
        "update_kinds": [n for n in _fields(full["types"]["Update"]) if n != "update_id"],
        "unions": unions,
        "methods": methods,
        "types": dict(sorted(types.items())),
    }


def _kinds(fields: Fields) -> list[str]:
    return [kind.replace("Array of ", "") for field in fields.values() for kind in field["types"]]


def _fields(described: dict[str, Any]) -> Fields:
    return {field["name"]: _field(field) for field in described.get("fields", [])}


def _field(field: dict[str, Any]) -> dict[str, Any]:
    kept = {"types": field["types"], "required": field["required"]}
    if field["name"] == "type" and (must := re.search(r"must be (\w+)$", field["description"])):
        kept["must_be"] = must[1]  # the word that tells the members of a union apart
    return kept


def written(table: dict[str, Any]) -> str:
    """The table as JSON with one parameter a line, so that a change shows as one line."""
    parts = [
        f" {json.dumps(k)}: {json.dumps(table[k])}" for k in ("source", "update_kinds", "unions")
    ]
    for part in ("methods", "types"):
        inner = ",\n".join(
            f"  {json.dumps(name)}: {{"
            + ",".join(f"\n   {json.dumps(n)}: {json.dumps(f)}" for n, f in fields.items())
            + "}"
            for name, fields in table[part].items()
        )
        parts.append(f' "{part}": {{\n{inner}\n }}')
    return "{\n" + ",\n".join(parts) + "\n}\n"


if __name__ == "__main__":
    full_copy = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    out = Path(__file__).with_name("methods.json")
    out.write_text(written(reduce(full_copy)), encoding="utf-8")
