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

from collections.abc import Callable, Sequence
from typing import Self


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
    lengths_mm : lengths for the places ``{0}``, ``{1}`` … of the message [mm], told in
        millimeters until :meth:`told` is asked for another unit.
    value_mm : instead of ``value``: an offending length [mm].
    """

    def __init__(
        self,
        message: str,
        *,
        where: str = "",
        value: object = None,
        remedy: str = "",
        lengths_mm: Sequence[float] = (),
        value_mm: float | None = None,
    ) -> None:
        self._said, self._lengths_mm, self._value_mm = message, tuple(lengths_mm), value_mm
        self.where = where
        self.remedy = remedy
        self._write(in_mm, value)

    def _write(self, length: Callable[[float], str], value: object) -> None:
        """Message and value with every length written by ``length``."""
        self._length = length
        written = map(length, self._lengths_mm)
        self.message = self._said.format(*written) if self._lengths_mm else self._said
        self.value = value if self._value_mm is None else length(self._value_mm)
        super().__init__(self.__str__())

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        got = self.value if self._value_mm is not None else shorten(self.value)
        got = "" if self.value is None else f" (got {got})"
        remedy = f" {self.remedy}" if self.remedy else ""
        return f"{place}{self.message}{got}{'.' if remedy else ''}{remedy}"

    def at(self, where: str) -> Self:
        """The same error, told at a place: an outer place goes before the inner one."""
        place = f"{where}: {self.where}" if where and self.where else where or self.where
        return self._like(place, self._length)

    def told(self, length: Callable[[float], str]) -> Self:
        """The same error, its lengths written by ``length``."""
        return self._like(self.where, length)

    def _like(self, where: str, length: Callable[[float], str]) -> Self:
        like = type(self)(
            self._said,
            where=where,
            value=self.value,
            remedy=self.remedy,
            lengths_mm=self._lengths_mm,
            value_mm=self._value_mm,
        )
        like._write(length, self.value)
        return like


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


def in_mm(mm: float) -> str:
    """A length as an error tells it: to 0.1 mm."""
    return f"{mm:.1f}".removesuffix(".0") + " mm"


def shorten(value: object, limit: int = 60) -> str:
    """A value as text, cut to ``limit`` characters so that a message stays readable."""
    text = repr(value)
    return text if len(text) <= limit else text[: limit - 1] + "…"
