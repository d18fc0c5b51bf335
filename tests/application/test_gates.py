"""Gates: nothing is ground, scraped, drilled or pulled off before the question is settled."""

import re
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plankwright.application.gates import cleared_words, open_gates, order_steps
from plankwright.model.advice import CLEAN, FLATTEN, MEASURE, OPEN, READY, Step
from plankwright.model.house import House
from plankwright.model.slab import Answer

STEPS = [
    Step("Grind the hump.", FLATTEN),
    Step("Drill 3 holes.", MEASURE),
    Step("Pull the baseboards.", OPEN),
    Step("Scrape old glue off.", CLEAN),
    Step("Lay the pad.", READY),
]
DANGEROUS = re.compile(r"\b(grind|scrape|drill|pull)\b", re.I)
ANSWERS: tuple[Answer, ...] = ("yes", "no", "unknown")


def gate_names(house: House) -> set[str]:
    return {gate.name for gate in open_gates(house)}


@settings(derandomize=True, deadline=None, max_examples=200)
@given(
    st.builds(
        House,
        year=st.none() | st.integers(1850, 2030),
        old_tile=st.sampled_from(ANSWERS),
        black_mastic=st.sampled_from(ANSWERS),
        old_paint=st.sampled_from(ANSWERS),
        in_slab=st.sampled_from(ANSWERS),
        asbestos_free_on=st.none() | st.just(date(2026, 1, 1)),
    ),
    st.permutations(STEPS),
)
def test_no_dangerous_step_stands_before_its_gates(house: House, steps: list[Step]) -> None:
    ordered = order_steps(steps, house)
    gates = {gate.step.text: gate for gate in open_gates(house)}
    for number, step in enumerate(ordered, 1):
        if step.text in gates:
            continue
        for gate in gates.values():
            if gate.guards(step.text):
                earlier = [s.text for s in ordered[: number - 1]]
                assert gate.step.text in earlier
                assert earlier.index(gate.step.text) + 1 in step.after
    assert [s for s in ordered if s.text not in gates and DANGEROUS.search(s.text)]


def test_an_unknown_house_has_every_gate() -> None:
    assert gate_names(House()) == {"asbestos", "lead", "slab"}


@pytest.mark.parametrize(
    ("house", "names"),
    [
        (House(2005, "unknown", "unknown", "unknown", "no"), set()),
        (House(1958, "no", "no", "no", "no"), set()),
        (House(1958, "yes", "no", "no", "no"), {"asbestos"}),
        (House(1985, "unknown", "no", "no", "no"), {"asbestos"}),  # the strictest date in use
        (House(1986, "unknown", "no", "no", "no"), set()),
        (House(2005, "no", "yes", "no", "no"), {"asbestos"}),  # black mastic, whatever the year
        (House(1978, "no", "no", "unknown", "no"), {"lead"}),
        (House(1979, "no", "no", "unknown", "no"), set()),
        (House(2005, "no", "no", "no", "unknown"), {"slab"}),
    ],
)
def test_doubt_and_age_decide(house: House, names: set[str]) -> None:
    assert gate_names(house) == names
    assert len(cleared_words(house)) == 3 - len(names)


def test_a_clear_laboratory_result_opens_the_gate() -> None:
    tested = House(1958, "yes", "yes", "yes", "yes", date(2026, 5, 1), date(2026, 5, 1),
                   date(2026, 5, 2))  # fmt: skip
    assert gate_names(tested) == set()
    assert "2026-05-01" in " ".join(cleared_words(tested))


def test_every_guarded_step_names_its_gates() -> None:
    ordered = order_steps(STEPS, House())
    pulled = next(step for step in ordered if step.text.startswith("Pull"))
    assert len(pulled.after) == 2  # asbestos below, lead on it
    assert ordered[-1].after == ()
