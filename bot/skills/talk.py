"""Help, and friendly words."""

from __future__ import annotations

from bot.classroom.stints import out_on
from bot.outcomes import ANSWERED, Helped, Outcome, Smiled
from bot.requests import Help, Smalltalk
from bot.skills.skill import Situation, Skill
from bot.understanding.clause import Clause
from bot.understanding.reading import Listener
from bot.understanding.senses import Kind
from bot.understanding.vocabulary import first_name


def give_help(request: Help, now: Situation) -> Outcome:
    """Everything the bot can do, with texts to send as they stand in this class."""
    told = _words_here(now)
    skills = tuple(
        (theme, title, tuple(_in_these_words(example, told) for example in examples))
        for theme, title, examples in now.skills
    )
    return Helped(status=ANSWERED, skills=skills, theme=_theme(request, now))


def _theme(request: Help, now: Situation) -> str:
    """The first theme that is named by one of its words ("help with supplies"); else none."""
    themes = dict.fromkeys(theme for theme, *_ in now.skills)
    words = {_ALSO.get(word, word) for word in request.words}
    named = (theme for theme in themes if words & set(theme.casefold().replace(",", "").split()))
    return next(named, "")


_ALSO = {
    "log": "turns",
    "logging": "turns",
    "undo": "turns",
    "needs": "who",
    "planning": "plan",
    "rotations": "plan",
    "absent": "away",
    "absences": "away",
    "calendar": "school",
    "supply": "supplies",
    "restock": "supplies",
    "restocking": "supplies",
    "copies": "supplies",
    "copy": "supplies",
    "swap": "swaps",
    "swapping": "swaps",
    "bins": "swaps",
    "nudges": "messages",
    "summary": "messages",
}


def _hear_help(clause: Clause) -> Help | None:
    if clause.children or clause.bins:
        return None
    ordinary = {"with", "the", "and", "what", "help"}
    return Help(tuple(word for word in clause.words if word not in ordinary))


def _words_here(now: Situation) -> dict[str, str]:
    """Words of the examples that this class does not know -> words that it does."""
    children = [first_name(student) for student in now.roster.present_roster(now.today)]
    bins = [now.roster.bin_of(stint).name for stint in out_on(now.roster, now.today)]
    colors = [stint.color for stint in out_on(now.roster, now.today)]
    told: dict[str, str] = {}
    pieces = [s.item.split()[-1] for s in now.roster.supplies if s.kind == "piece"]
    used_up = [s.item.split()[-1] for s in now.roster.supplies if s.kind != "piece"]
    words = ((_CHILD, children), (_BINS, bins), (_COLOR, colors), (_PIECE, pieces))
    for asked, known in (*words, (_USED_UP, used_up)):
        here = {name.casefold() for name in known}
        spare = (name for name in known if name.casefold() not in {w.casefold() for w in asked})
        told |= {w: next(spare, w) for w in asked if w.casefold() not in here}
    return told


def _in_these_words(example: str, told: dict[str, str]) -> str:
    return " ".join(told.get(word, word) for word in example.split())


_PIECE, _USED_UP = ("bears",), ("dough",)
_CHILD, _BINS, _COLOR = ("Ruby",), ("balance", "ramps", "shadows", "magnets"), ("pink",)


def smile(request: Smalltalk, now: Situation) -> Outcome:
    """A short word back; nothing changes."""
    return Smiled(status=ANSWERED, kind=request.kind)


def _talk(kind: str) -> Listener:
    phrases = {
        "thanks": (
            "thanks",
            "thank you",
            "^ thx|ty|thanx|tysm|thankyou|gracias|merci",
            "^ appreciate",
        ),
        "hello": (
            "^ hi|hello|hey|hiya|morning|hola $",
            "^ good? morning|afternoon|evening $",
            "^ hi|hello|hey|good ... there|bot|morning|everyone|all $",
        ),
        "bye": ("^ bye|goodnight|night|goodbye $", "^ good night", "^ see you|ya", "^ have a"),
        "fine": (
            "^ ok|okay|k|kk|lol|haha|hah|ha|cool|great|nice|perfect|awesome|good|yay|"
            "wow|sure|super|sweet|alright|gotcha|yep|yup|yes|yeah|fine|right $",
            "^ got it",
            "^ good|nice|great job|work",
            "^ sounds good",
            "^ love it",
            "^ you are|re the|a? best",
            "^ youre|ur|your the|a|an|so? best|awesome|great|amazing|lifesaver|star|gem|good|sweet",
            "^ you rock|rocked|rule|rules|roll",
            "^ cool|ok|okay|yay|nice|great|good cool|ok|okay|yay|nice|great|good $",
            "^ all good|set|clear $",
            "^ sorry about? that? $",
            "^ tgif|phew|whew|woohoo|yikes|ugh|omg $",
            "^ happy <day>|holidays|thanksgiving|new|birthday|weekend",
            "^ whew|wow|phew|ugh|man? what a day|morning|week|afternoon",
            "^ lol|haha|hahaha|lmao",
            "^ no problem|worries",
        ),
        "no": (
            "^ no|nope|nah|neither|nvm|cancel|skip|stop|none $",
            "^ forget|drop|skip|cancel it|this $",
            "^ none|neither of? them|those|these|one $",
            "^ no one $",
            "^ nobody|noone else? $",
            "^ none $",
            "^ leave it $",
        ),
    }[kind]
    smiles = _is_only_emoji if kind == "fine" else None
    return Listener(phrases, lambda clause: _hear(kind, clause), notices=smiles)


def _is_only_emoji(clause: Clause) -> bool:
    """ "👍": nothing but pictures that mean nothing else."""
    said = [item for item in clause.items if item.kind not in (Kind.STOP, Kind.MARK)]
    return (
        bool(said)
        and all(i.kind is Kind.PLAIN and not i.text.isalnum() for i in said)
        and (not any(letter.isalnum() for item in said for letter in item.text))
    )


def _hear(kind: str, clause: Clause) -> Smalltalk | None:
    return None if clause.children or clause.bins else Smalltalk(kind)


HELP = Skill(
    name="help",
    title="See what can be texted",
    examples=("help",),
    listeners=(
        Listener(("^ help",), _hear_help, rank=3),  # "help who needs what"
        Listener(
            (
                "^ start $",
                "^ menu|commands $",
                "what can|could you|i|this",
                "what do|can i say|text|type|write",
                "how do|does|can i|this|it|you ... work|use|do|log|text|undo",
                "^ need help $",
                "^ i|we? need help $",
                "^ can|could|will you help me|us? $",
                "what else can you|i",
                "^ im|i am? so? confused|lost $",
                "^ instructions|options|features $",
                "^ who|what are you $",
                "^ are you a|an? robot|bot|human|person|real|ai|machine|computer $",
            ),
            _hear_help,
        ),
    ),
    acts=((Help, give_help),),
)

SMALLTALK = Skill(
    name="smalltalk",
    title="A friendly word",
    examples=("thanks!",),
    listeners=tuple(_talk(kind) for kind in ("thanks", "hello", "bye", "fine", "no")),
    acts=((Smalltalk, smile),),
)
