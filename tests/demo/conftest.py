"""The invented house, checked once by the practice pack alone and once with the rules of its own."""

from datetime import date
from pathlib import Path

import pytest

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import check_house

HOUSE = Path(__file__).parents[2] / "fixtures" / "demo" / "house.yaml"
ON = date(2026, 4, 13)


@pytest.fixture(scope="session")
def by_practice() -> Audit:
    """Judged by the practice pack alone."""
    return check_house(HOUSE, on=ON, packs=["practice"], third_party=False)


@pytest.fixture(scope="session")
def by_house_rules() -> Audit:
    """Judged as the house judges itself: by the packs that its file names."""
    return check_house(HOUSE, on=ON, third_party=False)
