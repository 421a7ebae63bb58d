"""Words for help, small talk, and texts that were not understood."""

from __future__ import annotations

from bot.outcomes import Helped, Smiled, Unclear
from bot.requests import Option
from bot.wording.voice import Reply, Voice

PRIVACY = (
    "Names and turns are kept in this bot's own database; the chat itself is not end-to-end "
    "encrypted. Deleting a message on your phone tells me nothing: text undo instead."
)
_SMILES = {
    "thanks": "Any time.",
    "hello": "Hello! Text me who was at which bin, or ask who still needs one.",
    "bye": "Till next time.",
    "fine": "👍",
    "no": "All right, nothing changed.",
}
_NOT_TEXT = {
    "sticker": "I only read text. Nothing changed.",
    "other": "I can't read that kind of message; of files I read calendars (.ics). "
    "Nothing changed.",
    "empty": "That was an empty text. Nothing changed.",
    "long": "That is more than I can take in at once. Nothing changed.",
}


def helped(outcome: Helped, voice: Voice, entry_id: int) -> Reply:
    """Everything the bot can do, each with a text to send: a line a theme, or one theme in full."""
    themes: dict[str, list[tuple[str, str]]] = {}
    for theme, title, examples in outcome.skills:
        themes.setdefault(theme, []).append((title, examples[0]))
    choices = tuple(Option(theme, f"help {theme.casefold()}") for theme in themes)
    if outcome.theme:
        told = [f"• {title}: “{example}”" for title, example in themes[outcome.theme]]
        return Reply("\n".join([f"{outcome.theme}:", *told]), (Option("All of it", "help"),))
    lines = [
        f"{theme}: {', '.join(f'“{example}”' for _, example in told)}"
        for theme, told in themes.items()
    ]
    return Reply("\n".join(["Text me like a colleague.", *lines, PRIVACY]), choices)


def smiled(outcome: Smiled, voice: Voice, entry_id: int) -> Reply:
    """A friendly word."""
    return Reply(_SMILES[outcome.kind])


def unclear(outcome: Unclear, voice: Voice, entry_id: int) -> Reply:
    """Not understood; nothing changed; what would have been."""
    if outcome.kind in _NOT_TEXT:
        return Reply(_NOT_TEXT[outcome.kind])
    offers = "\n".join(f"• {offer}" for offer in outcome.offers)
    return Reply(f"I did not get that, so nothing changed. You can text:\n{offers}")
