"""How large the page of a hundred sets is, and how long a browser takes to open and to filter it.

No two sets of the house are alike: places and kinds of lines, loads, years, bricks and what was found on them differ,
so that nothing on the page can be told once for several.

The reference, measured in the same run and browser: a page with the same words in paragraphs and nothing else,
which any page of that length costs. Prints the size, the time to open until everything is laid out, and the
longest of several filters until the page is laid out again.

    python -m tests.bench.bench_page
"""

import html
import random
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright
from tests.bench.bench_check import check_command, house_of

SETS = 100
CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"]
LAID_OUT = "document.documentElement.getBoundingClientRect().height"
FILTERS = (
    ("f-text", "pitted"),
    ("f-text", "a"),
    ("f-text", ""),
    ("f-set", "14"),
    ("f-set", ""),
    ("f-severity", "advisory"),
    ("f-severity", ""),
    ("f-state", "cannot-be-told"),
    ("f-state", ""),
)


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        page, plain = folder / "report.html", folder / "plain.html"
        house = differing(house_of(SETS, folder))
        start = time.perf_counter()
        subprocess.run([*check_command(), str(house), "--format", "html", "--output", str(page)], check=False)
        made = time.perf_counter() - start
        plain.write_text(words_alone(page.read_text(encoding="utf-8")), encoding="utf-8")
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            opened = min(time_to_open(browser, page) for _ in range(3))
            least = min(time_to_open(browser, plain) for _ in range(3))
            filtered = times_to_filter(browser, page)
            browser.close()
        size = page.stat().st_size / 1e6
    print(f"{SETS} sets: {size:.2f} MB, made in {made:.1f} s")
    print(f"opens in {opened:.2f} s; its words alone in {least:.2f} s")
    print(f"filters in {max(filtered) * 1000:.0f} ms at the most, first filter {filtered[0] * 1000:.0f} ms")
    sys.exit(size > 3 or max(filtered) > 0.25)


def differing(house: Path) -> Path:
    """The house with each of its sets changed by chance, the same chance each time."""
    chance = random.Random(20260413)
    head, line_sets = house.read_text(encoding="utf-8").split("\nline_sets:\n")
    entries = re.split(r"(?m)^(?=  - number: )", line_sets)
    changed = [_changed(one, number, chance) for number, one in enumerate(entries)]
    house.write_text(f"{head}\nline_sets:\n{''.join(changed)}", encoding="utf-8")
    return house


def _changed(entry: str, number: int, chance: random.Random) -> str:
    def year(least: int = 1974) -> str:
        return str(chance.randint(least, 2023))

    def place(found: re.Match[str]) -> str:
        return f"{found[1]} {int(found[2]) + chance.choice((-1, 0))}'-{chance.randint(0, 11)}\""

    def load(found: re.Match[str]) -> str:
        return f"{found[1]}: {round(int(found[2]) * chance.uniform(0.7, 1.2) / 5) * 5} lb"

    def line(found: re.Match[str]) -> str:
        kind = chance.choice(("line-w", "line-c", "line-t", "line-f", "line-one-leg"))
        rust = chance.choice(("none", "none", "surface", "pitted"))
        wires = chance.choice((0, 0, 0, 1, 3, 7))
        return (
            f"{{like: {kind}, rope: {{installed: {year()}, corrosion: {rust}, broken_wires_lay: {wires}}}}}"
        )

    entry = re.sub(r"\b(S[RL]) (\d+)'-0\"", place, entry)
    entry = re.sub(r"\b(posted_\w+): (\d+) lb", load, entry)
    entry = re.sub(r"from_plaster_line: .*", f"from_plaster_line: {number * 8} in", entry)
    entry = re.sub(r"\{like: line-\w, rope: \{installed: \d+\}\}", line, entry)
    entry = re.sub(
        r"hand_line: \{rope: \{installed: \d+",
        lambda _: f"hand_line: {{rope: {{installed: {year(1990)}",
        entry,
    )
    entry = re.sub(r"reconditioned: \d+", lambda _: f"reconditioned: {year()}", entry)
    return re.sub(r"brick-28: \d+", lambda _: f"brick-28: {chance.randint(2, 6)}", entry)


def words_alone(page: str) -> str:
    """The same words as plain paragraphs."""
    text = re.sub(r"<(style|script|svg).*?</\1>", "", page, flags=re.S)
    lines = [html.unescape(line).strip() for line in re.sub(r"<[^>]+>", "\n", text).splitlines()]
    body = "".join(f"<p>{html.escape(line)}</p>\n" for line in lines if line)
    return f'<!DOCTYPE html><meta charset="utf-8"><title>words</title>{body}'


def time_to_open(browser: Any, page: Path) -> float:
    """Seconds until a page is read and laid out."""
    opened = browser.new_page(viewport={"width": 1280, "height": 900})
    start = time.perf_counter()
    opened.goto(page.as_uri())
    opened.evaluate(LAID_OUT)
    passed = time.perf_counter() - start
    opened.close()
    return passed


def times_to_filter(browser: Any, page: Path) -> list[float]:
    """Seconds that each filter takes, the layout that follows among them."""
    opened = browser.new_page(viewport={"width": 1280, "height": 900})
    opened.goto(page.as_uri())
    script = f"""([field, value]) => {{
        const start = performance.now(), one = document.getElementById(field);
        one.value = value;
        one.dispatchEvent(new Event("input", {{bubbles: true}}));
        {LAID_OUT};
        return (performance.now() - start) / 1000;
    }}"""
    times = [opened.evaluate(script, [field, value]) for field, value in FILTERS]
    opened.close()
    return times


if __name__ == "__main__":
    main()
