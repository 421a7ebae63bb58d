"""Questions about supplies: what is short, how many there are, and why."""

from __future__ import annotations

import re
from datetime import date, timedelta

from bot.classroom.restocking import end_of_next_week
from bot.requests import AskRestock, Request, WhySupply
from bot.understanding.clause import Clause, finds
from bot.understanding.days import EITHER
from bot.understanding.senses import Kind
from bot.understanding.supplies.kit import GENERIC
from bot.understanding.supplies.signs import Is, Sign
from bot.understanding.supplies.words import signs_of

_DO = (
    "copy|copied|copying|restock|restocking|restocked|buy|buying|bought|order|print|printing|"
    "refill|refilled|replace|replenish|purchase|photocopy|reorder|resupply"
)
_LIST = (
    f"what|which|whats|anything|something ... {_DO}",
    f"need|needs|have|got|supposed|should to? be? {_DO} anything|what|something|today|<day>",
    f"do|should|must i|we need|have? to? {_DO}",
    "short|low|out of|on anything|something|what|stuff|supplies|materials",
    "what|anything|whats|something ... short|low|running",
    "are|is we|i|anything|something ... short|low|out",
    "we|i short|low of|on",
    "running low|out",
    "enough supplies|materials|stuff|copies|everything",
    "how|whats|what ... supplies|stock|inventory",
    "need|needs restocking|copying|refilling|reordering",
    "how many|much copies|sheets",
    "need|needs copies|sheets|supplies",
    "copies|sheets|supplies|materials needed|due|required",
    "make|making|made any|more|some? copies",
    "what|whats|anything|something ... ... get|pick|grab ... store|shop|up|supplies",
    "what|whats|anything ... pick|get up|from|at ... store|shop|market",
    "what|anything do|should|must i|we need|have? to? pick|get up",
    "have|got enough for|to|until|till|through",
    "have|got enough $",
)
_NAMED_LISTS = (
    "shopping|copy|copying|copies|restock|restocking|supply|supplies|buy|buying|order|grocery list",
    "to copy|buy list",
    "list of? supplies|copies|shopping|materials",
    "^ copies|copying|restock|restocking|shopping|supplies|prints|printing for? <day>",
    "^ copies|copying|restock|restocking|shopping|supplies|printing for next|this|the week",
    "^ supplies|supply|stock|inventory status|report|check|levels|update",
    "^ supplies|restock|inventory|stock|copies $",
    "^ check|show|see|give|list my|the|our|me? supplies|supply|stock|inventory|restock|copies",
)
_OF_ITEM = (
    "how many|much more|of? the|our|those|my|extra? <item>",
    "how many|much ... <item> ... left|have|need|copy|make|buy|print|order|are",
    "howmany <item>",
    "enough ... <item>",
    "any|no more? <item>",
    "<item> enough|short|low|count|stock|status",
    f"{_DO} ... <item>",
    "short|low|out of|on ... <item>",
    "run|ran|running out ... <item>",
    "<item> run|running out",
    "need|needs more|any|new <item>",
    "count|number of the? <item>",
    "status|level|stock of|on|for <item>",
    "^ will the|our? <item> last|do|hold|reach",
)
_SURE_ITEM = (*_OF_ITEM, "<item> left|remaining|lasting|last", "^ <item> $", "<item>")
_WONDERS = (
    "tell|know|check|see|say|sure|remember|wondering|wonder|figure ... how|whether|if",
    "tell me|us how",
)
_OF_BIN = (
    "what|whats|anything ... need|needs|buy|get|copy|short|low|left for|in|at|of? the? <bin>",
    "what|which supplies|materials|things|stuff does|do|is|are the? <bin>",
    "^ the? <bin> supplies|supply|kit|materials|stock $",
    "supplies|materials|stuff|copies for|in the? <bin>",
    "does|do|is|are|has the? <bin> ... enough|everything|stocked|short|low",
)
_AUX = frozenset(("is", "are", "do", "does", "will", "r"))
_CHILDREN = frozenset((
    "kids", "kid", "children", "child", "students", "student", "friends", "group", "groups",
    "everyone", "everybody", "anyone", "anybody", "someone", "people", "class",
))  # fmt: skip
_OPENS = re.compile(r"(?:does|do|will)\b|(?:is|are|has|have)\b.*\benough\b")
_WHY = ("why", "how come", "explain", "where does|do|did", "how did you")


def hear_question(clause: Clause) -> Request | None:
    """A question about supplies: the list, certain ones, or why; None where it is about others."""
    signs = signs_of(clause)
    if _names_child(clause, signs) or _opens_with_who(signs):
        return None
    outline = _outline(signs)
    supplies = _supplies(clause, signs)
    if finds(outline, _NAMED_LISTS) and not _counts(signs):
        return AskRestock(_in_bins(clause, signs), _until(clause, signs))
    if supplies and finds(outline, _WHY) and clause.is_question:
        return WhySupply(supplies)
    if supplies and _asks_of_item(clause, signs, outline):
        return AskRestock(supplies, _until(clause, signs))
    of_bin = clause.is_question and not clause.word_set & _CHILDREN
    if of_bin and finds(_outline(signs, bins_first=True), _OF_BIN):
        return AskRestock(_in_bins(clause, signs), _until(clause, signs))
    if not supplies and finds(outline, _LIST) and _is_asking(clause, outline):
        return AskRestock(_in_bins(clause, signs), _until(clause, signs))
    return None


