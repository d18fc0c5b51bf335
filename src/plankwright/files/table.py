"""Tables of the job file as pydantic models: typed lengths, known keys, plain messages.

Every field is made with :func:`described`: description, unit, default and the source of the
default, so that the reference page is made from the code.
"""

from typing import Annotated, Any, Literal, TypeVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)

from plankwright.errors import InputError
from plankwright.files.suggest import nearest_words
from plankwright.units import Unit, parse_length

Source = Literal["leaflet", "common practice", "measured", "choice"]

_SCHEMA = WithJsonSchema({"type": ["string", "number"]})
_PAIR_SCHEMA = WithJsonSchema({"type": "array", "minItems": 2, "maxItems": 2})


def _read_length(value: object, info: ValidationInfo) -> float:
    return float(parse_length(value, _unit(info), where=""))


def _read_length_or_auto(value: object, info: ValidationInfo) -> float | None:
    return None if value == "auto" else _read_length(value, info)


def _read_pair(value: object, info: ValidationInfo, *, signed: bool) -> tuple[float, float]:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise InputError("expected two lengths", value=value, remedy="Write [first, second].")
    x, y = (float(parse_length(v, _unit(info), where="", signed=signed)) for v in value)
    return x, y


def _read_size(value: object, info: ValidationInfo) -> tuple[float, float]:
    return _read_pair(value, info, signed=False)


def _read_corner(value: object, info: ValidationInfo) -> tuple[float, float]:
    return _read_pair(value, info, signed=True)


def _unit(info: ValidationInfo) -> Unit:
    unit: Unit = (info.context or {}).get("unit", "mm")
    return unit


# Typed text or a bare number in the job's unit; inside, millimeters.
Length = Annotated[float, BeforeValidator(_read_length), _SCHEMA]
LengthOrAuto = Annotated[float | None, BeforeValidator(_read_length_or_auto), _SCHEMA]
Size = Annotated[tuple[float, float], BeforeValidator(_read_size), _PAIR_SCHEMA]
Corner = Annotated[tuple[float, float], BeforeValidator(_read_corner), _PAIR_SCHEMA]
Word = Annotated[str, BeforeValidator(str)]  # a word or a number, read later


def described(
    description: str,
    default: Any = ...,
    *,
    unit: str = "",
    source: Source = "choice",
    alias: str | None = None,
) -> Any:
    """A field with what the reference page says of it; lengths default in millimeters."""
    extra: Any = {"unit": unit, "source": source}
    return Field(default, description=description, alias=alias, json_schema_extra=extra)


class Table(BaseModel):
    """One table of the job file: its keys are known, its values are frozen."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_max_length=2000)

    @model_validator(mode="before")
    @classmethod
    def _know_keys(cls, table: Any) -> Any:
        if isinstance(table, dict):
            known = [field.alias or name for name, field in cls.model_fields.items()]
            for key in table:
                if key not in known:
                    raise InputError("unknown key", value=key, remedy=nearest_words(key, known))
        return table


T = TypeVar("T", bound=BaseModel)


def read_table(model: type[T], table: object, *, unit: Unit = "mm", where: str) -> T:
    """A table as its model.

    Raises
    ------
    InputError
        with place (``where`` and the field), value and remedy.
    """
    try:
        return model.model_validate(table, context={"unit": unit})
    except ValidationError as error:
        raise _plain_error(error, where) from None


def _plain_error(error: ValidationError, where: str) -> InputError:
    """The first thing that is wrong, in our words."""
    first = error.errors(include_url=False)[0]
    cause = first.get("ctx", {}).get("error")
    place = ": ".join(part for part in (where, _place(first["loc"])) if part)
    if isinstance(cause, InputError):
        return cause.at(place)
    message, remedy = _plain_words(first)
    value = None if first["type"] == "missing" else first["input"]
    return InputError(message, where=place, value=value, remedy=remedy)


def _place(loc: tuple[int | str, ...]) -> str:
    """``("fixed", 1, "size", 0)`` as ``fixed #2.size #1``."""
    words = ""
    for part in loc:
        if isinstance(part, int):
            words += f" #{part + 1}"
        else:
            words += f".{part}" if words else part
    return words.strip()


def _plain_words(problem: Any) -> tuple[str, str]:
    kind, expected = problem["type"], problem.get("ctx", {})
    match kind:
        case "missing":
            return "this is missing", "Write it in the file."
        case "literal_error":
            return "not one of the words known here", f"Use {expected['expected']}."
        case "model_type" | "dict_type":
            return "expected a table", "Write it as [table] with key = value lines."
        case "list_type" | "tuple_type":
            return "expected a list", "Write it as [first, second, …]."
        case "too_short" | "too_long":
            return "a list of the wrong length", "Compare it with the reference page."
        case _:
            message = str(problem["msg"])
            return message[:1].lower() + message[1:], "Compare it with the reference page."
