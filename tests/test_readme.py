"""README tells the truth: what it shows as output is what the program prints.

A block of output shows the beginning of what the command in the comment above it prints. `python tests/test_readme.py`
writes the blocks anew.
"""

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
LINES_SHOWN = 26
_BLOCK = re.compile(r"<!-- output: (?P<command>plumbtrue .*) -->\n```text\n(?P<shown>(?:.*\n)*?)```\n")


def printed(command: str) -> str:
    """What a command of README prints, run in the root of the project."""
    program, *words = shlex.split(command)
    assert program == "plumbtrue"
    ran = subprocess.run(
        [sys.executable, "-m", "plumbtrue", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return "\n".join(line.rstrip() for line in ran.stdout.splitlines()) + "\n"


def blocks() -> list[tuple[str, str]]:
    return [
        (found["command"], found["shown"]) for found in _BLOCK.finditer(README.read_text(encoding="utf-8"))
    ]


@pytest.mark.parametrize(("command", "shown"), blocks(), ids=[command for command, _ in blocks()])
def test_what_readme_shows_is_what_the_command_prints(command: str, shown: str) -> None:
    assert shown.strip()
    assert printed(command).startswith(shown)


def test_readme_begins_with_the_job_and_then_the_two_commands() -> None:
    text = README.read_text(encoding="utf-8")
    title, job, *_ = [part for part in text.split("\n\n") if part]
    assert title == "# plumbtrue"
    assert "answers for a house full of counterweight line sets" in job
    for mark in ("check", "test"):
        (command,) = re.findall(rf"<!-- {mark} -->\n```sh\n(.*)\n```\n", text)
        assert "\n" not in command


def test_the_first_house_of_readme_is_a_whole_file(tmp_path: Path) -> None:
    """Somebody copies it, checks it, and has a finding, and nothing that cannot be read."""
    (house,) = re.findall(r"```yaml\n(plumbtrue: rig/1\n(?:.*\n)*?)```\n", README.read_text(encoding="utf-8"))
    file = tmp_path / "house.yaml"
    file.write_text(house, encoding="utf-8")
    told = printed(f"plumbtrue check {shlex.quote(str(file))} --on 2026-04-13")
    assert "OUT OF SERVICE    1 set: 14" in told
    assert "look: look" not in told
    assert "ropes of lines 2 and 3: The rope is pitted by rust (above the sleeve)." in told


def test_the_first_plot_of_readme_is_a_whole_file_and_its_typical_piece_is_not_asked(tmp_path: Path) -> None:
    """Every answer that the typical piece carries is one question less of each piece that is like it."""
    for form in ("rig", "plot"):
        (text,) = re.findall(
            rf"```yaml\n(plumbtrue: {form}/1\n(?:.*\n)*?)```\n", README.read_text(encoding="utf-8")
        )
        (tmp_path / f"{'house' if form == 'rig' else form}.yaml").write_text(text, encoding="utf-8")
    house, plot = shlex.quote(str(tmp_path / "house.yaml")), tmp_path / "plot.yaml"
    asked = printed(
        f"plumbtrue check {house} --plot {shlex.quote(str(plot))} --on 2026-04-13 --format markdown"
    )
    plot.write_text(plot.read_text(encoding="utf-8").replace("like: plain, ", ""), encoding="utf-8")
    more = printed(
        f"plumbtrue check {house} --plot {shlex.quote(str(plot))} --on 2026-04-13 --format markdown"
    )
    for subject in ("People", "Owner", "Floor contact", "Crosses release lines"):
        assert f"**{subject} of the item**" not in asked
        assert f"**{subject} of the item**" in more


def test_every_file_that_readme_links_to_is_there() -> None:
    links = re.findall(r"\]\(([^)#:]+)\)", README.read_text(encoding="utf-8"))
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []


def write_anew() -> None:
    """Write every block of output anew, cut to what fits a reader's patience."""

    def block(found: re.Match[str]) -> str:
        lines = printed(found["command"]).splitlines()[:LINES_SHOWN]
        while lines and not lines[-1]:
            lines.pop()
        shown = "".join(f"{line}\n" for line in lines)
        return f"<!-- output: {found['command']} -->\n```text\n{shown}```\n"

    README.write_text(_BLOCK.sub(block, README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    write_anew()
