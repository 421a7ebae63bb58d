"""The ordinary words a reader knows, by what they do in a sentence. Data; phrases with spaces."""

from __future__ import annotations

from collections.abc import Mapping

from bot.understanding.senses import Kind

_WORDS: Mapping[Kind, str] = {
    Kind.GROUP_WORD: """
        group, groups, grp, grps, gr, gp, g, team, teams, table, tables, crew, squad, groop,
        gruop, gropu, goup, grop, grup, group number, group no, grps., grouping, gang of
    """,
    Kind.BIN_WORD: """
        bin, bins, been, center, centers, centre, centres, tub, tubs, box, boxes, activity,
        activities, kit, kits, station, stations, stem bin, stem bins
    """,
    Kind.AND: """
        and, then, n, y, und, as well as, &, nd, an, amd, adn
    """,
    Kind.OR: """
        or, nor
    """,
    Kind.BUT: """
        but, cept, bar
    """,
    Kind.PLUS: """
        so did, so has, so have, so were, so was, so is, so are, plus, +, with, w/, w, along with,
        together with, also, too, including, incl, joined by, joining, joined, and also, as well,
        with help from, add in
    """,
    Kind.EXCEPT: """
        except, except for, excepting, exc, excl, filling in for, fill in for, filled in for, in
        place of, subbing for, subbed for, standing in for, covering for, taking the place of, in
        for, exept, excpt, ecxept, execpt, accept, xcept, minus, without, w/o, wo, but not,
        excluding, other than, aside from, apart from, besides, not including, not counting, just
        not, only not, and not, leaving out, sans, less, all xcept, bar, though not, save for, with
        the exception of, subtract, take away, my table had, my table has, at my table were, i
        pulled, i kept
    """,
    Kind.EVERYONE: """
        everyone, everybody, every one, every1, evry1, all of them, all kids, all the kids, all
        students, all the students, whole class, the whole class, all groups, every group, all
        of us, entire class, the entire class, all the groups, every kid, every child, all
        children, all the children, all my kids, the whole room, everyones, my class, our class,
        all the friends, all of the kids, all of the groups, all of the children
    """,
    Kind.REST: """
        the rest, rest of the class, the rest of the class, the others, everyone else, everybody
        else, all others, all the others, the other kids, the other groups, the rest of them,
        the remaining groups, the other children, the rest of the kids, rest, others
    """,
    Kind.DID: """
        spent the rotation on, spent the rotation at, spent rotation on, spent rotation at, spent
        the round on, spent the session at, caught up on, caught up at, caught up with, caught up,
        dn, cmpl, cmplt, compl, comp, fin, finishd, squeezed in, cracked, conquered, worked, did get
        through, did get to, did go to, did make it to, did try, got to try, get through, got round
        to, did, done, finished, finish, finishes, completed, complete, visited, went, went to, went
        thru, went through, went over, was at, were at, was in, were in, was on, were on, been to,
        has been to, have been to, has been at, have been at, has been, have been, had, got, got to,
        gotten to, played, played with, explored, worked on, worked at, worked with, used, checked
        off, through with, wrapped up, done with, done w, all done, all finished, finished up,
        finished with, got through, got thru, hit, rotated to, rotated through, has done, have done,
        has finished, have finished, just did, just finished, just done, got done, is done, are
        done, is done with, are done with, was done, came through, did do, got a turn, had a turn,
        took a turn, had their turn, took their turn, got their turn, got a turn at, had a turn at,
        made it to, made it through, ticked off, cleared, knocked out, were over at, was over at,
        spent time at, completes, finishing, sat at, ✓, ✔, ✅, ☑, check, checked, mark, log, logged,
        record, put down, credit, count, tick, mark down, jot down, write down, has had, have had,
        has completed, have completed, went over to, moved through, cycled through, attended,
        participated in, been through, got in, ran, been at, been on, been in, rocked, crushed,
        nailed, aced, killed it at, smashed, finsihed, finised, fininshed, finshed, fnished,
        compelted, compleated, came back from, back from, just left, just wrapped up, wrapped, wraps
        up, done at, finished at, ended, over with, out of, came from, thru, through, did their turn
        at, did their time at, is through with, are through with, is finished with, are finished
        with, were done with, was done with, are finished, is finished, just came from, just came
        off, cleaned up from, all cleaned up from, cleaned up at, cleaning up from, cleaning up at,
        just cleaned up, packed up from, packed up at, came off, coming off, made up, made, built,
        sorted, experimented with, messed with, tinkered with, practiced, practiced at, practised,
        investigated, solved, put in time at, put in their time at, took on, cross off, crossed off,
        tackled, all set with, all set at, gets credit for, tried out, finally tried, finally got
        to, got to finish
    """,
    Kind.AT: """
        at, on, in, to, for, is at, are at, is on, are on, is in, are in, over at, into, inside,
        @, →, -, –, —, =, is, are, are now at, is now at, now at, now on
    """,
    Kind.NOT: """
        ❌, ✗, ✘, 🚫, ✖, not, didnt, dint, didn, dont, doesnt, hasnt, havent, hadnt, isnt, arent,
        wasnt, werent, never, no one, noone, nobody, none, none of, neither, cannot, cant,
        couldnt, wont, wouldnt, shouldnt, aint, did not, has not, have not, was not, were not,
        is not, are not, had not, do not, does not, never got, never made it, never did, not
        yet, no longer, not done, not finished, unfinished, incomplete, no, nope, nah, havnt,
        hasent, havent had, didnt finish, did not finish, isnt done, arent done, wasnt at,
        werent at
    """,
    Kind.MISSED: """
        skipped, skip, skips, missed, miss, refused, absent, out sick, sick, left early, at home,
        went home, pulled, pulled out, got pulled, was out, were out, was absent, were absent, is
        out, is absent, are out, is sick, was sick, no show, noshow, with me, was with me, were with
        me, with the nurse, at speech, in speech, at ot, at the nurse, was at the nurse, at the
        office, to the office, in the office, at nurse, sat out, opted out, lost their turn, lost
        her turn, lost his turn, ran out of time, cancelled, canceled, interrupted, avoided, bailed,
        gave up, quit, stopped, melted down, had a meltdown, left out, out today, cut short, got cut
        short, postponed, rescheduled, scratched, called off, dropped, stayed on the, stayed in the,
        stayed out, stayed behind, hung back, sat this one out, sat it out, fire drill, got sick,
        threw up, boycotted, hid, wandered off, wandered, didnt get to, didnt make it, wouldnt go,
        wouldnt do, abandoned, ditched, no turn, disrupted, sent home, was pulled, were pulled, went
        to the nurse, went to the office, in the bathroom, needs, need, still needs, still need,
        needed, lacks, lacking, missing, refuses, refusing, went to speech, was at speech, was in
        speech, was in the office, was at the office, stayed with me, stayed back, stayed in, in
        trouble, in time out, at ell, at resource, with the counselor, at counseling, got picked up,
        picked up early, left, went out, stuck at, hates, hated, ignored, bored of, couldnt do,
        lost, wasted, w me, w/ me, w/me, was w me, were w me, with the teacher, with teacher, at the
        teacher table, at teacher table, at my table, with the aide, with an aide, with the para,
        with our para, with the specialist, with the reading specialist, with the interventionist,
        in small group, in my small group, at small group, in my reading group, with me for reading,
        with me for math, getting tested, being tested, testing with me, pass, passes, passed on,
        pass on, took a pass, taking a pass
    """,
    Kind.ASK: """
        who, whos, whose, which, what, whats, when, where, wheres, why, how, howmany, how many,
        whom, who all, whats left, anyone, anybody, hows, whod, whove, wut, wat, wher, whoever,
        wich, whch, hoo
    """,
    Kind.AUX: """
        did, has, have, is, are, r, was, were, does, do, can, could, should, would, will, am,
        hasnt, havent, didnt, isnt, arent, wasnt, werent, doesnt, dont, shall, may
    """,
    Kind.FUTURE: """
        will, ll, shall, going to, gonna, gunna, about to, next up, up next, on deck, later on,
        later, should, should go, should do, needs to, need to, has to, have to, gotta, must, lets,
        let us, want to, wants to, ready for, plan, planning, planned, plans, scheduled, will be,
        headed to, heading to, headed for, off to, on their way, on the way, moving to, moves to,
        going, next, go, goes, send, sending, move, supposed to, due, wanna, theyll, shell, hell,
        well do, ill, soon, put, start, starts, can go, do, moving, switch to, switching to, want,
        wants, ready to, waiting for, waiting on, remind, get to go, gets to go, then on to, in a
        bit, in a minute, in a sec, later today, make sure, dont forget, remember to, have them,
        let, tell, after this, this week, next week, switch, swap, assign, assigned, assigned to,
        bring, get, take, is next, are next, starts at, starting at, goes to, gets, will do, would
        go, try, hasnt yet, hopes to, in the morning, about ready, moving on to, moved on to, move
        on to, is up for, are up for, up for, keep
    """,
    Kind.IF: """
        if, whenever, once, unless, until, till, as soon as, in case, suppose, would, could,
        might, may, should have, shouldve, wish, wishes, hope, hopes, hoping, hopefully, would
        have, wouldve, could have, couldve, id like, would like, would love, ideally, in theory,
        pretend, imagine, whether, can, assuming, provided, tried to, trying to, try to, wanted
        to, meant to, were going to, was going to, was supposed to, were supposed to, asked to,
        asking to, begged to, almost did, what if, if only
    """,
    Kind.DOUBT: """
        think, i think, thinks, maybe, probably, prob, probs, perhaps, guess, i guess, possibly, not
        sure, unsure, dunno, i believe, believe, i assume, assume, supposedly, apparently,
        allegedly, seems, looks like, might have, may have, might of, pretty sure, im pretty sure,
        said, says, told me, claims, claim, claimed, sort of, kind of, kinda, sorta, heard, does,
        before, after, when, either, whatever, not certain, cant remember, dont remember, i forget,
        dont know, idk, i suppose, must have, mustve, fairly sure, almost sure, i hope, iirc, afaik,
        or was it, supposed, instead of, rather than, we all, unless, except maybe, hate, hates,
        last year, so they say, according to, reckon, i reckon, swear, swears, a week since, weeks
        since, a while since, ages since, days since, forever since, a month since, months since,
        last time, the last time, are my, is my, good at, great at, bad at, amazing at, better at,
        best at, terrible at, awesome at, for example, example, e.g., eg, testing, test, or so they
        say
    """,
    Kind.PARTIAL: """
        half, half of, some, some of, part, part of, a few, few, few of, a few of, a couple,
        couple, couple of, a couple of, most, most of, several, several of, one of, two of,
        three of, four of, five of, only some, 1 of, 2 of, 3 of, 4 of, 5 of, nearly, almost,
        almost all, nearly all, partly, partially, barely, mostly, one kid, one child, two kids,
        three kids, someone, somebody, a kid, a child, majority, majority of, the majority of,
        half done, half finished, not quite, not all, not all of, not all of them, not everyone,
        not everybody, almost done, nearly done, one person, one student, a third of, quarter
        of, 1/2, ½, at least, either of, any of, somewhat, bits of, more than, less than, about
        half, two groups, one group, three groups, a group, some groups, the girls, the boys,
        girls, boys, girls in, boys in, the girls in, the boys in, the girls from, the boys
        from, two more, one more, someone from, anyone from, one from, two from, some from, a
        few from, a couple from, three from, half from, a pair from, two others, another kid
    """,
    Kind.STARTED: """
        started, only started, just started, starting, began, beginning, begun, has started,
        have started, still working, still working on, in progress, in the middle of, midway, is
        working on, are working on, working on, working at, still at, still on, still doing,
        still finishing, is doing, are doing, got started, only got started, opened, set up,
        halfway through, half way through, halfway thru, part way, partway, partway through,
        getting started, halfway, half way, not finished yet, not done yet, didnt finish, did
        not finish, havent finished, hasnt finished, never finished, wasnt finished, werent
        finished, almost finished, nearly finished, almost through, unfinished, incomplete, get
        started, just starting, just starting on, just began, got going on, still, couldnt
        finish, not quite done, half done with, halfway done, halfway done with, half done, half
        finished, almost done with, almost done, nearly done
    """,
    Kind.WHOLE: """
        both, both of, the two
    """,
    Kind.UNIT: """
        kids, kid, children, child, students, student, people, friends, ppl, minutes, minute,
        min, mins, hours, hour, hrs, times, time, days, day, weeks, week, sheets, sheet,
        counters, counter, pieces, piece, packs, pack, copies, copy, more, extra, left over,
        cups, dollars, percent, %, months, month, seconds, secs, points, seats, spots, pm, am,
        pairs, cubes, tries, years, year, bags, stars, boys, girls, boy, girl, of them, of us,
        groups, teams, rounds, yr olds, year olds, blocks, magnets left, bins, boxes, centers,
        left, short, o clock, oclock, th grade, st grade, nd grade, fingers, moves, legs,
        pencils, crayons
    """,
    Kind.STOP: ". ; !",
    Kind.QUERY: "?",
    Kind.COMMA: ", / | •",
    Kind.COLON: ":",
    Kind.KEY: """
        autocorrect, stupid phone, fat fingers, should say, add, uncheck, unmark, undo, redo,
        help, thanks, left, remaining, remain, remains, yet, oops, correction, i meant,
        actually, meant, whoops, sorry, that was, wrong, instead, explain, ditto, same, same
        for, same as, it was, make that, should be, should have been, shouldve been, scratch,
        cancel, delete, remove, erase, take off, revert, wait, my bad, mistake, typo, i mean,
        change that to, change it to, change that, change it, fix, not that,
        digest, summary, briefing, rundown, overview, recap, nudge, nudges, nudging, mute,
        unmute, snooze, reminder, reminders, notification, notifications
    """,
    Kind.CHATTER: """
        apart, separate, separated, together, chart, home, leaving, lose, manage, match,
        print, schools, shift, begin, begins, brings, keeps, lasts, names, works, cold,
        finishers, ignore, schedule,
        swaps, swapped, swapping, switches, switched, switching, exchange, exchanges, exchanged,
        exchanging, replace, replaces, replaced, replacing, trade, traded, trading, rotate,
        rotates, rotated, rotating, substitute, retire, retires, retired, retiring, shelf, shelve,
        close, closes, closed, closing, stays, staying, extend, extends, extended, extending,
        longer, introduce, launch, becomes, covered, cover, covers, standard, standards,
        suggest, suggestion, suggestions, recommend, anyways, regardless,
        spilled, spill, drew, draw, drawing, drawings, cleaned, cleaned up, cleanup, tidied,
        tidied up, tidy, wrote, write, writing, build, building, cried, crying, laughed,
        smiled, loved, love, loves, liked, like, likes, enjoyed, helped, helping, shared,
        sharing, talked, talking, asked, asks, noticed, found, find, fixed, broke, broken,
        dumped, threw, ate, drank, makes, make, making, took, taking, taken, gave, give,
        giving, showed, show, shows, brought, lost, hit her, fought, fighting, argued, worked,
        working, work, set, kept, returned, cheered, watched, watching, look, looks,
        looked, looking, see, saw, seen, know, knows, knew, say, notice, listened, focused,
        spilling, painted, counted, tried, measured, mixed, rolled, stacked, tested,
        wants it, scared, called, calls, ask, asking, needs help, stuck, slept, sleeping, sang,
        read, reading, ran out, came, come, comes, coming, stayed, stay, sits, sit, sitting,
        stand, standing, walk, walked, play, playing, plays, explains, learned, learning,
        learns, taught, teach, teaching, cut, glued, dropped it, knocked over, picked, picked
        up, packing, packed, packed up, put away, pushed, pulled it, fell, falling, falls, bit,
        bites, hurt, bleeding, leaking, dripping, wet, dry, messy, mess, sticky, dirty, hungry,
        tired, sleepy, sad, mad, angry, upset, excited, proud, happy, silly, wild, loud, noisy,
        quiet, busy, chaos, chaotic, crazy, hectic, rough, fire, alarm, drill, nurse, office,
        parent, mom, dad, mum, email, call, phone, bus, recess, lunch, snack, assembly, library,
        music, gym, pe, art class, rug, carpet, floor, desk, corner, window, door, outside,
        water, rain, rainy, snow, snowy, weather, car, paint, paper, scissors, glue, picture,
        pictures, photo, photos, journal, journals, tower, towers, block, party, birthday,
        shirt, shoes, hair, eyes, dress, hat, coat, backpack, spot, place, seat, chair, sat
    """,
    Kind.PLAIN: """
        wed, theyd, hed, shed, youd, id, weve, theyve, hes, shes, theyre, yayyy, yay, omggg,
        finallyyy, okayyy, yesss, yup, woah, whoa, question mark, jst, js, jus, present, all
        present, happened, after assembly, before assembly, after specials, after gym, after pe,
        after music, somehow, named, called, about, everything, teh, tell it, tell it that, tell you
        that, to tell you, boy, was it, after all, tho, rn, atm, having, period, comma, new line,
        newline, aka, twice, flat, again and again, heres how it went, how it went, this is how it
        went, would ya, would you, will you, could you, can you, would u, can u, could u, after
        that, after which, at first, or so, tbh, imo, finaly, finallly, til now, til, ever so, half
        an hour, as one, every last one, in full, on the dot, 100, 10/10, a+, job well, so proud, my
        goodness, oh my, a, an, the, this, that, these, those, it, its, itself, they, them, their,
        theirs, theyre, theyve, he, she, him, her, his, hers, we, us, our, ours, weve, i, me, my,
        mine, im, ive, you, your, yours, u, ur, one, ok, okay, k, kk, hi, hey, hello, hiya, morning,
        good morning, good afternoon, afternoon, evening, yes, yep, yeah, ya, sure, please, pls,
        plz, plse, so, well, now, right now, right, just, already, all, today, here, there, over,
        up, down, out, off, back, of, from, by, as, be, being, was, were, has, have, am, very,
        really, super, so much, much, many, lot, lots, a lot, quite, pretty, again, finally, great,
        nice, nicely, awesome, amazing, wonderful, fantastic, lovely, fun, funny, had fun, had a
        blast, had a great time, had a good time, happily, good, job, good job, great job, nice
        work, well done, something, nothing else, anything, thing, things, stuff, woohoo, woo, wow,
        phew, whew, lol, haha, hah, ha, omg, omgg, ugh, argh, yikes, btw, fyi, anyway, anyways, um,
        uh, uhh, umm, hmm, hm, er, ah, oh, ooh, aha, eh, huh, you know, basically, literally,
        honestly, because, cause, cuz, bc, since, even, though, although, however, during, between,
        around, near, while, quickly, quick, fast, slowly, slow, early, late, easily, together,
        alone, by themselves, on their own, independently, themselves, herself, himself, each,
        other, class, classroom, room, teacher, ms, mrs, mr, aide, friend, school, stem, science,
        math, engineering, day, bot, chat, first, second, third, last, previous, full, fully,
        totally, completely, entirely, successfully, officially, properly, perfectly, beautifully,
        entire, whole, only, simply, update, updates, report, reporting, heads up, quick note, quick
        update, note, noted, log please, please log, can you log, could you log, can you please log,
        could you please log, would you log, can u log, for the record, records, list, tally,
        tracker, ready, on time, in time, earlier, ago, just now, moment, moments, sec, bit, time,
        minutes, way, thx, thank you, ty, cheers, bye, another, any, every, such, than, them all,
        what a day, i know, as usual, as always, as planned, no problem, no problems, no issues, no
        issue, no drama, without issue, without problems, not bad, no worries, no tears, no
        complaints, for sure, of course, for once, at last, once again, one more time, surprisingly,
        thankfully, luckily, sadly, guys, folks, ladies, gang, bunch, kiddos, kiddo, littles,
        cuties, sweethearts, angels, monsters, wonderfully, brilliantly, smoothly, swimmingly,
        peacefully, quietly, excellent, excellently, solid, strong, strongly, fine, alright, cool,
        neat, sweet, perfect, brilliant, superb, impressive, impressed, surprised, delighted,
        thrilled, beaming, grinning, smiling, giggling, hi there, gm, kindly, dear, colleague, sub,
        substitute, texting, message, msg, sorry for, sorry about, text, forgot to say, forgot to
        log, forgot to tell you, forgot to text, forgot to mention, forgot to add, forgot to write,
        forgot to put, forgot, almost forgot, dont forget to log, before i forget, did i mention,
        should mention, need to log, need to add, want to log, wanted to log, gotta log, let me log,
        lemme log, to report, to log, to say, to note, as of now, so far, nicely done, great work,
        good work, went well, went great, went fine, did great, did well, did good, went smoothly,
        no fuss, super fast, super quick, like a charm, like champs, like pros, before speech, after
        speech, before ot, after ot, before pt, after pt, before music, before library, after
        library, before gym, before pe, before art, after art, before dismissal, before the bell,
        after the bell, before pickup, while the others were at music, while the others were at gym,
        while the others were at library, oh no, uh oh, oh dear, oh shoot, oh man, before lunch,
        after lunch, before recess, after recess, after snack, before snack, this afternoon, this
        time, this round, this rotation, this morning, at once, in the end, by now, and all, ran
        smoothly, rotation, rotations, round, slot, session, let you know, letting you know, to let
        you know, wanted to let you know, just wanted to say, just wanted to tell you, i can report,
        can confirm, i can confirm, confirmed, confirming, confirm, checking in, quick check in,
        hope youre well, hope all is well, how are you, hope your day is going well, boom, bam,
        woot, booyah, hooray, hurray, mission accomplished, success, victory, whoo, woop, whoop,
        high five, go team, still here, me again, its me, tagging along, tagged along, in tow, on
        board, as of right now, up to date, actually, theres, heres, thats, turn, turns, her turn,
        his turn, their turn, their turns, whole thing, u know, gosh, goodness, man, boy oh boy,
        dude, yall, hon, team teacher, of mine, own, same time, at the same time, meanwhile, kids,
        kid, children, child, students, student, friends, peeps, babies, smarties, scientists,
        engineers, mathematicians, builders, explorers, learners, little ones, crew, everybody good,
        per, via, re, etc, sir, maam, madam, ive got, weve got, i have, we have, ended up, went
        ahead, managed to, managed, able to, were able to, was able to, got around to, able,
        happened to, decided, chose, choosing, moving on, moved on, ready to move on, all packed up,
        this am, this pm, in the am, in the pm, a few minutes ago, a few mins ago, few minutes ago,
        a couple minutes ago, a couple of minutes ago, couple minutes ago, a minute ago, 5 minutes
        ago, five minutes ago, ten minutes ago, a little while ago, a while ago, a bit ago, a second
        ago, a sec ago
    """,
}


