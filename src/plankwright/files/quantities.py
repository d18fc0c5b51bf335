"""Typed temperatures, areas, weights and signed lengths of the job file."""

import re
from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from plankwright.errors import InputError
from plankwright.units import KG_PER_LB, Unit, parse_length

_SCHEMA = WithJsonSchema({"type": ["string", "number"]})
_NUMBER = r"([-+−]?\d+(?:\.\d+)?)"
_TEMPERATURE = re.compile(rf"^{_NUMBER}\s*(?:°|deg(?:rees)?)?\s*([cfk])?$", re.IGNORECASE)
_AREA = re.compile(rf"^{_NUMBER}\s*(ft|m|sq\.?\s*ft|sq\.?\s*m)?\s*(?:2|²)?$", re.IGNORECASE)
_M2_PER_FT2 = 0.09290304  # exact
_WEIGHT = re.compile(rf"^{_NUMBER}\s*(kg|kilograms?|lbs?\.?|pounds?)?$", re.IGNORECASE)


def parse_temperature_c(value: object, unit: Unit) -> float:
    """A temperature [°C] typed as ``59 F``, ``15 C`` or a bare number.

    A bare number is in °F where lengths are in inches or feet, else in °C.

    >>> parse_temperature_c("59 F", "mm"), parse_temperature_c(15, "mm")
    (15.0, 15.0)
    """
    match = _TEMPERATURE.match(_text(value))
    if match is None:
        raise InputError("not a temperature", value=value, remedy="Write it as 59 F or 15 C.")
    number = float(match[1].replace("−", "-"))
    scale = (match[2] or ("f" if unit in ("in", "ft") else "c")).lower()
    if scale == "k":
        raise InputError("kelvin is not used here", value=value, remedy="Write it in C or F.")
    return (number - 32.0) * 5.0 / 9.0 if scale == "f" else number


def parse_area_m2(value: object, unit: Unit) -> float:
    """An area [m²] typed as ``228 ft2``, ``21 m2`` or a bare number (ft² with inches and feet).

    >>> round(parse_area_m2("228 ft2", "mm"), 2), parse_area_m2("21 m2", "in")
    (21.18, 21.0)
    """
    match = _AREA.match(_text(value))
    if match is None:
        raise InputError("not an area", value=value, remedy="Write it as 228 ft2 or 21 m2.")
    named = (match[2] or ("ft" if unit in ("in", "ft") else "m")).lower()
    return float(match[1].replace("−", "-")) * (_M2_PER_FT2 if named.endswith("ft") else 1.0)


def parse_weight_kg(value: object) -> float:
    """A weight [kg] typed as ``50 lb``, ``22.7 kg`` or a bare number of kilograms.

    >>> round(parse_weight_kg("50 lb"), 2), parse_weight_kg("25 kg"), parse_weight_kg(22.7)
    (22.68, 25.0, 22.7)
    """
    match = _WEIGHT.match(_text(value))
    if match is None:
        raise InputError("not a weight", value=value, remedy="Write it as 50 lb or 22.7 kg.")
    pounds = (match[2] or "kg").lower().startswith(("lb", "pound"))
    return float(match[1].replace("−", "-")) * (float(KG_PER_LB) if pounds else 1.0)


def _text(value: object) -> str:
    return "" if isinstance(value, bool) else str(value).strip()


def _unit(info: ValidationInfo) -> Unit:
    unit: Unit = (info.context or {}).get("unit", "mm")
    return unit


def _read_temperature(value: object, info: ValidationInfo) -> float:
    return parse_temperature_c(value, _unit(info))


def _read_area(value: object, info: ValidationInfo) -> float:
    return parse_area_m2(value, _unit(info))


def _read_weight(value: object) -> float:
    return parse_weight_kg(value)


def _read_signed(value: object, info: ValidationInfo) -> float:
    return float(parse_length(value, _unit(info), where="", signed=True))


def _read_height(value: object, info: ValidationInfo) -> float | None:
    return None if value == "" else _read_signed(value, info)


Temperature = Annotated[float, BeforeValidator(_read_temperature), _SCHEMA]
Area = Annotated[float, BeforeValidator(_read_area), _SCHEMA]
Weight = Annotated[float, BeforeValidator(_read_weight), _SCHEMA]
SignedLength = Annotated[float, BeforeValidator(_read_signed), _SCHEMA]
HeightOrNothing = Annotated[float | None, BeforeValidator(_read_height), _SCHEMA]
