"""Words at the messaging platform's edge: fixed replies, and lines for whoever runs the bot."""

from __future__ import annotations

STRANGER = "I only talk with people who were invited. If you were given a code, send it to me."
SORRY = "Sorry, I could not deal with that message, so nothing was changed."
OLD_BUTTON = "That button no longer works. Please text it instead."

NO_TOKEN = "No token is set. Put the bot's token into TUBTALLY_TOKEN."
BAD_TOKEN = (
    "The server does not accept the token in TUBTALLY_TOKEN. Check it with whoever gave you the "
    "token, and TUBTALLY_API_URL if that is set."
)
RUNNING = "The bot is running as @%s. Ctrl-C stops it."
STOPPED = "Stopped. Nothing was lost."
UNREACHABLE = "The server cannot be reached (%s). Trying again; nothing is lost."
CONFLICT = (
    "Another program is asking for this bot's messages (is the bot running twice?), or a webhook "
    "is set. Trying again; nothing is lost."
)
REFUSED = "The server does not answer as it should (%s). Trying again; nothing is lost."
BACK = "The server answers again."
DATABASE_TROUBLE = "The database cannot be used just now (%s). Trying again; nothing is lost."
DATABASE_BACK = "The database can be used again."
DEAD = "Update %d could not be handled (%s). It is kept; the bot goes on."
DEAD_KEPT = "%d updates that could not be handled are kept in the database."
BEHIND = "%d updates from before are handled first."
UNSENT = "%d replies from before are sent first."
NUDGES_TROUBLE = "What is due could not be sent unasked (%s). Trying again."
BROKEN = "A mistake in this program stopped the bot (%s). Nothing was lost; start it again."
SEND_TROUBLE = "Reply %d could not be sent yet (%s). Trying again."
FILE_TROUBLE = "The file of update %d could not be fetched yet (%s). Trying again."
FILE_LOST = "The file of update %d could not be fetched (%s); its sender is told."
SEND_FAILED = "Reply %d was refused for good (%s)."


def joined(class_name: str) -> str:
    """Said to somebody whose code was right."""
    return (
        f"Welcome to {class_name}. Text me who was at which bin, as you would a colleague: "
        "“g2 finished ramps”. “help” shows more."
    )
