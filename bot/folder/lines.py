"""One row of each file to its value. Names in it stay as written; `settling` sees to them."""

from bot.folder import columns as col
from bot.folder.rows import Row
from bot.folder.values import (
    Away,
    BinLine,
    ClassSettings,
    RotationLine,
    Station,
    Student,
    Supply,
    SupplyKind,
    Unit,
    Visit,
)


def class_line(row: Row, *, name: str, zone: str) -> ClassSettings:
    """The class; `name` and `zone` hold where the file does not say."""
    return ClassSettings(
        name=row.take(col.CLASS_NAME) or name,
        time_zone=row.take(col.TIME_ZONE) or zone,
        digest_at=row.take(col.DIGEST_AT),
        quiet_before=row.take(col.QUIET_BEFORE),
        quiet_after=row.take(col.QUIET_AFTER),
        school_days=row.take(col.SCHOOL_DAYS),
        absence_rate=row.take(col.ABSENCE_RATE),
        keep_groups=row.take(col.KEEP_GROUPS),
        place=row.place,
    )


def student_line(row: Row) -> Student:
    """One child."""
    return Student(
        name=row.take(col.STUDENT_NAME),
        group=row.take(col.GROUP),
        goes_by=row.take(col.GOES_BY),
        code=row.take(col.CODE),
        avoids=row.take(col.AVOIDS),
        keep_apart=row.take(col.KEEP_APART),
        joined=row.take(col.JOINED),
        left=row.take(col.LEFT),
        place=row.place,
    )


def bin_line(row: Row) -> BinLine:
    """A bin, out or on the shelf; `last_day` is not known yet."""
    return BinLine(
        bin=row.take(col.BIN),
        also_called=row.take(col.ALSO_CALLED),
        color=row.take(col.COLOR),
        opens=row.take(col.OPENS),
        closes=row.take(col.CLOSES),
        last_day=None,
        seats=row.take(col.BIN_SEATS),
        visits_each=row.take(col.VISITS_EACH),
        unit=row.take(col.BIN_UNIT),
        standards=row.take(col.STANDARDS),
        cautions=row.take(col.CAUTIONS),
        place=row.place,
    )


def supply_line(row: Row) -> Supply:
    """An item; where `kind` is blank, one counted into tubs is a piece, others are used up."""
    unsaid = SupplyKind.PIECE if row.tells(col.PER_TUB) else SupplyKind.CONSUMABLE
    return Supply(
        bin=row.take(col.BIN),
        item=row.take(col.ITEM),
        kind=row.take(col.SUPPLY_KIND) or unsaid,
        per_visit=row.take(col.PER_VISIT),
        per_tub=row.take(col.PER_TUB),
        on_hand=row.take(col.ON_HAND),
        counted_on=row.take(col.COUNTED_ON),
        pack_size=row.take(col.PACK_SIZE),
        lead_days=row.take(col.LEAD_DAYS),
        contains=row.take(col.CONTAINS),
        place=row.place,
    )


def station_line(row: Row) -> Station:
    """A place that is no bin."""
    return Station(row.take(col.STATION), row.take(col.STATION_SEATS), row.place)


def rotation_line(row: Row) -> RotationLine:
    """A time slot; no weekdays yet where the cell is blank."""
    weekdays = row.take(col.ROTATION_WEEKDAY)
    return RotationLine(weekdays, row.take(col.ROTATION_STARTS), row.take(col.MINUTES), row.place)


def away_line(row: Row) -> Away:
    """When a child is away; a day without an end or a weekday is that one day."""
    first, last = row.take(col.FROM), row.take(col.TO)
    weekdays = row.take(col.AWAY_WEEKDAY)
    one_day = not row.tells(col.TO) and not row.tells(col.AWAY_WEEKDAY)
    return Away(
        student=row.take(col.WHO),
        from_day=first,
        to_day=first if one_day else last,
        weekdays=weekdays,
        starts=row.take(col.STARTS),
        ends=row.take(col.ENDS),
        reason=row.take(col.REASON),
        place=row.place,
    )


def unit_line(row: Row) -> Unit:
    """What is taught between two days."""
    first, last = row.take(col.FROM), row.take(col.TO)
    return Unit(row.take(col.UNIT), first, last, row.take(col.STANDARDS), row.place)


def visit_line(row: Row) -> Visit:
    """A turn taken before the bot."""
    return Visit(row.take(col.WHO), row.take(col.BIN), row.take(col.DAY), row.place)