def _table() -> dict[tuple[str, ...], tuple[Kind, ...]]:
    table: dict[tuple[str, ...], list[Kind]] = {}
    for kind, words in _WORDS.items():
        by_space = kind in (Kind.STOP, Kind.QUERY, Kind.COMMA, Kind.COLON)
        for word in words.split(None if by_space else ","):
            if word.strip():
                table.setdefault(tuple(word.split()), []).append(kind)
    return {phrase: tuple(kinds) for phrase, kinds in table.items()}


LEXICON: Mapping[tuple[str, ...], tuple[Kind, ...]] = _table()
"""Folded phrase -> what it can do in a sentence, likeliest first."""

SPELT_RIGHT: frozenset[str] = frozenset((
    "along", "anymore", "appointment", "appointments", "appt", "appts", "arrive", "arrived",
    "arrives", "arriving", "assembly", "attend", "attending", "aunt", "auntie", "away",
    "babysitter", "become", "becomes", "bell", "belongs", "block", "brother", "buses", "calling",
    "caught", "change", "changed", "clinic", "collecting", "combine", "concussion", "cough",
    "counseling", "counselor", "court", "covid", "cruise", "daddy", "daily", "delay", "dentist",
    "dentists", "depart", "departing", "departs", "dismiss", "dismissal", "dismissed", "dismisses",
    "dismissing", "dissolve", "doctor", "doctors", "dropping", "drops", "early", "excused",
    "family", "father", "feeling", "felt", "fever", "field", "flu", "funeral", "getting", "gone",
    "grabbing", "grandfather", "grandma", "grandmother", "grandpa", "grandparents", "guardian",
    "guest", "head", "headache", "headed", "heading", "heads", "holiday", "hospital", "infection",
    "interview", "join", "joins", "keeping", "leave", "lice", "mama", "meeting", "meets", "misses",
    "mother", "nana", "nanny", "nix", "nurses", "opening", "orthodontist", "parents", "physical",
    "pick", "picking", "picks", "pickup", "principal", "pulling", "pulls", "rash", "reassign",
    "release", "released", "return", "returning", "returns", "running", "screening", "screenings",
    "seeing", "sees", "sent", "showing", "signed", "sister", "sitter", "skipping", "speaker",
    "speech", "stick", "strep", "suspended", "takes", "tardy", "testing", "therapist", "therapy",
    "throwing", "traveling", "trip", "trips", "uncle", "unenrolled", "vacation", "virus",
    "visiting", "vomited", "withdrawn",
))  # fmt: skip
"""Words of other skills, known to be spelt as they are: no slip of a name or of another word."""

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
TENS_WORDS: Mapping[str, int] = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
DICTATED_NUMBERS: Mapping[str, int] = {
    "won": 1, "to": 2, "too": 2, "tree": 3, "free": 3, "for": 4, "fore": 4, "sex": 6, "ate": 8,
}  # fmt: skip
"""Words that dictation writes for a number, right after the word "group" only."""
