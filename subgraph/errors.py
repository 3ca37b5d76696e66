"""One family of errors: each says where, what is wrong and how to mend it.

Every error a person can cause derives from `SubgraphError`. The fields are data; the sentence is built here and
nowhere else, so that callers never parse text.
"""

from __future__ import annotations

import math
from typing import Any

from msgspec import Struct


def _printable(text: str) -> str:
    """The text with a question mark for each sign that a terminal would act on."""
    return text if text.isprintable() else "".join(c if c.isprintable() else "?" for c in text)


class SubgraphError(Exception):
    """Base of all errors that a user can cause or mend.

    Parameters
    ----------
    what : str
        What is wrong, with the value quoted as written.
    mend : str
        How to mend it; empty where there is nothing to add.
    nearest : tuple of str
        Ids near to an unknown or ambiguous name, best first.
    """

    def __init__(self, what: str, *, mend: str = "", nearest: tuple[str, ...] = ()) -> None:
        self.what = _printable(what)
        self.mend = _printable(mend)
        self.nearest = nearest
        super().__init__(str(self))

    def __str__(self) -> str:
        return f"{self.what}; {self.mend}" if self.mend else self.what


class AskError(SubgraphError):
    """The ask could not be understood (exit code 2)."""


class UnknownNameError(AskError):
    """A name that nobody knows, with the nearest ones."""


class AmbiguousNameError(AskError):
    """A name that several things answer to; never guessed."""


class RangeError(AskError):
    """A number outside the range that a model or a record accepts.

    Parameters
    ----------
    name : str
        What the number is, in words.
    value : float
        The number given.
    low, high : float
        Accepted range, ends included; infinite where there is no bound.
    unit : str
        Unit of the three numbers; empty for a share or a count.
    mend : str
        How to mend it.

    Examples
    --------
    >>> str(RangeError("walking speed", 2.5, 0.8, 1.7, "m/s"))
    'walking speed is 2.5 m/s; the accepted range is 0.8 to 1.7 m/s'
    """

    def __init__(self, name: str, value: float, low: float, high: float, unit: str = "", *, mend: str = "") -> None:
        self.name = name
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit
        after = f" {unit}" if unit else ""
        accepted = f"the accepted range is {low:.6g} to {high:.6g}{after}"
        super().__init__(f"{name} is {value:.6g}{after}", mend=f"{accepted}; {mend}" if mend else accepted)

    @classmethod
    def check(
        cls, name: str, value: float, low: float, high: float, unit: str = "", *, extrapolate: bool | None = None
    ) -> float:
        """Give the number back if it is finite and inside the range.

        Parameters
        ----------
        name, value, low, high, unit
            As in the class.
        extrapolate : bool or None
            Whether any finite number is let through that has a sign the range allows; None where the caller offers no
            such way out.

        Returns
        -------
        float
            `value`.

        Raises
        ------
        RangeError
            If it is not; the message names the accepted range.
        """
        if low <= value <= high and math.isfinite(value):
            return value
        if extrapolate and math.isfinite(value) and (low < 0 or value >= 0):
            return value
        mend = "pass extrapolate=True to go beyond it" if extrapolate is False else ""
        raise cls(name, value, low, high, unit, mend=mend)


class LibraryError(SubgraphError):
    """The knowledge base is damaged: carries every problem found."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        first = problems[0]
        more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
        super().__init__(f"the library has errors: {first}{more}", mend="run `subgraph library check`")


class HouseError(SubgraphError):
    """A house folder that was asked for by name is damaged: nothing is answered."""

    def __init__(self, folder: str, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        count = f"{len(problems)} error{'s' if len(problems) > 1 else ''}"
        super().__init__(
            f"the house folder '{folder}' has {count} and nothing was answered; first: {problems[0]}",
            mend=f"run `subgraph library check --house {folder}`",
        )


class Problem(Struct, frozen=True, order=True):
    """One fault in one place of the library.

    Parameters
    ----------
    file : str
        Path below the library folder.
    line, column : int
        Place in the file, counted from 1.
    record : str
        Id of the record, or a dash.
    field : str
        Path of the field within the record.
    what, mend : str
        What is wrong; how to mend it.
    rule : str
        Id of the rule that found it.
    severity : str
        `error`, `warning`, or `note` for what is worth a look and no fault.
    """

    file: str
    line: int
    column: int
    record: str
    field: str
    what: str
    mend: str = ""
    rule: str = "structure"
    severity: str = "error"

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}:{self.column}: {self.record}"
        field = f": {self.field}" if self.field else ""
        mend = f"; {self.mend}" if self.mend else ""
        return f"{where}{field}: {self.what}{mend} [{self.rule}]"

    def as_dict(self) -> dict[str, Any]:
        """Fields by name, for JSON."""
        return {name: getattr(self, name) for name in self.__struct_fields__}
