"""Writes dew_points.csv: dew points of two reference libraries over a grid of air states.

Run by hand (``python tests/authorities/make_dew_points.py``) when a library changes.
PsychroLib (GetTDewPointFromRelHum, Hyland-Wexler) and CoolProp (HAPropsSI at 101 325 Pa).
"""

import csv
from pathlib import Path

import psychrolib
from CoolProp.CoolProp import HAPropsSI

TARGET = Path(__file__).with_name("dew_points.csv")


def main() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    with TARGET.open("w", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(("air_c", "humidity_pct", "psychrolib_c", "coolprop_c"))
        for temperature in range(-10, 46):
            for humidity in range(5, 101, 5):
                table.writerow((temperature, humidity, *dew_points(temperature, humidity)))


def dew_points(temperature: int, humidity: int) -> tuple[str, str]:
    first = psychrolib.GetTDewPointFromRelHum(float(temperature), humidity / 100)
    kelvin = HAPropsSI("D", "T", temperature + 273.15, "R", humidity / 100, "P", 101325)
    return f"{first:.4f}", f"{kelvin - 273.15:.4f}"


if __name__ == "__main__":
    main()
