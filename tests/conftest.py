"""Chromium, for tests that look at pages as their readers do."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = Path("/usr/bin/chromium")
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"]


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """The Chromium of the machine, without a window."""
    if not CHROMIUM.exists():
        pytest.skip("Chromium is not installed")
    sync_api = pytest.importorskip("playwright.sync_api")
    with sync_api.sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        yield started
        started.close()
