"""How far a long run is, where somebody sits before it; a log gets none of it."""

import os
import pty
import subprocess
import sys
from pathlib import Path

from tests.reporting.small_house import write_house


def told(folder: Path, *asked: str) -> str:
    """What a run says on a standard error that is a terminal."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "plumbtrue", "check", *asked, "--on", "2026-02-13"]
    environment = {**os.environ, "TERM": "xterm"}
    with subprocess.Popen(
        command, cwd=folder, stdout=subprocess.DEVNULL, stderr=theirs, env=environment
    ) as run:
        os.close(theirs)
        said = b""
        try:
            while piece := os.read(ours, 1024):
                said += piece
        except OSError:  # Linux says so when the other end is closed.
            pass
        run.wait(60)
    os.close(ours)
    return said.decode()


def test_a_terminal_is_told_how_many_houses_are_checked_and_that_the_report_is_written(
    tmp_path: Path,
) -> None:
    house = write_house(tmp_path)
    (tmp_path / "second.yaml").write_text(house.read_text(encoding="utf-8"), encoding="utf-8")
    said = told(tmp_path, "house.yaml", "second.yaml", "--format", "html", "--output", "all.html")
    assert "checking: 1 of 2 houses" in said
    assert "checking: 2 of 2 houses" in said
    assert said.index("writing the report") > said.index("2 of 2")
    assert said.endswith("\r\x1b[K")


def test_a_log_is_told_nothing_of_it(tmp_path: Path) -> None:
    write_house(tmp_path)
    run = subprocess.run(
        [sys.executable, "-m", "plumbtrue", "check", "house.yaml", "--on", "2026-02-13", "--format", "html"],
        cwd=tmp_path,
        capture_output=True,
        check=False,
    )
    assert run.stderr == b""
    assert b"writing the report" not in run.stdout
