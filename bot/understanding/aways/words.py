"""Words for being away, and what turns them round."""

from __future__ import annotations

from bot.understanding.clause import Clause
from bot.understanding.senses import Kind

GONE = (
    "out|absent|away|sick|gone|home|ill|unwell|hospitalized|traveling|travelling|ooo|oot|oos|"
    "quarantined|quarantining|awol"
)
ILLNESS = (
    "fever|flu|covid|cold|strep|pox|lice|bug|virus|rash|bronchitis|pneumonia|pinkeye|stomachache|"
    "bellyache|headache|migraine|earache|chickenpox|infection|temperature|cough|croup|puking|"
    "vomiting|throwing|surgery|hives|asthma|mono|concussion|broken|sprained"
)
MILD = frozenset((
    "cold", "cough", "headache", "rash", "bug", "temperature", "stomachache", "bellyache",
    "earache", "broken", "sprained", "infection", "asthma", "migraine", "hives", "throwing",
))  # fmt: skip
"""Illnesses that many children come to school with."""
SERVICE = (
    "speech|ot|pt|reading|resource|counselor|counselors|counseling|therapy|esl|ell|eld|enl|"
    "intervention|rti|gifted|slp|tutoring|interventionist"
)
ERRAND = (
    "dentist|dentists|doctor|doctors|dr|drs|orthodontist|orthodontists|ortho|appointment|appointments|"
    "appt|appts|appointmnt|allergist|pediatrician|clinic|xray|checkup|physical|funeral|court|"
    "passport|iep|evaluation|eval|assessment|interview|therapist|psychologist"
)
NEARBY = "nurse|nurses|office|principal|principals|clinic"
RELATIVE = (
    "mom|moms|mum|mama|mother|dad|dads|daddy|father|parent|parents|grandma|grandmother|grandpa|"
    "grandfather|grandparents|nana|aunt|auntie|uncle|family|sister|brother|nanny|sitter|babysitter|"
    "stepmom|stepdad|guardian|folks"
)
FILL = (
    "is|are|was|were|r|s|be|been|being|will|ll|has|have|had|hes|shes|theyre|itll|hell|shell|"
    "theyll|she|he|they|also|all|both|too|still|just|now|again|only|definitely|unfortunately|"
    "currently|already|actually|gonna|going|to|it|looks|like|<day>|<time>|please|sadly|really|"
    "feeling|felt|feels|got|gets|getting|a|an|the|bit|little|as|ended|up|turns|officially|marked|"
    "probably|prob|maybe|might|think|ill|sick|would|so|and|then|threw|throwing|puked|vomited|up|-|–"
)
"""What may stand between a child and a word for being away without making it another's."""
SERVICES = frozenset((*SERVICE.split("|"), "pulled"))
ERRANDS = frozenset(ERRAND.split("|"))
PAST = frozenset(("was", "were", "been", "yesterday", "missed", "didnt"))
_NOT = frozenset(("not", "isnt", "arent", "wasnt", "werent", "never", "aint", "nobody", "noone"))
_UNSURE = frozenset((
    "think", "maybe", "probably", "prob", "probs", "perhaps", "guess", "possibly", "unsure",
    "dunno", "believe", "assume", "might", "suppose", "idk", "thinking", "assuming", "suspect",
    "apparently", "wonder", "doubt", "unclear",
))  # fmt: skip
_IF = frozenset((
    "if", "whenever", "unless", "whether", "supposed", "wish", "wishes", "hopefully", "pretend",
    "imagine", "would", "wouldve", "should", "shouldve", "suppose", "case", "almost", "nearly",
    "could", "when", "used", "usually", "always", "never", "sometimes", "often", "jk", "kidding",
    "joking", "joke", "anymore", "longer", "pretending", "dreamed", "dreamt", "story",
))  # fmt: skip
_IF_PHRASES = (
    "not sure", "no idea", "who knows", "should be", "should get", "should arrive", "i should",
)  # fmt: skip


BEHIND = frozenset((
    "<day>", "<time>", "today", "sick", "ill", "all", "the", "rest", "for", "with", "w", "because",
    "bc", "cause", "cuz", "due", "at", "on", "until", "till", "til", "through", "thru", "from",
    "starting", "since", "this", "next", "again", "too", "also", "both", "and", "please", "pls",
    "now", "still", "in", "after", "before", "every", "of", "a", "her", "his", "he", "she", "they",
    "shes", "hes", "so", "as", "per", "mom", "dad", "tomorrow", "thanks", "ty", "traveling",
    "visiting", "going", "early", "around", "by", "most", "half", "back", "poor", "says", "said",
    "but", "or", "between", "sorry", "fyi", "then", "just", "got", "dr", "field", "trip",
    "vacation", "family", "stomach", "possibly", "maybe", "has", "have", "is", "are", "was", "one",
    "be", "here", "two", "three", "should", "will", "wont", "shell", "hell", "bus", "about",
    "longer", "indefinitely", "daily", "plan", "their", "school", *ERRANDS, *ILLNESS.split("|"),
    *SERVICES,
))  # fmt: skip
"""Words behind "mia is out" that leave it what it is; behind any other it is asked."""


def said_words(clause: Clause) -> frozenset[str]:
    """The words of a clause that are no child's name: "will", "hope" and "may" may be."""
    return frozenset(
        key
        for item in clause.items
        if item.kind not in (Kind.STUDENT, Kind.PLAIN)
        for key in (*item.keys, item.word)
    )


def is_unsure(clause: Clause) -> bool:
    """ "i think mia is out", "not sure if": to be asked."""
    said = said_words(clause)
    if said & {"feel", "feels", "feeling", "felt"} and "better" not in said:
        return True
    weekly = "every" in said and "other" in said
    months = any(f"in {month}" in " ".join(clause.words) for month in _MONTHS)
    return bool(said & _UNSURE) or "not sure" in clause.outline or weekly or months


_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december",
)  # fmt: skip


def is_only_thought_of(clause: Clause) -> bool:
    """ "if mia is out", "i wish she were away", "mia is usually late": nothing told of a day."""
    words = said_words(clause)
    thought = words & _IF
    if thought == {"should"}:
        return not any(said in clause.outline for said in _IF_PHRASES)
    return bool(thought)


def denies(words: str) -> bool:
    """Whether these words deny what they say: "isnt out", "never absent"."""
    return bool(set(words.split()) & _NOT)


REASONS = tuple(
    dict.fromkeys(
        ("sick", "trip", "vacation", *"|".join((SERVICE, ERRAND, NEARBY, ILLNESS)).split("|"))
    )
)


def reason_of(clause: Clause) -> str:
    """What keeps the children away, in a word; empty where it is not said."""
    words = clause.word_set
    return next((word for word in REASONS if word in words), "")
