"""A class as plain facts: subject -> key -> field -> value, from a folder or from the class book.

Both sides speak the same way, so that a folder, the folder loaded before it and the class as it
stands
can be laid side by side. Values are what JSON can hold.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, time

from bot.folder.values import ClassFolder
from storage.records import (
    Away,
    Bin,
    Claim,
    Class,
    Count,
    Roster,
    Stint,
    Student,
    Supply,
    Unit,
)

Fields = dict[str, object]
Facts = dict[str, dict[str, Fields]]
SUBJECTS = (
    "class", "student", "apart", "bin", "stint", "supply", "station", "rotation", "away", "unit",
    "closure", "visit",
)  # fmt: skip
_SEPARATOR = "\x1f"  # no cell of a folder can hold it


def key_of(*parts: object) -> str:
    """One key out of several parts."""
    return _SEPARATOR.join("" if part is None else str(part) for part in parts)


def parts_of(key: str) -> list[str]:
    """The parts of a key."""
    return key.split(_SEPARATOR)


def folder_facts(folder: ClassFolder) -> Facts:
    """What a folder says."""
    settings = folder.settings
    facts: Facts = {subject: {} for subject in SUBJECTS}
    facts["class"][""] = {
        "time_zone": settings.time_zone,
        "digest_at": _plain(settings.digest_at),
        "quiet_before": _plain(settings.quiet_before),
        "quiet_after": _plain(settings.quiet_after),
        "school_days": list(settings.school_days),
        "absence_rate": settings.absence_rate,
        "keep_groups": str(settings.keep_groups),
    }
    for position, child in enumerate(folder.students):
        facts["student"][child.name] = {
            "group": child.group,
            "goes_by": list(child.goes_by),
            "code": child.code,
            "avoids": list(child.avoids),
            "joined": _plain(child.joined),
            "left": _plain(child.left),
            "position": position,
        }
        for other in child.keep_apart:
            facts["apart"][key_of(*sorted((child.name, other)))] = {}
    for line in folder.bins:
        facts["bin"][line.bin] = {
            "also_called": list(line.also_called),
            "unit": line.unit,
            "standards": list(line.standards),
            "cautions": list(line.cautions),
            "seats": line.seats,
            "visits_each": line.visits_each,
        }
        if line.is_stint:
            facts["stint"][key_of(line.bin, line.opens)] = {
                "color": line.color,
                "closes": _plain(line.last_day),
                "seats": line.seats,
                "visits_each": line.visits_each,
            }
    for item in folder.supplies:
        facts["supply"][key_of(item.bin, item.item)] = {
            "kind": str(item.kind),
            "per_visit": item.per_visit,
            "per_tub": item.per_tub,
            "pack_size": item.pack_size,
            "lead_days": item.lead_days,
            "contains": list(item.contains),
            "on_hand": item.on_hand,
            "counted_on": _plain(item.counted_on),
        }
    facts["station"] = {s.station: {"seats": s.seats} for s in folder.stations}
    facts["rotation"] = {
        key_of(weekday, _plain(slot.starts)): {"minutes": slot.minutes}
        for slot in folder.rotations
        for weekday in slot.weekdays
    }
    for away in folder.aways:
        for weekday in away.weekdays or (None,):
            key = key_of(
                away.student,
                away.from_day,
                away.to_day,
                weekday,
                _plain(away.starts),
                _plain(away.ends),
            )
            facts["away"][key] = {"reason": away.reason or None}
    for unit in folder.units:
        facts["unit"][unit.unit] = {
            "first": _plain(unit.from_day),
            "last": _plain(unit.to_day),
            "standards": list(unit.standards),
        }
    for closure in folder.closures:
        facts["closure"][key_of(closure.day, "", "")] = {"reason": closure.summary}
    for block in folder.blocks:
        key = key_of(block.day, _plain(block.starts), _plain(block.ends))
        facts["closure"][key] = {"reason": block.summary}
    for visit in folder.visits:
        facts["visit"][key_of(visit.student, visit.bin, visit.day)] = {}
    return facts


Rows = dict[str, dict[str, tuple[int, Fields]]]


def class_rows(roster: Roster, counts: Iterable[Count] = ()) -> Rows:
    """What the class book says today, in the same terms, with the id of each row."""
    settings = roster.class_
    last_count = {count.supply_id: count for count in counts}
    names = {child.id: child.name for child in roster.students}
    return {
        "class": {"": (settings.id, _settings(settings))},
        "student": {s.name: (s.id, _student(roster, s)) for s in roster.students},
        "apart": {
            key_of(*sorted((names[p.student_id], names[p.other_id]))): (p.id, {})
            for p in roster.apart
        },
        "bin": {b.name: (b.id, _bin(b)) for b in roster.bins},
        "stint": {key_of(roster.bin_of(s).name, s.opens): (s.id, _stint(s)) for s in roster.stints},
        "supply": {
            key_of(roster.bin[s.bin_id].name, s.item): (s.id, _supply(s, last_count.get(s.id)))
            for s in roster.supplies
        },
        "station": {s.name: (s.id, {"seats": s.seats}) for s in roster.stations},
        "rotation": {
            key_of(r.weekday, _plain(r.starts)): (r.id, {"minutes": r.minutes})
            for r in roster.rotations
        },
        "away": {_away_key(roster, a): (a.id, {"reason": a.reason}) for a in roster.aways},
        "unit": {u.name: (u.id, _unit(u)) for u in roster.units},
        "closure": {
            key_of(c.day, _plain(c.starts), _plain(c.ends)): (c.id, {"reason": c.reason})
            for c in roster.closures
        },
    }


def class_facts(roster: Roster, counts: Iterable[Count], visits: Iterable[Claim]) -> Facts:
    """The same without ids, and with every visit on record."""
    rows = class_rows(roster, counts)
    facts = {
        subject: {key: fields for key, (_, fields) in found.items()}
        for subject, found in rows.items()
    }
    return {**facts, "visit": {_visit_key(roster, claim): {} for claim in visits}}


def _settings(settings: Class) -> Fields:
    return {
        "time_zone": settings.time_zone,
        "digest_at": _plain(settings.digest_at),
        "quiet_before": _plain(settings.quiet_before),
        "quiet_after": _plain(settings.quiet_after),
        "school_days": list(settings.school_days),
        "absence_rate": settings.absence_rate,
        "keep_groups": settings.keep_groups,
    }


def _student(roster: Roster, child: Student) -> Fields:
    return {
        "group": _lasting_group(roster, child),
        "goes_by": list(child.goes_by),
        "code": child.code,
        "avoids": list(child.avoids),
        "joined": _plain(child.joined),
        "left": _plain(child.left),
        "position": child.position,
    }


def _bin(bin_: Bin) -> Fields:
    return {
        "also_called": list(bin_.also_called),
        "unit": bin_.unit,
        "standards": list(bin_.standards),
        "cautions": list(bin_.cautions),
        "seats": bin_.seats,
        "visits_each": bin_.visits_each,
    }


def _stint(stint: Stint) -> Fields:
    return {
        "color": stint.color,
        "closes": _plain(stint.closes),
        "seats": stint.seats,
        "visits_each": stint.visits_each,
    }


def _supply(item: Supply, counted: Count | None) -> Fields:
    return {
        "kind": item.kind,
        "per_visit": item.per_visit,
        "per_tub": item.per_tub,
        "pack_size": item.pack_size,
        "lead_days": item.lead_days,
        "contains": list(item.contains),
        "on_hand": counted.on_hand if counted else None,
        "counted_on": _plain(counted.counted_on) if counted else None,
    }


def _unit(unit: Unit) -> Fields:
    return {
        "first": _plain(unit.first),
        "last": _plain(unit.last),
        "standards": list(unit.standards),
    }


def _visit_key(roster: Roster, claim: Claim) -> str:
    turn = claim.turn
    name = roster.bin_of(roster.stint[turn.stint_id]).name
    return key_of(roster.student[turn.student_id].name, name, turn.day)


def _away_key(roster: Roster, away: Away) -> str:
    return key_of(
        roster.student[away.student_id].name,
        away.first,
        away.last,
        away.weekday,
        _plain(away.starts),
        _plain(away.ends),
    )


def _lasting_group(roster: Roster, child: Student) -> str | None:
    """The group a child stays with: the newest membership without a last day."""
    open_ended = [m for m in roster.memberships if m.student_id == child.id and m.last is None]
    return roster.group[open_ended[-1].group_id].name if open_ended else None


def _plain(value: date | time | None) -> str | None:
    if isinstance(value, time):
        return f"{value:%H:%M}"
    return None if value is None else value.isoformat()


def copy_of(facts: Mapping[str, Mapping[str, Mapping[str, object]]]) -> Facts:
    """Facts as read back from JSON, with every subject present."""
    return {
        subject: {key: dict(fields) for key, fields in facts.get(subject, {}).items()}
        for subject in SUBJECTS
    }
