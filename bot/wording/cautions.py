"""Words for cautions: a reminder, never a judgement; who decides is the school."""

from __future__ import annotations

from bot.classroom.cautions import allergens_of, other_contents, tags
from bot.wording.voice import listed
from storage.records import Bin, Roster

SCHOOL_DECIDES = "Your school's own plan, the nurse and local rules decide."
SMALL_PART = "1.25 in (31.7 mm)"  # across the cylinder of 16 CFR 1501.4

_REMINDERS: tuple[tuple[str, str], ...] = (
    ("small part", f"small parts, which fit a tube {SMALL_PART} wide: none in mouths"),
    ("small ball", f"small parts, which fit a tube {SMALL_PART} wide: none in mouths"),
    ("marble", "marbles: none in mouths"),
    ("sharp", "sharp points: an adult's eye"),
    ("magnet", "magnets: none in mouths, count them back in"),
    ("button cell", "button cells: keep them locked in, count them back in"),
    ("coin cell", "button cells: keep them locked in, count them back in"),
    ("button batter", "button cells: keep them locked in, count them back in"),
    ("balloon", "balloons: none in mouths, pick up broken pieces"),
    ("food", "food: not for eating"),
)


def reminder(roster: Roster, bin_: Bin) -> str | None:
    """One line on what to look out for at a bin, as the class folder has it; None if nothing."""
    parts = [f"contains {listed(list(allergens_of(roster, bin_)))}, not for eating"]
    parts = parts if allergens_of(roster, bin_) else []
    others = other_contents(roster, bin_)
    if others:
        parts.append(f"contains {listed(list(others))}")
    parts += [_in_words(tag) for tag in tags(bin_)]
    if not parts:
        return None
    return f"Mind: {'; '.join(dict.fromkeys(parts))}. {SCHOOL_DECIDES}"


def _in_words(tag: str) -> str:
    plain = tag.casefold()
    return next((words for sign, words in _REMINDERS if sign in plain), tag)