def _counts(signs: tuple[Sign, ...]) -> bool:
    """ "inventory check: mallets 5, shells 14": told, not asked."""
    return {Is.AMOUNT, Is.ITEM} <= {sign.what for sign in signs}


def wonders(clause: Clause, signs: tuple[Sign, ...]) -> bool:
    """ "can you tell me how many are left", "are balloons low"."""
    said = [s for s in signs if s.key not in ("the", "our", "any", "so", "ok", "hey")][:2]
    opens = len(said) > 1 and said[0].key in _AUX and said[1].what in (Is.ITEM, Is.BIN)
    return opens or finds(" ".join(clause.words), _WONDERS) > 0


def _names_child(clause: Clause, signs: tuple[Sign, ...]) -> bool:
    """Whether a child or a group is named; "enough for everyone" names none."""
    all_ = {i.text.casefold() for i in clause.items if i.kind in (Kind.EVERYONE, Kind.REST)}
    named = [s for s in signs if s.what is Is.WHO and s.text.casefold() not in all_]
    return any(not _is_aux(signs, sign) for sign in named)


def _is_aux(signs: tuple[Sign, ...], sign: Sign) -> bool:
    """ "will the string last", where a child is called Will."""
    return sign.key == "will" and sign is signs[0]


def _asks_of_item(clause: Clause, signs: tuple[Sign, ...], outline: str) -> bool:
    if not clause.is_question and not wonders(clause, signs) and not _OPENS.match(outline):
        return bool(finds(outline, ("how many|much ... <item>", "do|are we ... enough ... <item>")))
    sure = all(not _is_place_too(clause, sign) for sign in signs if sign.what is Is.ITEM)
    return finds(outline, _SURE_ITEM if sure else _OF_ITEM) > 0


def _is_place_too(clause: Clause, sign: Sign) -> bool:
    return any(
        item.text.casefold() == sign.text.casefold() and item.can_be(Kind.BIN, Kind.COLOR)
        for item in clause.items
    )


def _is_asking(clause: Clause, outline: str) -> bool:
    return clause.is_question or bool({"anything", "what", "something"} & set(outline.split()))


def _opens_with_who(signs: tuple[Sign, ...]) -> bool:
    return bool(signs) and signs[0].key in ("who", "whos", "whose", "whom")


def _outline(signs: tuple[Sign, ...], *, bins_first: bool = False) -> str:
    told = {Is.ITEM: "<item>", Is.BIN: "<bin>", Is.DAY: "<day>"}
    words = [
        "<bin>"
        if bins_first and sign.is_also_bin
        else sign.key
        if sign.how == GENERIC and sign.key == "copies"
        else told.get(sign.what, sign.key)
        for sign in signs
    ]
    return " ".join(word for word in words if any(c.isalnum() for c in word))


def _supplies(clause: Clause, signs: tuple[Sign, ...]) -> tuple[int, ...]:
    """The supplies named, within the bins named (or spoken of before, where that leaves any)."""
    named = {i for sign in signs if sign.what is Is.ITEM for i in sign.ids}
    bins = {i for sign in signs if sign.what is Is.BIN for i in sign.bins}
    spoken = {place.bin_id for place in clause.spoken_of}
    roster = clause.roster
    found = [s for s in roster.supplies if s.id in named]
    if not bins and all(s.how == GENERIC for s in signs if s.what is Is.ITEM):
        return () if any(s.key == "copies" for s in signs) else tuple(s.id for s in found)
    if bins:
        within = [s for s in found if s.bin_id in bins]
        if not within and named:
            within = [s for s in roster.supplies if s.bin_id in bins and s.kind != "piece"]
        found = within
    elif spoken and any(s.bin_id in spoken for s in found):
        found = [s for s in found if s.bin_id in spoken]
    return tuple(s.id for s in found)


def _in_bins(clause: Clause, signs: tuple[Sign, ...]) -> tuple[int, ...]:
    """ "what do i need for ramps": every supply of the bins named."""
    bins = {i for sign in signs if sign.what is Is.BIN or sign.is_also_bin for i in sign.bins}
    return tuple(s.id for s in clause.roster.supplies if s.bin_id in bins)


def _until(clause: Clause, signs: tuple[Sign, ...]) -> date | None:
    """The day by which: "for thursday" the coming one, "for next week" the end of it."""
    today = clause.at.date()
    words = " ".join(sign.key for sign in signs)
    if "next week" in words:
        return end_of_next_week(today)
    if "this week" in words or "the week" in words:
        return today + timedelta(days=6 - today.weekday())
    for item in clause.items:
        day = item.sense.value
        if item.kind is Kind.DAY and isinstance(day, date):
            return day + timedelta(days=7) if item.sense.word == EITHER and day < today else day
    return None
