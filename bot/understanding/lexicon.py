"""The ordinary words a reader knows, by what they do in a sentence. Data; phrases with spaces."""

from __future__ import annotations

from collections.abc import Mapping

from bot.understanding.senses import Kind

_WORDS: Mapping[Kind, str] = {
    Kind.GROUP_WORD: """
        group, groups, grp, grps, gr, gp, g, grupo, team, teams, table, tables, crew, squad, groop,
        gruop, gropu, goup, grop, grup, group number, group no, kids in group, kids from group""",
    Kind.BIN_WORD: """
        bin, bins, been, center, centers, centre, centres, tub, tubs, box, boxes, activity,
        activities, kit, kits, bucket""",
    Kind.SLOT_WORD: "rotation, rotations, round, slot, rot, session",
    Kind.AND: "and, n, y, und, as well as, then, &",
    Kind.PLUS: "plus, +, with, w/, along with, together with, also, too, including, incl, joined by, joining",
    Kind.EXCEPT: """
        except, except for, excepting, exept, excpt, ecxept, execpt, xcept, minus, without, w/o, wo,
        but not, all but, excluding, other than, aside from, apart from, besides, not including,
        not counting, just not, only not, everyone but, everybody but, all except, everyone except,
        everybody except, and not, leaving out, sans, less""",
    Kind.EVERYONE: """
        everyone, everybody, every one, all of them, all kids, all the kids, all students,
        all the students, whole class, the whole class, all groups, every group, all of us,
        entire class, the entire class, all the groups, every kid, every child, all children,
        all the children, all, everyones, the class, whole group, whole crew, they all, all my kids,
        all friends, the whole room""",
    Kind.REST: """
        the rest, rest of the class, the rest of the class, the others, everyone else, everybody else,
        all others, all the others, the other kids, the other groups, the rest of them,
        everyone elses, the remaining groups, the other children, the rest of the kids""",
    Kind.DID: """
        did, done, finished, finish, finishes, completed, complete, visited, went, went to, went thru,
        went through, was at, were at, was in, were in, was on, were on, has been, have been, been to,
        has been to, have been to, had, got, got to, gotten to, played, explored, worked on, worked at,
        worked with, used, checked off, through with, wrapped up, done with, done w, all done,
        finished up, finished with, got through, hit, rotated to, rotated through, has done, have done,
        has finished, have finished, just did, just finished, just done, got done, is done, are done,
        is done with, are done with, was done, came through, did do, got a turn, had a turn,
        took a turn, had their turn, took their turn, got their turn, turn, turns, made it to,
        made it through, ticked off, accomplished, cleared, knocked out, enjoyed, tried, built, sorted,
        were over at, was over at, spent time at, spent, completes, finishing, sat at, sat with, ✓, ✔, ✅, ☑,
        check, checked, checks, check off, mark, log, logged, record, put down, credit, count, add, tick,
        give, has had, have had, has completed, have completed, went over to, moved through, cycled through,
        attended, participated in, been through, got in, stopped at, stopped by, ran, been at, been in,
        been on, finsihed, finised, fininshed, finishd, finshed, fnished, compelted, compleated""",
    Kind.AT: """
        at, on, in, to, for, is at, are at, is on, are on, is in, are in, over at, into, inside, @,
        >, →, -, –, —, =, is, are, are now at, is now at, now at, now on""",
    Kind.NOT: """
        not, didnt, dint, didn, dont, doesnt, hasnt, havent, hadnt, isnt, arent, wasnt, werent, never,
        no one, noone, nobody, none, none of, neither, nor, cannot, cant, couldnt, wont, wouldnt,
        shouldnt, aint, did not, has not, have not, was not, were not, is not, are not, never got,
        never made it, never did, not yet, no longer, not done, not finished, unfinished, incomplete,
        no""",
    Kind.MISSED: """
        skipped, skip, skips, missed, miss, missing, refused, absent, out sick, sick, wasnt there,
        wasnt here, not here, left early, home, at home, went home, pulled, pulled out, got pulled,
        was out, were out, was absent, were absent, is out, is absent, are out, is sick, was sick,
        no show, noshow, with me, was with me, were with me, with the nurse, at speech,
        in speech, at ot, at the nurse, at the office, to the office, in the office, at nurse,
        sat out, opted out, lost their turn, lost her turn, lost his turn, ran out of time, cancelled,
        canceled, interrupted, forgot, forgot to do, avoided, bailed, gave up, quit, stopped,
        melted down, had a meltdown, instead of, rather than, failed, bombed, left out, out today,
        cut short, got cut short, postponed, rescheduled, scratched, called off, dropped, fire drill,
        not at, got sick, threw up, boycotted, hid, wandered off, wandered, crying in, never mind,
        didnt get to, didnt make it, wouldnt go, wouldnt do, wants nothing, abandoned, ditched, no turn,
        disrupted, sent home, was pulled, were pulled, went to the nurse, went to the office,
        in the bathroom, needs, need, still needs, still need, needed, lacks, lacking""",
    Kind.ASK: """
        who, whos, whose, which, what, whats, when, where, wheres, why, how, howmany, how many, whom,
        who all, whats left, anyone, anybody, hows, whod, whove, wut, wat, wher""",
    Kind.AUX: "did, has, have, had, is, are, was, were, does, do, can, could, should, would, will, am, must, hasnt, havent, didnt, isnt, arent, wasnt, werent, doesnt, dont",
    Kind.FUTURE: """
        will, ll, shall, going to, gonna, gunna, about to, next up, up next, on deck, later,
        should, should go, should do, needs to, need to, has to, have to, gotta, must, lets, let us,
        want to, wants to, ready for, plan, planning, planned, scheduled, tmrw, will be, headed to,
        heading to, off to, on their way, moving to, moves to, going, next, go, goes, send,
        sending, move, supposed to, due, wanna, theyll, shell, hell, well do, ill, soon, after lunch,
        this afternoon, before lunch, put, start, starts, can go, can do, to do, do, moving, switch to,
        switching to, want, wants, ready to, waiting for, waiting on, queue, lined up for, remind,
        tonight, get to go, gets to go, tomorrows""",
    Kind.IF: """
        if, when, whenever, once, unless, until, till, before, after, as soon as, in case, suppose, would,
        could, might, may, should have, shouldve, wish, wishes, hope, hopes, hoping, hopefully, instead,
        would have, wouldve, could have, couldve, almost did, id like, would like, would love, ideally,
        in theory, pretend, imagine, whether, or, either, can, assuming, provided, while, because,
        tried to, trying to, try to, wanted to, meant to, were going to, was going to, was supposed to,
        were supposed to, asked to, asking to, begged to, about""",
    Kind.DOUBT: """
        think, i think, thinks, maybe, probably, prob, perhaps, guess, i guess, possibly, not sure, unsure,
        dunno, i believe, believe, i assume, supposedly, apparently, allegedly, seems, looks like, might have,
        may have, might of, pretty sure, im pretty sure, said, says, told me, claims, claim, claimed,
        sort of, kind of, kinda, sorta, heard""",
    Kind.PARTIAL: """
        half, half of, some, some of, part, part of, a few, few, few of, a couple, couple, couple of, most,
        most of, several, several of, one of, two of, three of, four of, only some, 1 of, 2 of, 3 of, 4 of,
        nearly, almost, almost all, nearly all, partly, partially, barely, halfway, half way, mostly,
        one kid, one child, two kids, three kids, someone, somebody, a kid, a couple of, majority, majority of,
        half done, half finished, not quite, not all, not everyone, not everybody, almost done, nearly done,
        one person, one student, a third of, quarter of, 1/2, ½, at least, either of, any of, somewhat, kids from, kids in,
        bits of, more than, less than, about half""",
    Kind.STARTED: """
        started, only started, just started, starting, began, beginning, begun, has started, have started,
        still working, still working on, in progress, in the middle of, midway, is working on,
        are working on, working on, working at, still at, still on, still doing, still finishing, is doing, are doing,
        got started, only got started, opened, set up, halfway through, half way through, part way,
        partway through, getting started""",
    Kind.WHOLE: "both, both of",
    Kind.UNIT: """
        kids, kid, children, child, students, student, boys, girls, boy, girl, people, friends, ppl,
        minutes, minute, min, mins, hours, hour, hrs, times, time, days, weeks, week, sheets, sheet,
        counters, counter, pieces, piece, packs, pack, copies, copy, more, extra, left over, cups, dollars,
        percent, %, months, month, seconds, secs, points, seats, spots, turns left, pm, am, pairs,
        cubes, tries, years, year, bags, stars""",
    Kind.STOP: ". ; !",
    Kind.QUERY: "?",
    Kind.COMMA: ", / | •",
    Kind.COLON: ":",
    Kind.KEY: """
        undo, redo, help, thanks, still, left, remaining, remain, remains, yet, oops, correction,
        i meant, actually, meant, whoops, sorry, that was, wrong, instead, explain""",
}

