"""Words for questions back."""

from __future__ import annotations

from bot.outcomes import Question
from bot.wording.supplies import supply_question
from bot.wording.voice import Reply, Voice


def question(outcome: Question, voice: Voice, entry_id: int) -> Reply:
    """What is unclear, with a button for each way out."""
    ask = outcome.ask
    words = ask.words.strip(" ,.:;")
    texts = {
        "which_child": f"Who is meant by “{words}”?",
        "which_bin": f"Which bin is meant by “{words}”?" if words else "Which bin was that?",
        "which_group": f"Who was at {words}?",
        "which_who": f"Which was it: {words}?",
        "which_part": f"Who of {words}? Tap or text the names.",
        "which_rest": "Who is the rest? Text the names or the groups.",
        "unknown_name": f"I don't know “{words}” in this class. Who is meant?",
        "unknown_group": f"There is no {words}. Which group?",
        "take_back": "A turn is on record there. Shall I take it back?",
        "instead": f"{words}: instead of the turn you just logged, or as well?",
        "which_log": f"In the place of whom is {words}?",
        "what_instead": "What should it be? Text what is right, as in “group 4” or “not Mia”.",
        "which_meaning": f"How is “{words}” meant?",
        "was_with_them": f"Was {words} with them?",
        "as_planned": "Shall I log this?",
        "where_planned": f"Was {words} where the plan says?",
        "planned_except": "Who was not where the plan says? Text for example “as planned except "
        "ruby”.",
        "when": ask.words,
        "tidied_or_down": f"Is {words} to be taken down, so that nobody goes there any more?",
        "till_when": f"{words}: till when?",
        "day_to_come": "Which day is meant?",
        "confirm_swap": "I am not sure I read that right. Shall I do this?",
        "confirm": f"I am not sure about “{words}”. Shall I log this?"
        if words
        else "I am not sure I read that right. Shall I log this?",
    }
    text = texts.get(ask.about) or supply_question(ask.about, words)
    if (
        ask.about in ("confirm", "as_planned", "confirm_swap", "take_back", "confirm_supply")
        and ask.options
        and voice.may_say(ask.options[0].send)
    ):
        text = f"{text}\n{ask.options[0].send}"
    return Reply(text, ask.options)
