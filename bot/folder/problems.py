"""What can be wrong with a class folder, as data; `bot.wording.folder` puts it into words."""

from dataclasses import dataclass
from enum import Enum, auto


class Kind(Enum):
    """One kind of mistake each; the comment groups say which step finds them."""

    # the folder and its files
    FOLDER_MISSING = auto()
    FILE_MISSING = auto()
    FILE_MISSPELLED = auto()
    FILE_TWICE = auto()
    FILE_TOO_BIG = auto()
    FILE_UNREADABLE = auto()
    FILE_NEEDED = auto()
    # the text of one file
    NOT_UTF8 = auto()
    NOT_TEXT = auto()
    BAD_QUOTES = auto()
    NO_HEADER = auto()
    NO_ROWS = auto()
    TOO_MANY_ROWS = auto()
    COLUMN_UNKNOWN = auto()
    COLUMN_TWICE = auto()
    COLUMN_MISSING = auto()
    COLUMN_UNNAMED = auto()
    ROW_TOO_LONG = auto()
    # one cell
    CELL_BLANK = auto()
    CELL_TOO_LONG = auto()
    NOT_A_DATE = auto()
    NOT_A_TIME = auto()
    NIGHT_TIME = auto()
    NOT_A_NUMBER = auto()
    OUT_OF_RANGE = auto()
    NOT_A_CHOICE = auto()
    NOT_A_WEEKDAY = auto()
    NOT_A_ZONE = auto()
    # several cells or files together
    TWICE = auto()
    UNKNOWN_STUDENT = auto()
    UNKNOWN_BIN = auto()
    UNKNOWN_UNIT = auto()
    APART_FROM_SELF = auto()
    ENDS_BEFORE = auto()
    HOURS_BACKWARDS = auto()
    AWAY_WITHOUT_TIME = auto()
    COLOR_WITHOUT_DAY = auto()
    DAY_WITHOUT_COLOR = auto()
    STINTS_OVERLAP = auto()
    COLOR_TAKEN = auto()
    NO_SCHOOL_DAY = auto()
    FACTS_DISAGREE = auto()
    STATION_IS_BIN = auto()
    ROTATIONS_OVERLAP = auto()
    ROTATION_OFF_DAY = auto()
    PAST_MIDNIGHT = auto()
    NOT_OUT = auto()
    NOT_ON_ROSTER = auto()
    # the calendar
    NOT_A_CALENDAR = auto()
    EVENT_UNREADABLE = auto()
    EVENT_TOO_LONG = auto()
    REPEATS_TOO_OFTEN = auto()
    TOO_MANY_EVENTS = auto()


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: where it is, what was found there, what is accepted instead.

    `line` counts from 1 with the header; `other_line` is the line of the file that it clashes with.
    """

    file: str
    kind: Kind
    line: int | None = None
    column: str | None = None
    found: str = ""
    accepted: tuple[str, ...] = ()
    nearest: str = ""
    other_line: int | None = None


@dataclass(frozen=True, slots=True)
class Problems:
    """Everything that is wrong with a folder, by file and line."""

    listed: tuple[Problem, ...]
