"""The class folder: `read_folder` takes one, `shift_weeks` moves one in time."""

from bot.folder.problems import Kind, Problem, Problems
from bot.folder.reading import read_folder
from bot.folder.shift import shift_weeks, weeks_to_middle
from bot.folder.values import ClassFolder

__all__ = [
    "ClassFolder",
    "Kind",
    "Problem",
    "Problems",
    "read_folder",
    "shift_weeks",
    "weeks_to_middle",
]
