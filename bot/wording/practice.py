"""Words for the practice chat."""

from __future__ import annotations

from bot.wording.voice import Reply

GOODBYE = "Bye. What you texted here is kept for next time."


def welcome(class_name: str, path: str) -> str:
    """What is on the screen at the start."""
    return (
        f"Practice chat with {class_name}, an invented class. Nothing here is real.\n"
        f"Kept in {path}\n"
        "Text as from your phone: “g2 finished ramps”, “who still needs ramps”, “help”.\n"
        "A number presses a button; “file PATH” sends a calendar file; quit ends it."
    )


def numbered(reply: Reply) -> str:
    """A reply with its buttons by number."""
    lines = [reply.text]
    if reply.choices:
        lines.append(
            "  ".join(f"[{n}] {choice.label}" for n, choice in enumerate(reply.choices, start=1))
        )
    return "\n".join([*lines, *reply.attachments])


def no_file(reason: str) -> str:
    """A file that is not there to be sent."""
    return f"That file cannot be read ({reason}), so nothing was sent."
