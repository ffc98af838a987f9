"""Errors a user can cause. Each says what was wrong and what to do; none needs a traceback."""

from __future__ import annotations


def printing(text: str) -> str:
    """Spell out what a terminal would obey rather than show: control characters, direction signs and the like."""
    return "".join(char if char.isprintable() else char.encode("unicode_escape").decode() for char in text)


class SlotwrightError(Exception):
    """Base of every error that is shown to the user as one line."""


class SizeError(SlotwrightError, ValueError):
    """A text that is no size of the wanted sort.

    Args:
        text: what was read, shortened for showing.
        problem: the rule that was broken.
        remedy: what to write instead.
    """

    def __init__(self, text: str, problem: str, remedy: str) -> None:
        super().__init__(text, problem, remedy)
        self.text = text
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.text!r} {self.problem}; {self.remedy}"


class UnfitFileError(SlotwrightError, ValueError):
    """A file that does not serve; who knows its name puts it before.

    Args:
        problem: the rule that was broken.
        remedy: what to do.
    """

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem, remedy)
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.problem}; {self.remedy}"


class NotListedError(SlotwrightError, LookupError):
    """A look-up in a table of a standard that found nothing.

    Args:
        wanted: what was looked for.
        table: where, by its name in the trade.
        listed: what there is.
        near: which of these is most likely meant, or "".
    """

    def __init__(self, wanted: str, table: str, listed: tuple[str, ...], near: str = "") -> None:
        super().__init__(wanted, table, listed, near)
        self.wanted = wanted
        self.table = table
        self.listed = listed
        self.near = near

    def __str__(self) -> str:
        likely = f"did you mean {self.near}? " if self.near else ""
        return f"{self.wanted} is not in {self.table}; {likely}there is: {', '.join(self.listed)}"


class DesignError(SlotwrightError, ValueError):
    """A file that says something it may not.

    Args:
        file: the file's name as the user gave it.
        key: dotted path of the key, list places counted from 1, or "" for the file as a whole.
        problem: the value with its unit and the rule it broke.
        remedy: what to do.
    """

    def __init__(self, file: str, key: str, problem: str, remedy: str) -> None:
        super().__init__(file, key, problem, remedy)
        self.file = file
        self.key = key
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        file = printing(self.file)
        place = f"{file}: {self.key}" if self.key else file
        return f"{place}: {self.problem}; {self.remedy}"


class UnknownKindError(DesignError):
    """A design's fixture of a kind that is not known here."""


class OutputError(SlotwrightError, OSError):
    """An output that could not be written; what was there before still stands."""

    def __init__(self, place: str, problem: str, remedy: str) -> None:
        super().__init__(place, problem, remedy)
        self.place = place
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{printing(self.place)}: {self.problem}; {self.remedy}"
