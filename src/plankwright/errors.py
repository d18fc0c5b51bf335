"""Exceptions for broken calls, drawn as a tree.

::

    PlankwrightError
    ├── InputError(ValueError)       what a person gave cannot be used: where, value, remedy
    │   ├── LengthError              a length that cannot be read
    │   ├── RoomError                an outline, fixed thing or doorway that cannot be
    │   └── FileError                a file that is missing, too large or of the wrong form
    ├── RangeError(ValueError)       a formula asked outside its published range
    └── PlanFaultError               the checker refused a plan of our own: a defect of ours

What is merely odd in a person's data is not an exception but a
:class:`plankwright.model.findings.Finding`.
"""


class PlankwrightError(Exception):
    """Root of everything this package raises on purpose."""


class InputError(PlankwrightError, ValueError):
    """What a person gave cannot be used.

    Parameters
    ----------
    message : what is wrong, in a sentence.
    where : file and field, such as ``"job.toml: board.length"``; may be empty.
    value : the offending value as it was given, or None.
    remedy : what to do about it.
    """

    def __init__(
        self, message: str, *, where: str = "", value: object = None, remedy: str = ""
    ) -> None:
        self.message = message
        self.where = where
        self.value = value
        self.remedy = remedy
        super().__init__(self.__str__())

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        got = "" if self.value is None else f" (got {shorten(self.value)})"
        remedy = f" {self.remedy}" if self.remedy else ""
        return f"{place}{self.message}{got}{'.' if remedy else ''}{remedy}"

    def at(self, where: str) -> "InputError":
        """The same error, told at a place: an outer place goes before the inner one."""
        place = f"{where}: {self.where}" if where and self.where else where or self.where
        return type(self)(self.message, where=place, value=self.value, remedy=self.remedy)


class LengthError(InputError):
    """A length that cannot be read, or that could be read in two ways."""


class RoomError(InputError):
    """An outline, fixed thing or doorway that cannot be."""


class FileError(InputError):
    """A file that is missing, too large or of the wrong form."""


class RangeError(PlankwrightError, ValueError):
    """A formula was asked outside its published range; carries the range and the value.

    Parameters
    ----------
    quantity : name and unit, such as ``"air temperature [°C]"``.
    value : what was asked.
    low, high : the published range, inclusive.
    source : where the range is published.
    """

    def __init__(
        self, quantity: str, value: float, low: float, high: float, source: str = ""
    ) -> None:
        self.quantity = quantity
        self.value = value
        self.low = low
        self.high = high
        self.source = source
        told = f" ({source})" if source else ""
        super().__init__(f"{quantity} {value:g} is outside {low:g} to {high:g}{told}")


class PlanFaultError(PlankwrightError):
    """The independent checker refused a plan of our own making: please report it."""


def shorten(value: object, limit: int = 60) -> str:
    """A value as text, cut to ``limit`` characters so that a message stays readable."""
    text = repr(value)
    return text if len(text) <= limit else text[: limit - 1] + "…"
