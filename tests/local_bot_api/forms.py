"""Read the parameters of a call out of its query string and body, in any of the accepted forms."""

import json
import re
from typing import Any
from urllib.parse import parse_qsl

from tests.local_bot_api.refusals import violation
from tests.local_bot_api.table import Upload

BOUNDARY = re.compile(r'boundary="?([^";,]+)"?')
PART_NAME = re.compile(r'[; ]name="([^"]*)"')
FILE_NAME = re.compile(r'[; ]filename="([^"]*)"')
Parameters = dict[str, Any]


def parameters(query: str, content_type: str, body: bytes) -> Parameters:
    """Form fields as strings, JSON members as they are, file parts as Upload."""
    given: Parameters = dict(_form(query)) if query else {}
    if not body:
        return given
    kind = content_type.partition(";")[0].strip().lower()
    if kind == "application/x-www-form-urlencoded":
        given.update(_form(_text(body)))
    elif kind == "application/json":
        given.update(_json(body))
    elif kind == "multipart/form-data":
        given.update(_multipart(content_type, body))
    else:
        raise violation(f"unsupported content type {kind!r}")
    return given


def _text(encoded: bytes) -> str:
    try:
        return encoded.decode()
    except UnicodeDecodeError:
        raise violation("strings must be encoded in UTF-8") from None


def _form(text: str) -> list[tuple[str, str]]:
    try:
        return parse_qsl(text, keep_blank_values=True, errors="strict")
    except UnicodeDecodeError:
        raise violation("strings must be encoded in UTF-8") from None


def _json(body: bytes) -> Parameters:
    text = _text(body)
    try:
        read = json.loads(text)
    except ValueError:
        raise violation("can't parse JSON in the request body") from None
    if not isinstance(read, dict):
        raise violation("the request body must be a JSON object")
    return {name: value for name, value in read.items() if value is not None}


def _multipart(content_type: str, body: bytes) -> Parameters:
    match = BOUNDARY.search(content_type)
    if match is None:
        raise violation("boundary is missing in the content type")
    given: Parameters = {}
    for part in body.split(b"--" + match[1].encode())[1:]:
        if part.startswith(b"--"):
            return given
        head, _, content = part.removeprefix(b"\r\n").partition(b"\r\n\r\n")
        name, value = _part(_text(head), content.removesuffix(b"\r\n"))
        given[name] = value
    raise violation("the multipart body is cut short")


def _part(head: str, content: bytes) -> tuple[str, str | Upload]:
    name = PART_NAME.search(head)
    if name is None:
        raise violation("a part of the multipart body has no name")
    file_name = FILE_NAME.search(head)
    if file_name is None:
        return name[1], _text(content)
    kind = re.search(r"content-type:\s*(\S+)", head, re.IGNORECASE)
    return name[1], Upload(file_name[1], content, kind[1] if kind else "application/octet-stream")