_PLAIN = """
    a, an, the, this, that, these, those, it, its, itself, they, them, their, theirs, theyre, theyve, he, she, him, her, his,
    hers, we, us, our, ours, weve, i, me, my, mine, im, ive, you, your, yours, u, ur, one,
    ok, okay, k, kk, hi, hey, hello, hiya, morning, good, good morning, afternoon, good afternoon, evening, yes, yep, yeah,
    yup, ya, sure, please, pls, plz, so, well, now, right now, right, just, already, all, today,
    here, there, over, up, down, out, off, back, of, from, by, as, be, been, being, was, were, is, are, am, has, have, had,
    does, got, get, gets, getting, very, really, super, so much, much, many, lot, lots, quite, pretty, too, again, finally, today,
    great, nice, nicely, awesome, amazing, wonderful, fantastic, lovely, fun, funny, happy, happily, proud, excited, busy, loud, quiet,
    loved, love, loves, liked, like, likes, enjoyed, had fun, did great, did well, did good, went well, went great, job, good job, great job, work,
    nice work, well done, everything, something, nothing else, anything, thing, things, stuff, yay, woohoo, woo, wow, phew, whew, lol, haha, hah, ha,
    btw, fyi, anyway, anyways, um, uh, uhh, umm, hmm, er, ah, oh, ooh, aha, eh, huh, like, you know, basically, literally, honestly, actually done,
    because, cause, cuz, bc, since, even, though, although, however, while, during, between, through, around, near,
    quickly, quick, fast, slowly, slow, early, late, easily, together, alone, by themselves, on their own, independently, themselves, herself, himself, itself, each, other,
    class, classroom, room, teacher, miss, ms, mrs, mr, aide, friend, school, stem, science, math, engineering, day, today, bot, chat,
    first, second, third, last, previous, full, fully, totally, completely, entirely, successfully, officially, properly, perfectly, beautifully, entire, whole, only, simply, both times,
    update, updates, report, reporting, reports, heads up, quick note, note, noted, log please, please log, can you log, could you log, for the record, records, list, tally, ready, set, same,
    see, saw, look, looks, looked, noticed, watched, watching, notice, know, knows, knew, let, make, makes, made, take, takes, took, taken, keep, kept, say, tell,
    cleaned up, cleaned, clean, cleanup, tidied, tidy, tidied up, put away, packed up, packed, returned, sharing, shared, helped, helping, helper, helpers, worked, working, talked, talking, asked, laughed, smiled, cheered, listened, focused, engaged, calm, calmly, chatty, noisy, silly, wild, crazy, chaos, chaotic, messy, mess, hectic, tired, rough, long, short, big, little, small, new, old, best, better, well, easy, hard, tricky, tough,
    morning, mornings, afternoon, lunch, recess, snack, bell, minutes, time, on time, in time, time flies, earlier, a while ago, ago, just now, moment, moments, sec,
    way, bit, kind, sort, pair, pairs, team, partner, partners, turns, first thing, done deal, thx, thank you, ty, cheers, bye, later gator, xo, ok bye, yesterday, 
    also, another, any, every, such, than, who did, them all, what a day, i know, as usual, as always, as planned, no problem, no problems, no issues, no issue, no drama, without issue, without problems, not bad, no worries, no tears, no complaints, for sure, of course, for once, at last, once again, one more time, surprisingly, thankfully, luckily, sadly, guys, folks, ladies, gang, crew, bunch, kiddos, kiddo, littles, friends, cuties, sweethearts, angels, monsters, 
    mess everywhere, spilled, spill, water, everywhere, floor, rug, carpet, desk, corner, window, door, outside, rain, rainy, snow, snowy, sunny day, weather, hot, cold, noise, assembly, music, gym, library, art class, pe, special, specials, math block, block, centers time, center time, choice time, bin time, stem time, journal, journals, sheet, sheets, record sheet, recording sheet, picture, pictures, photo, photos, drawing, drawings, drew, wrote, write, writing, draw, sorted it, counted, built a, tallest, tower, towers,
    wonderfully, brilliantly, smoothly, swimmingly, peacefully, quietly, excellent, excellently, solid, strong, strongly, well too, fine, alright, cool, neat, sweet, perfect, brilliant, superb, impressive, impressed, surprised, delighted, thrilled, beaming, grinning, smiling, giggling, wiggly, squirmy, sleepy, hungry, hi there, gm, pls log, kindly, dear, colleague, team teacher, sub, substitute, writing, texting, message, msg, typing, dictating, phone, thumb, sorry for, sorry about, delay, late text, text
"""


