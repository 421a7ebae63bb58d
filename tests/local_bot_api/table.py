"""The published table of methods and types, and the check of a call's parameters against it."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.local_bot_api.refusals import violation

INTEGER = re.compile(r"-?\d{1,19}")
BOOLEANS = {"true": True, "false": False, "1": True, "0": False}


@dataclass(frozen=True, slots=True)
class Upload:
    """One file part of a multipart call."""

    name: str
    content: bytes
    content_type: str


@dataclass(frozen=True, slots=True)
class Field:
    """One parameter: its accepted types, and the fixed value it must have, if any."""

    types: tuple[str, ...]
    required: bool
    must_be: str | None = None


Fields = dict[str, Field]


def _load(part: Mapping[str, Any]) -> dict[str, Fields]:
    return {
        name: {
            key: Field(tuple(f["types"]), f["required"], f.get("must_be"))
            for key, f in fields.items()
        }
        for name, fields in part.items()
    }


_TABLE = json.loads(Path(__file__).with_name("methods.json").read_text(encoding="utf-8"))
METHODS = _load(_TABLE["methods"])
TYPES = _load(_TABLE["types"])
UNIONS: dict[str, list[str]] = _TABLE["unions"]
UPDATE_KINDS: frozenset[str] = frozenset(_TABLE["update_kinds"])
BY_LOWER_NAME = {name.lower(): name for name in METHODS}


def checked(method: str, given: Mapping[str, Any]) -> dict[str, Any]:
    """Turn raw parameters (form strings, JSON values, uploads) into typed values.

    Raises Refused for an unknown or missing parameter and for a value of a wrong type.
    """
    fields = METHODS[method]
    for name, raw in given.items():
        if name not in fields and not (isinstance(raw, Upload) and _is_attached(name, given)):
            raise violation(f"{method} has no parameter {name!r}")
    typed = {}
    for name, field in fields.items():
        if name in given:
            typed[name] = _value(f"{method}.{name}", given[name], field)
        elif field.required:
            raise violation(f"{method}: parameter {name!r} is required")
    return typed


def _is_attached(name: str, given: Mapping[str, Any]) -> bool:
    return any(f"attach://{name}" in raw for raw in given.values() if isinstance(raw, str))


def _value(where: str, raw: Any, field: Field) -> Any:
    for kind in field.types:
        ok, value = _read(where, raw, kind, is_only=len(field.types) == 1)
        if ok:
            if field.must_be is not None and value != field.must_be:
                break
            return value
    accepted = field.must_be or " or ".join(field.types)
    raise violation(f"{where} must be {accepted}, not {_shown(raw)}")


def _read(where: str, raw: Any, kind: str, *, is_only: bool) -> tuple[bool, Any]:
    if kind == "String":
        return isinstance(raw, str), raw
    if kind == "InputFile":
        return isinstance(raw, Upload), raw
    if kind in ("Integer", "Float", "Boolean", "True"):
        return _read_basic(raw, kind)
    if isinstance(raw, str):
        try:
            raw = json.loads(raw)
        except ValueError:
            raise violation(f"can't parse {where} as JSON") from None
    return _read_structure(where, raw, kind, is_only=is_only)


def _read_basic(raw: Any, kind: str) -> tuple[bool, Any]:
    if kind == "Integer":
        if isinstance(raw, str) and INTEGER.fullmatch(raw):
            return True, int(raw)
        return isinstance(raw, int) and not isinstance(raw, bool), raw
    if kind == "Float":
        try:
            return not isinstance(raw, bool), float(raw)
        except (TypeError, ValueError):
            return False, raw
    value = BOOLEANS.get(raw.lower()) if isinstance(raw, str) else raw
    return isinstance(value, bool) and (kind == "Boolean" or value is True), value


def _read_structure(where: str, raw: Any, kind: str, *, is_only: bool) -> tuple[bool, Any]:
    if kind.startswith("Array of "):
        return _read_array(where, raw, kind.removeprefix("Array of "), is_only=is_only)
    if not isinstance(raw, dict):
        return False, raw
    if kind in UNIONS:
        kind = _member(where, raw, UNIONS[kind])
    fields = TYPES[kind]
    if not is_only and (raw.keys() - fields.keys() or not _has_required(raw, fields)):
        return False, raw
    return True, _read_object(where, raw, kind)


def _read_array(where: str, raw: Any, item: str, *, is_only: bool) -> tuple[bool, Any]:
    if not isinstance(raw, list):
        return False, raw
    values = []
    for index, element in enumerate(raw):
        ok, value = _read_native(f"{where}[{index}]", element, item, is_only=is_only)
        if not ok:
            if is_only:
                raise violation(f"{where}[{index}] must be {item}, not {_shown(element)}")
            return False, raw
        values.append(value)
    return True, values


def _read_native(where: str, raw: Any, kind: str, *, is_only: bool) -> tuple[bool, Any]:
    """Inside JSON a structure is a structure: no JSON hidden in a string."""
    if isinstance(raw, str) and kind not in ("String", "Integer", "Float", "Boolean", "True"):
        return False, raw
    return _read(where, raw, kind, is_only=is_only)


def _read_object(where: str, raw: dict[str, Any], kind: str) -> dict[str, Any]:
    fields = TYPES[kind]
    for name in raw:
        if name not in fields:
            raise violation(f"{where}: {kind} has no field {name!r}")
    typed = {}
    for name, field in fields.items():
        if name in raw:
            nested = raw[name]
            if isinstance(nested, str) and not _takes_text(field):
                raise violation(f"{where}.{name} must be {field.types[0]}, not {_shown(nested)}")
            typed[name] = _value(f"{where}.{name}", nested, field)
        elif field.required:
            raise violation(f"{where}: {kind} needs {name!r}")
    return typed


def _takes_text(field: Field) -> bool:
    return bool({"String", "Integer", "Float", "Boolean", "True"} & set(field.types))


def _has_required(raw: dict[str, Any], fields: Fields) -> bool:
    return all(
        name in raw and field.must_be in (None, raw[name])
        for name, field in fields.items()
        if field.required
    )


def _member(where: str, raw: dict[str, Any], subtypes: list[str]) -> str:
    for kind in subtypes:
        if "type" in TYPES[kind] and TYPES[kind]["type"].must_be == raw.get("type"):
            return kind
    raise violation(f"{where} has an unknown type {_shown(raw.get('type'))}")


def _shown(raw: Any) -> str:
    text = "a file" if isinstance(raw, Upload) else repr(raw)
    return text if len(text) <= 60 else text[:57] + "..."
