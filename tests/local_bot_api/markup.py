"""Formatted text as the platform reads it: HTML tags become entities, the rest is what is shown.

Only ``parse_mode=HTML`` is read; any other mode is a violation here, though not on the platform.
"""

import re
from dataclasses import dataclass
from typing import Any

from tests.local_bot_api.refusals import Refused, violation

TAGS = {
    "b": "bold", "strong": "bold", "i": "italic", "em": "italic", "u": "underline",
    "ins": "underline", "s": "strikethrough", "strike": "strikethrough", "del": "strikethrough",
    "code": "code", "pre": "pre", "a": "text_link", "blockquote": "blockquote",
    "tg-spoiler": "spoiler", "span": "spoiler", "tg-emoji": "custom_emoji",
    "tg-time": "date_time",
}  # fmt: skip
NAMED = {"lt": "<", "gt": ">", "amp": "&", "quot": '"'}
PIECE = re.compile(r"<[^>]*>?|&(?:#\d+|#x[0-9a-fA-F]+|\w+);|[^<&]+|&")
TAG = re.compile(r"<(/?)([a-zA-Z][a-zA-Z0-9-]*)((?:\s[^>]*)?)/?>")
HREF = re.compile(r"""href\s*=\s*(?:"([^"]*)"|'([^']*)'|(\S+))""")
COMMAND = re.compile(r"(?<![\w/])/[A-Za-z0-9_]{1,64}(?:@\w{3,32})?(?!\w)")
MENTION = re.compile(r"(?<!\w)@\w{3,32}")
Entity = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Shown:
    """What a reader sees: the text, and the entities over it (offsets in UTF-16 units)."""

    text: str
    entities: tuple[Entity, ...] = ()


def utf16(text: str) -> int:
    """The length of a text in UTF-16 units, in which the platform counts offsets."""
    return len(text) if text.isascii() else len(text.encode("utf-16-le")) // 2


def shown(raw: str, parse_mode: str | None, entities: list[Entity] | None) -> Shown:
    """Read a text with its parse mode or its explicit entities; refuse what cannot be parsed."""
    if not parse_mode:
        return Shown(raw.strip(), tuple(entities or ()))
    if parse_mode.lower() != "html":
        raise violation(f"unsupported parse_mode {parse_mode!r}")
    if "<" not in raw and "&" not in raw:
        return Shown(raw.strip())
    return _from_html(raw)


def in_plain_text(text: str) -> list[Entity]:
    """The entities the platform finds by itself in what a person types: commands, mentions."""
    found = [("bot_command", m) for m in COMMAND.finditer(text)]
    found += [("mention", m) for m in MENTION.finditer(text)]
    return [
        {"type": kind, "offset": utf16(text[: m.start()]), "length": utf16(m[0])}
        for kind, m in sorted(found, key=lambda pair: pair[1].start())
    ]


def _from_html(raw: str) -> Shown:
    parts: list[str] = []
    entities: list[Entity] = []
    open_tags: list[tuple[str, int, str]] = []
    length = 0
    for match in PIECE.finditer(raw):
        piece = match[0]
        if piece[0] == "<":
            at = len(raw[: match.start()].encode())
            _apply_tag(piece, at, length, open_tags, entities)
            continue
        text = _character(piece) if piece[0] == "&" else piece
        parts.append(text)
        length += utf16(text)
    if open_tags:
        raise _unparsed(f'Can\'t find end tag corresponding to start tag "{open_tags[-1][0]}"')
    text = "".join(parts)
    return _stripped(text, sorted(entities, key=lambda e: (e["offset"], -e["length"])))


def _apply_tag(
    piece: str,
    at: int,
    length: int,
    open_tags: list[tuple[str, int, str]],
    entities: list[Entity],
) -> None:
    match = TAG.fullmatch(piece)
    name = match[2].lower() if match else ""
    if match is None or name not in TAGS:
        unknown = name or piece[1:20]
        raise _unparsed(f'Unsupported start tag "{unknown}" at byte offset {at}')
    if not match[1]:
        open_tags.append((name, length, match[3]))
        return
    if not open_tags or open_tags[-1][0] != name:
        expected = f', expected "</{open_tags[-1][0]}>"' if open_tags else ""
        raise _unparsed(f'Unmatched end tag at byte offset {at}{expected}, found "{piece}"')
    _, start, attributes = open_tags.pop()
    if length > start:
        entities.append(_entity(name, start, length - start, attributes))


def _unparsed(reason: str) -> Refused:
    return violation(f"can't parse entities: {reason}")


def _entity(name: str, offset: int, length: int, attributes: str) -> Entity:
    entity: Entity = {"type": TAGS[name], "offset": offset, "length": length}
    if name == "a" and (href := HREF.search(attributes)):
        entity["url"] = href[1] or href[2] or href[3]
    return entity


def _character(piece: str) -> str:
    if not piece.startswith("&#"):
        return NAMED.get(piece[1:-1], piece)
    code = int(piece[3:-1], 16) if piece[2] == "x" else int(piece[2:-1])
    return chr(code) if 0 < code < 0x110000 else piece


def _stripped(text: str, entities: list[Entity]) -> Shown:
    """The platform trims the ends of a text; the entities move along."""
    kept = text.strip()
    lead = utf16(text[: len(text) - len(text.lstrip())])
    end = utf16(kept)
    moved = []
    for entity in entities:
        start = max(entity["offset"] - lead, 0)
        stop = min(entity["offset"] - lead + entity["length"], end)
        if stop > start:
            moved.append(entity | {"offset": start, "length": stop - start})
    return Shown(kept, tuple(moved))
