"""Which supplies a part of a report means: by its items, its bins, and what was spoken of."""

from __future__ import annotations

from collections.abc import Sequence

from bot.classroom.stints import out_on, stint_in
from bot.understanding.clause import Clause
from bot.understanding.supplies.kit import CLOSE, GENERIC, GENERIC_WORDS, NAMED, stem
from bot.understanding.supplies.parts import Part
from bot.understanding.supplies.signs import Is, Sign
from storage.records import Supply


class Meant:
    """The supplies that one part of a clause speaks of."""

    def __init__(self, clause: Clause, part: Part) -> None:
        self._clause = clause
        self._part = part
        self.elsewhere = False  # an item is named with a bin that is not its own

    def bins(self) -> tuple[int, ...]:
        """The bins named; a color that only describes an item is none."""
        said = [i for sign in self._part.bins if not (sign.is_color and self._is_adjective(sign))
                for i in sign.bins]  # fmt: skip
        return tuple(dict.fromkeys(said))

    def _is_adjective(self, color: Sign) -> bool:
        """ "20 red crayons left": no box, unless the crayons are in it."""
        if color not in self._part.signs:
            return False
        at = self._part.signs.index(color)
        after = self._part.signs[at + 1] if at + 1 < len(self._part.signs) else None
        if after is None or after.what is not Is.ITEM:
            return False
        owners = {s.bin_id for s in self._clause.roster.supplies if s.id in after.ids}
        return not owners & set(color.bins)

    def _spoken_of(self) -> tuple[int, ...]:
        day, roster = self._clause.at.date(), self._clause.roster
        found = []
        for place in self._clause.spoken_of:
            stint = stint_in(roster, place.color, day) if place.color else None
            found += [place.bin_id or (stint.bin_id if stint else 0)]
        return tuple(found)

    def supplies(self) -> list[list[Supply]]:
        """For each thing spoken of, the supplies it may be; several where it is to be asked."""
        part = self._part
        bins = self.bins()
        if part.says_tub and not part.items:
            told = bins or self._spoken_of()
            return [self._in_tubs(told)] if told else []
        items = list(part.items)
        sure = [i for i in items if i.how not in (GENERIC, CLOSE)]
        items = sure or items[:1]  # "20 copies of the record sheet"
        return [found for item in items for found in self._of_item(item, bins)]

    def _in_tubs(self, bins: Sequence[int]) -> list[Supply]:
        """The pieces of bins of which a tub holds as many as are said."""
        pieces = self.of_bins(bins, kind="piece")
        most = max((a.value or 0 for _, a in self._part.amounts), default=0)
        return [s for s in pieces if (s.per_tub or 0) >= most] or pieces

    def _of_item(self, item: Sign, bins: Sequence[int]) -> list[list[Supply]]:
        named = [s for s in self._clause.roster.supplies if s.id in item.ids]
        if bins:
            here = [[s for s in named if s.bin_id == b] or self._only_paper(item, b) for b in bins]
            if not any(here) and item.how == NAMED and item in self._part.signs:
                self.elsewhere = True
                return [named]
            return here
        spoken = [s for s in named if s.bin_id in self._spoken_of()]
        if spoken:
            return [spoken]
        out = {stint.bin_id for stint in out_on(self._clause.roster, self._clause.at.date())}
        here_now = [s for s in named if s.bin_id in out]
        return [here_now or named] if named else []

    def _only_paper(self, item: Sign, bin_id: int) -> list[Supply]:
        """ "sheets" of a bin whose only consumable is called something else."""
        used_up = [s for s in self.of_bins((bin_id,)) if s.kind != "piece"]
        lent = item not in self._part.signs and stem(item.key.split()[-1]) in GENERIC_WORDS
        return used_up if (item.how == GENERIC or lent) and len(used_up) == 1 else []

    def of_bins(self, bins: Sequence[int], kind: str | None = None) -> list[Supply]:
        """Every supply of these bins."""
        return [
            s
            for s in self._clause.roster.supplies
            if s.bin_id in bins and (kind is None or s.kind == kind)
        ]
