"""What one class can be called: every name, nickname, code, color and part of a name, as keys."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from bot.classroom.stints import colors
from bot.understanding.lexicon import LEXICON
from bot.understanding.senses import How, Kind, Sense
from bot.understanding.tokens import fold, keys
from storage.records import Bin, Group, Roster, Student

Keys = tuple[str, ...]
_LINKS = frozenset(
    ("a", "an", "and", "at", "in", "it", "of", "on", "or", "the", "to", "with", "is")
)
_TITLES = frozenset(("mr", "mrs", "ms", "miss", "dr"))


@dataclass(frozen=True, eq=False)
class Vocabulary:
    """Keys -> what they can mean in this class; built once for each state of the roster."""

    roster: Roster
    senses: Mapping[Keys, tuple[Sense, ...]]
    longest: int
    group_by_number: Mapping[int, int]
    student_by_code: Mapping[str, int]

    def look_up(self, words: Keys) -> tuple[Sense, ...]:
        """Everything these keys can mean, what the class knows before ordinary words."""
        known = self.senses.get(words, ())
        ordinary = tuple(Sense(kind, word=" ".join(words)) for kind in LEXICON.get(words, ()))
        return (*known, *ordinary)


@lru_cache(maxsize=64)
def vocabulary_of(roster: Roster) -> Vocabulary:
    """The vocabulary of a class as it stands."""
    forms: dict[Keys, dict[tuple[Kind, How], list[int | str]]] = defaultdict(
        lambda: defaultdict(list)
    )

    def learn(found: Iterable[tuple[Keys, How]], kind: Kind, what: int | str) -> None:
        seen: dict[Keys, How] = {}
        for words, how in found:
            if words and (words not in seen or how.value < seen[words].value):
                seen[words] = how
        for words, how in seen.items():
            forms[words][kind, how].append(what)

    spoken = _Spoken(roster)
    for student in roster.students:
        learn(_forms_of_student(student, spoken), Kind.STUDENT, student.id)
    for group in roster.groups:
        learn(_forms_of_group(group), Kind.GROUP, group.id)
    for bin_ in roster.bins:
        learn(_forms_of_bin(bin_), Kind.BIN, bin_.id)
    for color in colors(roster):
        learn(((keys(color), How.EXACT),), Kind.COLOR, color)
    for station in roster.stations:
        learn(((keys(station.name), How.EXACT),), Kind.STATION, station.id)
    for supply in roster.supplies:
        learn(_forms_of_item(supply.item), Kind.SUPPLY, supply.id)
    for beginning, bin_id in _beginnings(roster):
        if (beginning,) not in forms and (beginning,) not in LEXICON:
            learn((((beginning,), How.RELATED),), Kind.BIN, bin_id)
    for short, kind, what in _abbreviations(roster):
        if (short,) not in forms and (short,) not in LEXICON:
            learn((((short,), How.RELATED),), kind, what)
    senses = {words: _senses(words, found) for words, found in forms.items()}
    longest = max((len(words) for words in (*senses, *LEXICON)), default=1)
    return Vocabulary(
        roster=roster,
        senses=senses,
        longest=longest,
        group_by_number={int(g.name): g.id for g in roster.groups if g.name.isdecimal()},
        student_by_code={"".join(keys(s.code)): s.id for s in roster.students if s.code},
    )


def _senses(words: Keys, found: Mapping[tuple[Kind, How], list[int | str]]) -> tuple[Sense, ...]:
    """One sense a kind: the surest way of matching wins, equals stay candidates together."""
    best: dict[Kind, tuple[How, list[int | str]]] = {}
    for (kind, how), whats in found.items():
        if kind not in best or how.value < best[kind][0].value:
            best[kind] = (how, whats)
    senses = []
    for kind, (how, whats) in sorted(best.items(), key=lambda pair: pair[1][0].value):
        if kind is Kind.COLOR:
            senses.append(Sense(kind, word=str(whats[0]), how=how))
        else:
            ids = tuple(sorted({what for what in whats if isinstance(what, int)}))
            senses.append(Sense(kind, ids=ids, word=" ".join(words), how=how))
    return tuple(senses)


def _spellings(name: str) -> Iterator[Keys]:
    """A name with its hyphens and apostrophes kept, joined, or typed as spaces."""
    yield keys(name)
    yield keys(name.replace("-", ""))
    yield keys(name.replace("'", " ").replace("’", " "))
    words = keys(name)
    joined = "".join(words)
    if len(joined) > 3 and len(words[-1]) > 1:
        yield (joined,)


def first_name(student: Student) -> str:
    """The name without the initial or the family name behind it."""
    words = student.name.split()
    if len(words) > 1 and len(fold(words[-1].rstrip("."))) <= 1:
        return " ".join(words[:-1])
    return words[0]


class _Spoken:
    """First names and nicknames of a class, to keep "alexs" from Alexa."""

    def __init__(self, roster: Roster) -> None:
        self._names: dict[str, set[str]] = defaultdict(set)
        for student in roster.students:
            for name in (first_name(student), *student.goes_by):
                for word in keys(name):
                    for form in _lacking_one(word):
                        self._names[form].add(word)

    def is_near_another(self, word: str, name: str) -> bool:
        """Whether a word is one letter from a name other than this one."""
        near = {other for form in _lacking_one(word) for other in self._names.get(form, ())}
        return bool(near - {name})


def _lacking_one(word: str) -> set[str]:
    """A word, and the word without each of its letters: words one edit apart share one of these."""
    return {word, *(word[:at] + word[at + 1 :] for at in range(len(word)))}


def _forms_of_student(student: Student, spoken: _Spoken) -> Iterator[tuple[Keys, How]]:
    for words in _spellings(student.name):
        yield words, How.EXACT
    first = first_name(student)
    for name in (first, *student.goes_by):
        for words in _spellings(name):
            yield words, How.FORM
            if not spoken.is_near_another(words[-1] + "s", words[-1]):
                yield (*words[:-1], words[-1] + "s"), How.PART  # "anas done"
    initial = keys(student.name)[-1][:1]
    for name in student.goes_by:
        yield (*keys(name), initial), How.FORM  # "max v"
    if student.code:
        yield keys(student.code), How.EXACT
        yield ("".join(keys(student.code)),), How.EXACT
    parts = keys(first)
    family = keys(student.name)[len(parts) :]
    if len(parts) > 1 and len(parts[0]) > 2 and parts[0] not in _TITLES:
        yield parts[:1], How.PART
    if family and len(family[-1]) > 2:
        yield family, How.PART


def _forms_of_group(group: Group) -> Iterator[tuple[Keys, How]]:
    if group.name.isdecimal():
        return  # a number; it is read by where it stands
    for words in _spellings(group.name):
        yield words, How.EXACT
        last = words[-1]
        yield (*words[:-1], last[:-1] if last.endswith("s") else last + "s"), How.FORM


def _forms_of_bin(bin_: Bin) -> Iterator[tuple[Keys, How]]:
    for name in (bin_.name, *bin_.also_called):
        how = How.EXACT if name == bin_.name else How.FORM
        for words in _spellings(name):
            yield words, how
            yield words[1:] if words[:1] in (("the",), ("a",)) else words, how
            for form in _relatives(words[-1]):
                if len(words) > 1 or (form,) not in LEXICON:
                    yield (*words[:-1], form), How.RELATED
            for link in ("or", "and"):
                yield tuple(word for word in words if word != link), How.FORM
        words = keys(name)
        content = [word for word in words if word not in _LINKS and len(word) > 2]
        if len(words) > 1:
            for word in content:
                for form in (word, *_relatives(word)):
                    if set(LEXICON.get((form,), ())) <= {Kind.CHATTER}:
                        yield (form,), How.PART if form == word else How.RELATED
            for size in range(2, len(words)):
                for start in range(len(words) - size + 1):
                    part = words[start : start + size]
                    if part not in LEXICON and sum(word in content for word in part) > 1:
                        yield part, How.PART


def _abbreviations(roster: Roster) -> Iterator[tuple[str, Kind, int]]:
    """ "btns", "tngrms", "flcns": a name without its vowels; "mr" for Marble Run; where only one
    bin or group is written so."""
    owners: dict[str, set[tuple[Kind, int]]] = defaultdict(set)
    named = [(Kind.BIN, b.id, name) for b in roster.bins for name in (b.name, *b.also_called)]
    named += [(Kind.GROUP, group.id, group.name) for group in roster.groups]
    for kind, what, name in named:
        words = [word for word in keys(name) if word not in _LINKS]
        for word in words:
            bare = word[:1] + "".join(letter for letter in word[1:] if letter not in "aeiou")
            for form in (bare, bare[:-1] if bare.endswith("s") else bare):
                if len(form) >= 3 and form != word:
                    owners[form].add((kind, what))
        if len(words) > 1 and kind is Kind.BIN:
            owners["".join(word[0] for word in words)].add((kind, what))
    return ((short, *whats.pop()) for short, whats in owners.items() if len(whats) == 1)


def _beginnings(roster: Roster) -> Iterator[tuple[str, int]]:
    """ "bal", "mag": the first three or four letters, where only one bin begins so."""
    owners: dict[str, set[int]] = defaultdict(set)
    for bin_ in roster.bins:
        for name in (bin_.name, *bin_.also_called):
            for word in keys(name)[:1]:
                for size in (3, 4):
                    if len(word) > size + 1:
                        owners[word[:size]] |= {bin_.id}
    return ((word, ids.pop()) for word, ids in owners.items() if len(ids) == 1)


def _forms_of_item(item: str) -> Iterator[tuple[Keys, How]]:
    words = keys(item)
    yield words, How.EXACT
    yield (*words[:-1], _other_number(words[-1])), How.FORM


def _relatives(word: str) -> tuple[str, ...]:
    """Forms of a word that still mean the same bin: "balance", "balancing", "balances"."""
    stem = word[:-1] if word.endswith(("e", "s")) else word
    return (_other_number(word), stem + "ing", stem + "ed", stem + "er")


def _other_number(word: str) -> str:
    """The plural of a singular, the singular of a plural, near enough for matching."""
    return word[:-1] if word.endswith("s") and len(word) > 3 else word + "s"
