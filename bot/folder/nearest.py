"""When two names are the same name, and which known one is nearest to an unknown one."""

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rapidfuzz import fuzz, process

_UNSAID = str.maketrans({"'": None, "\u2019": None, ".": None, ",": None, "-": " ", "_": " "})
NEAR_ENOUGH = 60.0


def fold(text: str) -> str:
    """Lower case without accents, apostrophes, points, hyphens: equal for spellings of one name."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in parts if not unicodedata.combining(sign))
    return " ".join(bare.translate(_UNSAID).split()) or text.casefold()


def nearest_of(text: str, known: Iterable[str], *, cutoff: float = NEAR_ENOUGH) -> str:
    """The known name most like `text`, or "" where none reaches `cutoff` of 100."""
    by_fold = {fold(name): name for name in known}
    near = _nearest_key(fold(text), by_fold, cutoff)
    return by_fold[near] if near is not None else ""


def _nearest_key(key: str, keys: Iterable[str], cutoff: float) -> str | None:
    found = process.extractOne(key, list(keys), scorer=fuzz.ratio, score_cutoff=cutoff)
    return str(found[0]) if found else None


@dataclass(frozen=True, slots=True)
class Register:
    """The names that lines of other files may use, and what each of them stands for."""

    meant: Mapping[str, str]
    nearest_known: dict[str, str]

    @classmethod
    def of(cls, names: Iterable[str], others: Iterable[tuple[str, str]] = ()) -> "Register":
        """From full names and (other name, full name) pairs; one shared by two stands for none."""
        meant = {fold(name): name for name in reversed(list(names))}
        spare: dict[str, set[str]] = {}
        for other, name in others:
            spare.setdefault(fold(other), set()).add(name)
        extra = {
            key: next(iter(full))
            for key, full in spare.items()
            if len(full) == 1 and key not in meant
        }
        return cls(meant | extra, {})

    def find(self, text: str) -> str | None:
        """The full name that `text` stands for, or None."""
        return self.meant.get(fold(text))

    def nearest(self, text: str) -> str:
        """The full name most like `text`, or ""; looked up once for each spelling."""
        key = fold(text)
        if key not in self.nearest_known:
            near = _nearest_key(key, self.meant, NEAR_ENOUGH)
            self.nearest_known[key] = self.meant[near] if near is not None else ""
        return self.nearest_known[key]
