"""A sample of the random requests that benchmarks/page.py makes by the thousand."""

import pytest
from tests.web.fuzz import fuzz


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_random_requests_break_nothing(address: str) -> None:
    statuses = fuzz(address, 6)
    assert sum(statuses.values()) > 100
    assert statuses[200] > 0
    assert statuses[400] + statuses[422] > 0
