"""A file is written whole or not at all."""

import os
import stat
from pathlib import Path

import pytest

from plumbtrue.documents.writing import write_whole


def names_in(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


def test_what_was_written_is_there_byte_for_byte(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.yaml", "é: 1\r\nb: 2\n")
    assert (tmp_path / "a.yaml").read_bytes() == b"\xc3\xa9: 1\r\nb: 2\n"
    write_whole(tmp_path / "a.yaml", b"\x00\xff")
    assert (tmp_path / "a.yaml").read_bytes() == b"\x00\xff"
    assert names_in(tmp_path) == ["a.yaml"]


def test_a_text_that_cannot_be_stored_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("old")
    with pytest.raises(UnicodeEncodeError):
        write_whole(path, "new \ud800")
    assert (path.read_text(), names_in(tmp_path)) == ("old", ["a.yaml"])


def test_a_disk_that_fails_midway_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("old")

    def fails(_: int) -> None:
        raise OSError("no space left on the disk")

    monkeypatch.setattr(os, "fsync", fails)
    with pytest.raises(OSError, match="no space"):
        write_whole(path, "new")
    assert (path.read_text(), names_in(tmp_path)) == ("old", ["a.yaml"])


def test_a_folder_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "missing" / "a.yaml", "x")


def test_a_file_in_the_place_of_a_folder_is_refused_and_leaves_nothing(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").mkdir()
    with pytest.raises(OSError):
        write_whole(tmp_path / "a.yaml", "x")
    assert names_in(tmp_path) == ["a.yaml"]


def test_a_link_is_followed_and_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real.yaml").write_text("old")
    link = tmp_path / "link.yaml"
    link.symlink_to("real.yaml")
    write_whole(link, "new")
    assert link.is_symlink()
    assert (tmp_path / "real.yaml").read_text() == "new"


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_permissions_are_kept(tmp_path: Path, mode: int) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("old")
    path.chmod(mode)
    write_whole(path, "new")
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_a_new_file_gets_the_permissions_of_any_new_file(tmp_path: Path) -> None:
    (tmp_path / "other").write_text("")
    write_whole(tmp_path / "a.yaml", "x")
    assert (tmp_path / "a.yaml").stat().st_mode == (tmp_path / "other").stat().st_mode


def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path: Path) -> None:
    """A device was replaced by a file where somebody had the right to: `--output /dev/full` took it from everybody."""
    path = tmp_path / "pipe"
    os.mkfifo(path)
    reading = os.open(path, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_whole(path, "new")
        assert os.read(reading, 10) == b"new"
    finally:
        os.close(reading)
    assert stat.S_ISFIFO(path.stat().st_mode)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no device that is always full")
def test_a_full_device_is_told(tmp_path: Path) -> None:
    link = tmp_path / "full"
    link.symlink_to("/dev/full")
    with pytest.raises(OSError, match="No space left"):
        write_whole(link, "new")
    assert stat.S_ISCHR(Path("/dev/full").stat().st_mode)
