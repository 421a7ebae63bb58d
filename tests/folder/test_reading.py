"""What a class folder may look like, and the values it becomes."""

from collections.abc import Callable, Mapping
from datetime import date, time

import pytest

from bot.folder.values import (
    Away,
    BinLine,
    ClassFolder,
    ClassSettings,
    FileRead,
    KeepGroups,
    Place,
    RotationLine,
    Station,
    Student,
    Supply,
    SupplyKind,
    Unit,
    Visit,
)

Clean = Callable[[Mapping[str, str | bytes]], ClassFolder]

NOWHERE = Place("", 0)


def student(name: str, *, group: str | None = None) -> Student:
    """A child of whom only that is known."""
    return Student(name, group, (), None, (), (), None, None, NOWHERE)


def test_students_alone_are_a_class(clean: Clean) -> None:
    """Everything else has the defaults of the design."""
    folder = clean({})
    assert folder == ClassFolder(
        settings=ClassSettings(
            name="Room 7",
            time_zone="America/Chicago",
            digest_at=time(7, 0),
            quiet_before=time(6, 30),
            quiet_after=time(18, 0),
            school_days=(0, 1, 2, 3, 4),
            absence_rate=0.06,
            keep_groups=KeepGroups.MOSTLY,
            place=NOWHERE,
        ),
        students=(student("Ava R."), student("Ben T.")),
        bins=(),
        supplies=(),
        stations=(),
        rotations=(),
        aways=(),
        units=(),
        visits=(),
        closures=(),
        blocks=(),
        files=(FileRead("students.csv", ("name",)),),
    )


def test_values_know_their_line(clean: Clean) -> None:
    """Lines count from 1, blank lines and lines inside quotes too."""
    folder = clean({"students.csv": 'name,group\n\n"Ava\nR.",1\nBen T.,2\n'})
    assert [(one.name, one.place) for one in folder.students] == [
        ("Ava R.", Place("students.csv", 3)),
        ("Ben T.", Place("students.csv", 5)),
    ]


@pytest.mark.parametrize(
    "content",
    [
        b"\xef\xbb\xbfname,group\r\nAva R.,1\r\nBen T.,2\r\n",
        b"name,group\rAva R.,1\rBen T.,2\r",
        b"\n\nname,group\n\n,\nAva R.,1\n\nBen T.,2",
        b"name,group,,\nAva R.,1,,\nBen T.,2,,,,\n",
        b" Name , GROUP \n  Ava   R. ,\t1\nBen T.,2\n",
        b"group,name\n1,Ava R.\n2,Ben T.\n",
        b'"name","group"\n"Ava R.","1"\n"Ben T.","2"\n',
        b"name,group\nAva\xc2\xa0R.,1\n\xe2\x80\x8bBen T.,2\n",
    ],
    ids=["bom crlf", "cr", "blanks", "trailing", "spaces", "order", "quotes", "invisible"],
)
def test_same_roster_in_many_forms(clean: Clean, content: bytes) -> None:
    """What spreadsheet programs and hands do to a file changes nothing."""
    students = clean({"students.csv": content}).students
    assert students == (student("Ava R.", group="1"), student("Ben T.", group="2"))


def test_short_rows_are_blank_at_the_end(clean: Clean) -> None:
    """A row may stop early."""
    students = clean({"students.csv": "name,group,code\nAva R.\nBen T.,2\n"}).students
    assert students == (student("Ava R."), student("Ben T.", group="2"))


def test_names_come_in_nfc_and_formulas_are_text(clean: Clean) -> None:
    """Zoë typed in two ways is one name; a cell like a formula is a name like any other."""
    students = clean({"students.csv": "name\nZoe\u0308 M.\n=cmd|x\n"}).students
    assert students == (student("Zo\u00eb M."), student("=cmd|x"))


