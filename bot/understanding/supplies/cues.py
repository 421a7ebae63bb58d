"""Words that say what happened to a supply. Data: cue -> phrases."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum


class Cue(Enum):
    """What a word says of a supply."""

    OUT = "out"  # none is left
    GONE = "gone"  # none is left; with a number: so many are lost
    LOW = "low"
    NEED = "need"
    LEFT = "left"  # so many are left
    TOTAL = "total"  # of what is left, or of what was bought
    DOWN_TO = "down to"
    HAVE = "have"
    ADD = "add"
    OPEN = "open"  # a new pack
    GOT = "got"  # had or added
    MORE = "more"
    LOST = "lost"
    SHORT = "short"
    FOUND = "found"
    DISCARD = "discard"
    USED = "used"
    LAST = "last"
    # what keeps a sentence from being a report
    NOT = "not"
    IF = "if"
    WILL = "will"
    DOUBT = "doubt"
    ENOUGH = "enough"
    PLEASE = "please"  # a polite order is no maybe


_PHRASES: Mapping[Cue, str] = {
    Cue.OUT: """
        outta, ran outta, run outta, all outta, is outta, are outta, completely out of,
        completely out, totally out of, totally out, out of, is out of, are out of, am out of,
        all out of, fresh out of, clean out of, ran out of, run out of, ran out, run out, is
        out, are out, all out, none left, nothing left, no more, empty, used up, all used up,
        used up all, used the last of, used the last, used our last, used last, finished off,
        finished the last, finished up the last, out now, went through the last, used all, have
        no, has no, there are no, there is no, theres no, down to zero, down to none, down to
        nothing, used every last, zero left, without any, wiped out of, emptied, sold out of,
        plum out of, that was the last, that was the last of, that was our last, that was my
        last, thats the last of
    """,
    Cue.GONE: """
        gone, all gone, have disappeared, disappeared, vanished
    """,
    Cue.LOW: """
        low on, running low, running low on, run low on, getting low, getting low on, low,
        running out, running out of, almost out, almost out of, nearly out of, nearly out, about
        out of, short on, not many, not much, hardly any, barely any, few left, only a few, a
        few left, just a few, almost gone, nearly gone, almost no, almost used up, nearly empty,
        almost empty, getting short, close to out, close to out of, on the last few, dwindling,
        dont have many, dont have much, not enough, isnt enough, arent enough, dont have enough,
        about gone
    """,
    Cue.NEED: """
        need, needs, need more, needs more, need some, could use, can use, want more, wants
        more, need new, needs new, to the shopping list, on the shopping list, to the list, on
        the list, to my list, on my list, to our list, on our list, to my shopping list, to our
        shopping list, to the copy list, on the copy list, to the buy list, on my shopping list,
        need to copy, need to buy, need to get, need to print, need to make, need to order, need
        to restock, need to refill, have to copy, have to buy, have to print, have to get, gotta
        copy, gotta buy, gotta get, should copy, should buy, must copy, must buy, needing,
        needed, requires, is asking for, calls for, please order, please copy, time to copy,
        time to buy
    """,
    Cue.LEFT: """
        left, left over, leftover, remaining, remain, remains, on hand, in stock, still there,
        to go, remained, still good, that still work
    """,
    Cue.TOTAL: """
        in total, total, altogether, in all
    """,
    Cue.DOWN_TO: """
        down to, up to, drops to, dropped to, stands at
    """,
    Cue.HAVE: """
        have, has, had, there are, there is, theres, only, just, still, count, counted, counts,
        holds, contains, recount, recounted, exactly, now, currently, is at, are at, now at, can
        only find, could only find, can find only, can only see, only find, only found, only
        see, i see, see only, only counted, only spotted, all i can find is, all i can find are,
        all i found was, all i found were, all we have is, all we have are, all thats left is,
        all thats left are
    """,
    Cue.ADD: """
        put, puts, added, add, adding, ran, copied, printed, printed out, ran off, run off,
        photocopied, xeroxed, made, made copies, bought, purchased, picked up, restocked,
        restock, refilled, refill, replenished, replaced, topped up, topped off, stocked,
        stocked up, loaded, brought, brought in, delivered, arrived, came in, were delivered,
        donated, laminated, dropped off, filled, filled up, received, set out, cut out, mixed,
        just made, have made, just copied, put in, put back, stuck, stuffed, tossed in, threw
        in, slipped, placed, gave, supplied, new batch of, came, came today, sent in, sent, sent
        us, sent me, sends, sent over, handed me, gifted, contributed, donating, donation,
        donations, donation of, provided, shipped, printed off, prepped, prepared, froze,
        collected, gathered, grabbed, ordered and got, assembled, mixed up, whipped up, made up,
        run through the copier, ran through the copier, on the copier, brought us, brought me,
        gave us, gave me
    """,
    Cue.OPEN: """
        opened, opened up, opened another, opened a new, opened a, opening, cracked open,
        started a new, started another, broke open, broke into, broke out
    """,
    Cue.GOT: """
        got, just got, weve got, ive got, we got, i got, we just got, i just got
    """,
    Cue.MORE: """
        more, extra, additional, new, brand new
    """,
    Cue.LOST: """
        leaking, leaks, leaky, cracking, has a crack, have cracks, has cracks, has a hole, have
        holes, has holes, with holes, have a hole, has a tear, have tears, lost, lose, losing,
        loses, missing, is missing, are missing, went missing, gone missing, broke, broken,
        breaks, cracked, ripped, tore, torn, ruined, wasted, snapped, bent, chewed, ate, stolen,
        damaged, dead, died, smashed, destroyed, misplaced, cant find, couldnt find, fell apart,
        swallowed, busted, crushed, shattered, have lost, spoiled, wrecked, lacks, lacking,
        spilled, not working, doesnt work, dont work, popped, leaked, went home, go home, gone
        home, goes home, walked off, walked away, wandered off, wandered away, split, ripped up,
        chipped, shredded, squished, squashed, flattened, soaked, got wet, stepped on, sat on,
        fell down, fell behind, fell under, fell into, rolled under, rolled behind, rolled away,
        rolled off, down the vent, down the drain, bit the dust, is toast, are toast, unusable,
        not usable, no good, kaput, junk, gave out, burned out, burnt out, quit working, stopped
        working, snapped off, lost forever, never came back, didnt come back, pocketed, swiped,
        took home, taken home, goners, a goner, came apart, falling apart, cant locate, couldnt
        locate
    """,
    Cue.SHORT: """
        short, short by, shy, short of, is short, are short, too few
    """,
    Cue.FOUND: """
        we got them, i got them, we got it, i got it, we got them back, we got it back, i got
        them back, we got them all, i got them all, got them back, got it back, got them, found
        them, found it, found them all, got them all, picked them up, picked them all up, have
        them back, found them again, found it again, found, turned up, recovered, came back, is
        back, are back, returned, showed up, located, have found, got back, reappeared
    """,
    Cue.DISCARD: """
        threw out, threw away, throw out, threw it out, thrown out, thrown away, tossed, tossed
        out, trashed, dumped, discarded, chucked, recycled, got rid of, dried out, dried up,
        went bad, moldy, pitched, binned, went moldy, throwing out, had to toss, threw
    """,
    Cue.USED: """
        used, uses, use, using, went through, goes through, took, takes
    """,
    Cue.LAST: """
        last, last one, last of, the last of
    """,
    Cue.NOT: """
        nobody, noone, no one, none of, neither, nope, not, didnt, dont, doesnt, isnt, arent,
        wasnt, werent, havent, hasnt, never, cant, nothing, no longer
    """,
    Cue.IF: """
        thought, i thought, last year, last month, used to, used to have, used to be, started
        with, started out with, originally, comes with, came with, supposed to be, supposed to
        have, if, when, whenever, unless, once, in case, would, might, may, could, should, wish,
        hope, suppose, until, till, before, wants, want, wanted, lets, pretend, whether
    """,
    Cue.WILL: """
        will, ill, well, going to, gonna, plan to, planning to, tomorrow, later, remember to,
        remind me, dont forget, about to, have to, need to, gotta, must, let me, ordered, order,
        ordering, copy, print, buy, make, please, to copy, to buy, shall
    """,
    Cue.DOUBT: """
        pretty sure, im pretty sure, fairly sure, almost sure, i guess, think, i think, maybe,
        probably, perhaps, guess, i guess, possibly, not sure, unsure, might be, must be, looks
        like, seems, supposedly, i believe, says, said, claims, heard, around, roughly,
        approximately, about, ish, or so, like
    """,
    Cue.PLEASE: """
        want you to know, wanted you to know, i want you to know, letting you know, wanted to
        let you know, wanted to report, wanted to say, wanted to tell you, want to report, want
        to let you know, just wanted to let you know, just wanted to say, id like to report,
        need to report, need to tell you, have to report, would like to report, hope to, could
        you, would you, can you, could u, would u, can u
    """,
    Cue.ENOUGH: """
        still missing, still gone, still lost, is still missing, are still missing, enough,
        plenty, plenty of, lots of, loads of, fully stocked, all set, good on, fine on
    """,
}


def _table() -> dict[tuple[str, ...], Cue]:
    return {
        tuple(phrase.split()): cue
        for cue, phrases in _PHRASES.items()
        for phrase in (part.strip() for part in phrases.split(","))
        if phrase
    }


CUES: Mapping[tuple[str, ...], Cue] = _table()
"""Folded phrase -> what it says."""

LONGEST_CUE = max(map(len, CUES))
