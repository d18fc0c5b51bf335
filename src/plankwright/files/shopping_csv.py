"""``shopping.csv``: the shopping list for a spreadsheet (RFC 4180), amounts with two places."""

import csv
import io

from plankwright.application.shopping_list import ShoppingList
from plankwright.model.money import to_cents

COLUMNS = (
    "section", "item", "count", "unit", "price", "amount", "may go back", "how it was computed",
)  # fmt: skip


def shopping_csv(found: ShoppingList) -> str:
    """The lines with a heading; amounts are left empty where there is no price."""
    text = io.StringIO()
    rows = csv.writer(text)
    rows.writerow(COLUMNS)
    for line in found.lines:
        price = "" if line.price is None else f"{to_cents(line.price)}"
        amount = "" if line.amount is None else f"{line.amount}"
        back = "yes" if line.back else "no"
        rows.writerow(
            [line.section, line.item, line.count, line.unit, price, amount, back, line.why]
        )
    if any(line.amount is not None for line in found.lines):
        sums = found.totals
        for name, sum_ in (("subtotal", sums.subtotal), ("tax", sums.tax), ("total", sums.total)):
            rows.writerow(["", name, "", "", "", f"{sum_}", "", ""])
    return text.getvalue()
