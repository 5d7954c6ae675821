"""Plugins are loaded one by one: what one brings is used; what goes wrong in it has an owner and is told."""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.store import Facts
from plumbtrue.plugins import ComputedFact, EntryPoint, Plugins, ReportFormat, hook, load_plugins
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.values import UNKNOWN
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact


@dataclass(frozen=True)
class Installed:
    """An entry point as an installed distribution would declare it."""

    name: str
    plugin: Any
    distribution: str = "harbour-rules"
    value: str = "harbour_rules"

    @property
    def dist(self) -> Any:
        return SimpleNamespace(metadata={"Name": self.distribution}, version="1.2")

    def load(self) -> Any:
        if isinstance(self.plugin, Exception):
            raise self.plugin
        return self.plugin


def plugin(**hooks: Any) -> Any:
    """A plugin whose hooks answer with the given values, or raise them."""

    def answering(name: str, answer: Any) -> Any:
        def implementation() -> Any:
            if isinstance(answer, Exception):
                raise answer
            return answer

        implementation.__name__ = name
        return staticmethod(hook(implementation))

    return type("Plugin", (), {name: answering(name, answer) for name, answer in hooks.items()})


def lay_fact(name: str) -> Fact:
    return Fact(name, "a length of the rope's lay", "quantity", "computed", LENGTH)


def lay(facts: Facts, rope: Thing) -> Answer:
    return Answer(UNKNOWN)


def loaded(*points: EntryPoint, third_party: bool = True) -> Plugins:
    return load_plugins(third_party=third_party, entry_points=points)


@pytest.fixture
def pack_folder(tmp_path: Path) -> Path:
    folder = tmp_path / "harbour"
    folder.mkdir()
    (folder / "pack.yaml").write_text("plumbtrue: pack/1\n")
    return folder


def test_the_practice_pack_comes_through_the_same_hook_as_any_other() -> None:
    plugins = load_plugins()
    owner, folder = plugins.pack_folders()["practice"]
    assert (owner.name, owner.built_in, folder.name) == ("practice", True, "practice")
    assert (folder / "pack.yaml").is_file()


def test_a_plugin_brings_a_pack_by_the_name_of_its_folder(pack_folder: Path) -> None:
    plugins = loaded(Installed("harbour", plugin(plumbtrue_packs=[pack_folder])))
    owner, folder = plugins.pack_folders()["harbour"]
    assert (owner.distribution, owner.version, folder) == ("harbour-rules", "1.2", pack_folder)


def test_one_that_cannot_be_imported_is_named_and_the_others_go_on(pack_folder: Path) -> None:
    plugins = loaded(
        Installed("broken", ImportError("no module named knots"), distribution="a-first"),
        Installed("harbour", plugin(plumbtrue_packs=[pack_folder])),
    )
    assert [one.name for one in plugins.loaded] == ["practice", "harbour"]
    assert [str(one) for one in plugins.failures] == [
        "plugin broken of a-first 1.2 stopped with ImportError: no module named knots"
    ]


@pytest.mark.parametrize(
    ("hooks", "why"),
    [
        pytest.param(
            {"plumbtrue_packs": ZeroDivisionError("oh")}, "ZeroDivisionError", id="a hook that raises"
        ),
        pytest.param({"plumbtrue_packs": ["/nowhere/at/all"]}, "not there", id="a folder that is not there"),
        pytest.param({"plumbtrue_packs": [3]}, "3", id="something that is no folder"),
        pytest.param({"plumbtrue_packs": 3}, "TypeError", id="something that is no list"),
        pytest.param({"plumbtrue_packz": []}, "does not exist", id="a misspelt hook"),
        pytest.param({"plumbtrue_interface": 99}, "interface 99", id="made for a later interface"),
        pytest.param(
            {"plumbtrue_report_formats": ["csv"]}, "ReportFormat", id="a format that is only a name"
        ),
    ],
)
def test_a_bad_answer_is_the_failure_of_the_plugin_that_gave_it(hooks: dict[str, Any], why: str) -> None:
    plugins = loaded(Installed("harbour", plugin(**hooks)))
    assert [one.name for one in plugins.loaded] == ["practice"]
    assert len(plugins.failures) == 1
    assert why in plugins.failures[0].why


def test_a_plugin_never_takes_the_place_of_another_ones_pack(tmp_path: Path) -> None:
    folder = tmp_path / "practice"
    folder.mkdir()
    (folder / "pack.yaml").write_text("plumbtrue: pack/1\n")
    plugins = loaded(Installed("harbour", plugin(plumbtrue_packs=[folder])))
    assert plugins.pack_folders()["practice"][1] != folder
    assert "brings the pack practice, which practice of plumbtrue brings too" in plugins.failures[0].why


def test_computed_facts_and_report_formats_arrive_sorted() -> None:
    facts = [ComputedFact("rope", lay_fact(name), lay) for name in ("stretch", "lay_length")]
    formats = [ReportFormat(name, ".txt", "x", str) for name in ("tags", "cards")]
    answering = plugin(plumbtrue_computed_facts=facts, plumbtrue_report_formats=formats)
    harbour = loaded(Installed("harbour", answering)).loaded[1]
    assert [one.fact.name for one in harbour.computed_facts] == ["lay_length", "stretch"]
    assert [one.name for one in harbour.report_formats] == ["cards", "tags"]


def test_the_order_of_installation_never_matters(pack_folder: Path) -> None:
    points = [
        Installed("b", plugin(), distribution="zeta"),
        Installed("z", plugin(), distribution="alpha"),
        Installed("a", plugin(plumbtrue_packs=[pack_folder]), distribution="zeta"),
    ]
    assert loaded(*points) == loaded(*reversed(points))
    assert [one.name for one in loaded(*points).loaded] == ["practice", "z", "a", "b"]


def test_switched_off_plugins_are_named_and_never_imported() -> None:
    plugins = loaded(Installed("harbour", ImportError("must not be imported")), third_party=False)
    assert plugins.failures == ()
    assert plugins.switched_off == ("harbour",)
    assert "practice" in plugins.pack_folders()


ASK = """
from plumbtrue.plugins import load_plugins
plugins = load_plugins()
for one in plugins.loaded:
    print(one.name, one.distribution, one.version, [pack.name for pack in one.packs])
print([str(one) for one in plugins.failures])
"""


def test_an_installed_distribution_is_found_by_its_entry_point(tmp_path: Path) -> None:
    """As an installer leaves it: a package with its data, and a folder that declares the entry points."""
    package = tmp_path / "harbour_rules"
    (package / "harbour").mkdir(parents=True)
    (package / "harbour" / "pack.yaml").write_text("plumbtrue: pack/1\n")
    (package / "__init__.py").write_text(
        "from pathlib import Path\n"
        "from plumbtrue.plugins import hook\n"
        "@hook\n"
        "def plumbtrue_packs():\n"
        "    return [Path(__file__).parent / 'harbour']\n"
    )
    declared = tmp_path / "harbour_rules-1.2.dist-info"
    declared.mkdir()
    (declared / "METADATA").write_text("Metadata-Version: 2.1\nName: harbour-rules\nVersion: 1.2\n")
    (declared / "entry_points.txt").write_text(
        "[plumbtrue]\nharbour = harbour_rules\nknots = no_such_module\n"
    )
    said = subprocess.run(
        [sys.executable, "-c", ASK],
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        check=True,
        capture_output=True,
        text=True,
    ).stdout.splitlines()
    assert "harbour harbour-rules 1.2 ['harbour']" in said
    assert "plugin knots of harbour-rules 1.2 stopped with ModuleNotFoundError" in said[-1]