def _listed(words: str) -> list[str]:
    marks_apart = "," if "," in words.replace(", /", "") else None
    return [" ".join(word.split()) for word in words.split(marks_apart) if word.strip()]


def _table() -> dict[tuple[str, ...], tuple[Kind, ...]]:
    table: dict[tuple[str, ...], list[Kind]] = {}
    for kind, words in _WORDS.items():
        marks = kind in (Kind.STOP, Kind.QUERY, Kind.COMMA, Kind.COLON)
        for word in words.split() if marks else _listed(words):
            table.setdefault(tuple(word.split()), []).append(kind)
    for word in _listed(_PLAIN):
        table.setdefault(tuple(word.split()), []).append(Kind.PLAIN)
    return {phrase: tuple(kinds) for phrase, kinds in table.items()}


LEXICON: Mapping[tuple[str, ...], tuple[Kind, ...]] = _table()
"""Folded phrase -> what it can do in a sentence, likeliest first."""

ORDINARY: frozenset[str] = frozenset(word for phrase in LEXICON for word in phrase)
"""Every single word that occurs in the lexicon."""

NUMBER_WORDS: Mapping[str, int] = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
ORDINAL_WORDS: Mapping[str, int] = {
    "first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7,
    "eighth": 8, "ninth": 9, "tenth": 10,
}  # fmt: skip
DICTATED_NUMBERS: Mapping[str, int] = {
    "won": 1,
    "to": 2,
    "too": 2,
    "for": 4,
    "fore": 4,
    "ate": 8,
    "tree": 3,
    "sex": 6,
    "free": 3,
}
"""Words that dictation writes for a number, right after the word "group" only."""
