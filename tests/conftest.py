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
        # A machine without it can still run all other tests; `.ci/run` installs it first.
        pytest.skip("Chromium is not installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        yield started
        started.close()
