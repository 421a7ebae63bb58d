"""Settling: what each stretch of a text means, decided by what stands around it.

One pass after the other, each over the whole row of items; what none of them decides stays open.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from bot.understanding.senses import Item
from bot.understanding.settling.asking import take_orders, take_records
from bot.understanding.settling.boxes import join_box_words, prefer_bins, settle_colors
from bot.understanding.settling.everyone import (
    count_present,
    drop_rest_of_time,
    find_deadlines,
    find_everyone,
    find_minus,
    find_other_few,
    narrow_by_group,
)
from bot.understanding.settling.groups import (
    count_all_groups,
    drop_list_marks,
    find_owners_groups,
    join_groups,
)
from bot.understanding.settling.names import (
    drop_places_like_names,
    join_titles,
    settle_common_words,
    settle_plurals,
)
from bot.understanding.settling.numbers import (
    drop_lonely_numbers,
    join_quantities,
    read_bare_numbers,
)
from bot.understanding.settling.verbs import settle_leaving
from bot.understanding.vocabulary import Vocabulary


def settle(items: Sequence[Item], vocabulary: Vocabulary, at: datetime) -> tuple[Item, ...]:
    """Decide, pass by pass, what context decides; what it does not stays ambiguous."""
    today = at.date()
    row = take_orders(drop_rest_of_time(find_deadlines(list(items))))
    row = find_other_few(drop_list_marks(row))
    row = join_groups(count_all_groups(row), vocabulary)
    row = join_box_words(find_owners_groups(row, vocabulary, today))
    row = drop_lonely_numbers(
        read_bare_numbers(join_quantities(prefer_bins(row), vocabulary), vocabulary)
    )
    row = settle_common_words(
        join_titles(take_records(drop_places_like_names(settle_plurals(row))))
    )
    row = count_present(narrow_by_group(row, vocabulary, today), vocabulary, today)
    row = settle_leaving(row, vocabulary, at)
    return tuple(find_minus(settle_colors(find_everyone(row))))