def test_students_in_full(clean: Clean) -> None:
    """Lists are split at `;`; keep_apart may name a code and comes out as full names."""
    roster = (
        "Name,Goes By,code,avoids,Keep-Apart,joined,left\n"
        "José G.,Pepe; Pep;;Pepe,A1,wheat;nuts,b2;jose g,2026-09-01,2026-12-18\n"
        "Ben T.,José G.,B2,,,,\n"
    ).replace("b2;jose g", "b2;BEN T")
    first = clean({"students.csv": roster}).students[0]
    assert first == Student(
        name="José G.",
        group=None,
        goes_by=("Pepe", "Pep"),
        code="A1",
        avoids=("wheat", "nuts"),
        keep_apart=("Ben T.",),
        joined=date(2026, 9, 1),
        left=date(2026, 12, 18),
        place=NOWHERE,
    )


def test_settings_in_full(clean: Clean) -> None:
    """Times may have one digit or am and pm, rates a percent sign, zones any case."""
    settings = clean(
        {
            "class.csv": "name,time_zone,digest_at,quiet_before,quiet_after,school_days,"
            "absence_rate,keep_groups\nOwls,america/new york,7:05,6:00 am,5 pm,"
            "Mon;Tue;Thu-Fri,8%,Firmly\n".replace("5 pm", "5:30 pm")
        }
    ).settings
    assert settings == ClassSettings(
        name="Owls",
        time_zone="America/New_York",
        digest_at=time(7, 5),
        quiet_before=time(6, 0),
        quiet_after=time(17, 30),
        school_days=(0, 1, 3, 4),
        absence_rate=0.08,
        keep_groups=KeepGroups.FIRMLY,
        place=NOWHERE,
    )


def test_class_file_without_a_line_or_a_name(clean: Clean) -> None:
    """Blank cells and a bare header leave the defaults."""
    assert clean({"class.csv": "name\n"}).settings.name == "Room 7"
    assert clean({"class.csv": "keep_groups\nloosely\n"}).settings.keep_groups == "loosely"


BINS = (
    "bin,also_called,color,opens,closes,seats,visits_each,unit,standards,cautions\n"
    "Ramps,slides,red,2026-11-02,2026-11-29,5,,Forces,S1;S2,sharp points\n"
    "ramps,hills,pink,2026-12-07,,,2,,S3,Sharp Points;wheels\n"
    "Gears,,,,,,,,,\n"
)


def test_lines_of_one_bin_share_its_facts(clean: Clean) -> None:
    """One spelling, one unit, one number of seats; lists together; visits asked stay apart."""
    facts = {
        "bin": "Ramps",
        "also_called": ("slides", "hills"),
        "seats": 5,
        "unit": "Forces",
        "standards": ("S1", "S2", "S3"),
        "cautions": ("sharp points", "wheels"),
    }
    first, second, third = clean({"bins.csv": BINS}).bins
    assert {name: getattr(first, name) for name in facts} == facts
    assert {name: getattr(second, name) for name in facts} == facts
    assert (first.visits_each, second.visits_each) == (1, 2)
    assert (first.is_stint, second.is_stint, third.is_stint) == (True, True, False)
    assert third == BinLine("Gears", (), None, None, None, None, 4, 1, None, (), (), NOWHERE)


def test_stint_closes_on_a_school_day(clean: Clean) -> None:
    """Sunday 29 November goes back to Friday, with the break to Tuesday; year-round has no end."""
    assert [one.last_day for one in clean({"bins.csv": BINS}).bins] == [
        date(2026, 11, 27),
        None,
        None,
    ]
    closed = (
        "BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:1\nDTSTART;VALUE=DATE:20261125\n"
        "DTEND;VALUE=DATE:20261128\nSUMMARY:Break\nEND:VEVENT\nEND:VCALENDAR\n"
    )
    first = clean({"bins.csv": BINS, "calendar.ics": closed}).bins[0]
    assert (first.closes, first.last_day) == (date(2026, 11, 29), date(2026, 11, 24))


