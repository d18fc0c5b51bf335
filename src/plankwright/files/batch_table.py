"""The table of a batch as CSV and as JSON: a line for each room, the same on every machine."""

import csv
import io
import json
from collections.abc import Sequence
from dataclasses import asdict

from plankwright.application.batch import Row
from plankwright.files.batch_results import folder_name

COLUMNS = (
    "room", "name", "state", "floor_m2", "boards", "at least", "proven", "packs", "spares",
    "waste_pct", "findings", "message", "folder",
)  # fmt: skip


def batch_csv(rows: Sequence[Row]) -> str:
    """The table with a heading line; figures are empty where there is no plan."""
    text = io.StringIO()
    lines = csv.writer(text)
    lines.writerow(COLUMNS)
    lines.writerows(_cells(row) for row in rows)
    return text.getvalue()


def batch_json(rows: Sequence[Row]) -> str:
    """The table for machines, with its totals."""
    told = {"totals": totals(rows), "rooms": [asdict(row) for row in rows]}
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def totals(rows: Sequence[Row]) -> dict[str, float]:
    """What all rooms come to."""
    planned = [row for row in rows if row.state == "planned"]
    return {
        "rooms": len(rows),
        "planned": len(planned),
        "proven": sum(row.proven for row in planned),
        "floor_m2": round(sum(row.floor_m2 for row in planned), 2),
        "boards": sum(row.boards for row in planned),
        "packs": sum(row.packs for row in planned),
    }


def _cells(row: Row) -> list[str]:
    if row.state != "planned":
        return [row.key, row.name, row.state, *[""] * 8, row.message, ""]
    return [
        row.key,
        row.name,
        row.state,
        f"{row.floor_m2:.4f}",
        str(row.boards),
        str(row.bound),
        "yes" if row.proven else "no",
        str(row.packs),
        str(row.spares),
        f"{row.waste_pct:.2f}",
        " ".join(row.findings),
        row.message,
        f"rooms/{folder_name(row.key)}",
    ]
