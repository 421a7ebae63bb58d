"""A letter in the platform's shape: text that fits one message, buttons that fit a phone."""

from __future__ import annotations

from collections.abc import Sequence

from telegram import InlineKeyboardButton, InlineKeyboardMarkup
from telegram.constants import MessageLimit

LONGEST_TEXT = int(MessageLimit.MAX_TEXT_LENGTH)
_LONGEST_LABEL = 40
_MOST_BUTTONS = 30
_MOST_IN_ROW = 3
_ROW_WIDTH = 28  # characters of labels that one row of a phone shows whole
_CUT = "…"


def fitted(text: str, most: int = LONGEST_TEXT) -> str:
    """The text, cut at the end of a line (or where it must) with an ellipsis if it is longer.

    Counted in UTF-16 units, of which a character has one or two: never more than allowed.
    """
    if _units(text) <= most:
        return text if text.strip() else _CUT
    head = text.encode("utf-16-le", "replace")[: 2 * (most - 2)].decode("utf-16-le", "ignore")
    line_end = head.rfind("\n")
    return f"{head[:line_end]}\n{_CUT}" if line_end > 0 else head + _CUT


def keyboard(letter_id: int, labels: Sequence[str]) -> InlineKeyboardMarkup | None:
    """Buttons in rows of one to three; each says which letter's which choice it is."""
    rows: list[list[InlineKeyboardButton]] = []
    width = 0
    for place, label in enumerate(labels[:_MOST_BUTTONS]):
        shown = label if len(label) <= _LONGEST_LABEL else label[: _LONGEST_LABEL - 1] + _CUT
        button = InlineKeyboardButton(
            shown if shown.strip() else _CUT, callback_data=f"b:{letter_id}:{place}"
        )
        if rows and len(rows[-1]) < _MOST_IN_ROW and width + len(shown) <= _ROW_WIDTH:
            rows[-1].append(button)
            width += len(shown)
        else:
            rows.append([button])
            width = len(shown)
    return InlineKeyboardMarkup(rows) if rows else None


def _units(text: str) -> int:
    return len(text) if text.isascii() else len(text.encode("utf-16-le", "replace")) // 2