def test_what_a_sensible_folder_may_hold(clean: Clean) -> None:
    """Bins in turn in one color, also over a weekend; units side by side; weekend visits."""
    folder = clean(
        {
            "bins.csv": "bin,color,opens,closes,unit\nRamps,red,2026-11-02,2026-11-08,Light\n"
            "Gears,red,2026-11-07,2026-11-13,Forces\nRamps,red,2026-11-16,,\n",
            "units.csv": "unit,from,to\nLight,2026-11-02,2026-11-20\nForces,2026-11-09,\n",
            "visits.csv": "student,bin,day\nAva R.,Ramps,2026-11-07\nava r,ramps,2026-11-07\n",
            "students.csv": "name,goes_by\nAva R.,Ben T.\nBen T.,\n",
            "old notes.csv": "whatever",
            "students.xlsx": b"PK",
            "photo.jpg": b"\xff\xd8",
        }
    )
    assert folder.visits == (Visit("Ava R.", "Ramps", date(2026, 11, 7), NOWHERE),)
    assert folder.units == (
        Unit("Light", date(2026, 11, 2), date(2026, 11, 20), (), NOWHERE),
        Unit("Forces", date(2026, 11, 9), None, (), NOWHERE),
    )
    assert [one.name for one in folder.files] == [
        *("students.csv", "bins.csv", "units.csv", "visits.csv")
    ]


def test_units_need_no_file(clean: Clean) -> None:
    """A bin may name a unit that no file explains."""
    assert clean({"bins.csv": "bin,unit\nRamps,Forces\n"}).bins[0].unit == "Forces"


def test_supplies(clean: Clean) -> None:
    """Defaults; what is counted into tubs is a piece unless told; a bin by its other name."""
    supplies = clean(
        {
            "bins.csv": BINS,
            "supplies.csv": "bin,item,kind,per_visit,per_tub,on_hand,counted_on,pack_size,"
            "lead_days,contains\nslides,record sheets,,,,,,,,\n"
            "RAMPS,cars,,,2,8,2026-11-13,10,3,metal\n"
            "Gears,dough,Consumables,0.5,,2.5,,,0,wheat;salt\n",
        }
    ).supplies
    used = SupplyKind.CONSUMABLE
    counted = date(2026, 11, 13)
    assert supplies == (
        Supply("Ramps", "record sheets", used, 1, None, None, None, 1, 1, (), NOWHERE),
        Supply("Ramps", "cars", SupplyKind.PIECE, 1, 2, 8, counted, 10, 3, ("metal",), NOWHERE),
        Supply("Gears", "dough", used, 0.5, None, 2.5, None, 1, 0, ("wheat", "salt"), NOWHERE),
    )


def test_stations_and_rotations(clean: Clean) -> None:
    """A blank weekday is every school day; one time may serve several days; touching is fine."""
    folder = clean(
        {
            "stations.csv": "station,seats\nTeacher Table,4\nBook Nook,\n",
            "rotations.csv": "weekday,starts,minutes\n,10:15,\nMon;Wed - Fri,10:35,25\n"
            "tuesdays,1:10 pm,20.0\n",
        }
    )
    assert folder.stations == (
        Station("Teacher Table", 4, NOWHERE),
        Station("Book Nook", None, NOWHERE),
    )
    assert folder.rotations == (
        RotationLine((0, 1, 2, 3, 4), time(10, 15), 20, NOWHERE),
        RotationLine((0, 2, 3, 4), time(10, 35), 25, NOWHERE),
        RotationLine((1,), time(13, 10), 20, NOWHERE),
    )


def test_aways(clean: Clean) -> None:
    """A day alone is that day; with a weekday it is from then on; hours may be open."""
    aways = clean(
        {
            "away.csv": "student,from,to,weekday,starts,ends,reason\n"
            "Ava R.,2026-11-24,,,,,sick\nAva R.,2026-11-24,,Tue,10:15,10:45,speech\n"
            "Ben T.,,2026-12-01,,,,\nBen T.,2026-11-24,,,10:30,,\nBen T.,,,,,9:00,\n"
        }
    ).aways
    day = date(2026, 11, 24)
    assert aways == (
        Away("Ava R.", day, day, (), None, None, "sick", NOWHERE),
        Away("Ava R.", day, None, (1,), time(10, 15), time(10, 45), "speech", NOWHERE),
        Away("Ben T.", None, date(2026, 12, 1), (), None, None, "", NOWHERE),
        Away("Ben T.", day, day, (), time(10, 30), None, "", NOWHERE),
        Away("Ben T.", None, None, (), None, time(9, 0), "", NOWHERE),
    )
