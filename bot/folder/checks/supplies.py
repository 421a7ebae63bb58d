"""Supplies: of a bin that there is, each item once."""

from collections.abc import Iterator

from bot.folder.checks.clashes import keys_once
from bot.folder.columns import BINS, SUPPLIES
from bot.folder.draft import Draft
from bot.folder.nearest import fold
from bot.folder.problems import Kind, Problem


def supplies_known(draft: Draft) -> Iterator[Problem]:
    """Every item belongs to a bin of bins.csv and is listed once for it."""
    if not draft.supplies or not draft.knows_bins():
        return
    if not draft.has(BINS):
        yield Problem(SUPPLIES, Kind.FILE_NEEDED, accepted=(BINS,))
        return
    items = [line.value for line in draft.supplies if not line.bad & {"bin", "item"}]
    for one in items:
        if draft.bin_names.find(one.bin) is None:
            place, near = one.place, draft.bin_names.nearest(one.bin)
            yield Problem(place.file, Kind.UNKNOWN_BIN, place.line, "bin", one.bin, nearest=near)
    keyed = (
        ((fold(draft.bin_names.find(one.bin) or one.bin), fold(one.item)), one.item, one.place)
        for one in items
    )
    yield from keys_once(keyed, "item")
