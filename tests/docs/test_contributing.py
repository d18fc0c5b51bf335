"""What CONTRIBUTING says about the layers is what the import contract says."""

import re
import tomllib

from docs.build import ROOT

TEXT = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
WORDS_FROM = 39  # the column where the drawing ends and its explanations begin


def test_the_drawing_of_the_layers_is_the_contract() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    [contract] = [c for c in project["tool"]["importlinter"]["contracts"] if c["type"] == "layers"]
    layers = [name.strip() for layer in contract["layers"] for name in layer.split("|")]
    [drawing] = re.findall(r"^```text\n(.*?)^```", TEXT, re.S | re.M)
    names = re.findall(r"[a-z_]+", "\n".join(line[:WORDS_FROM] for line in drawing.splitlines()))
    assert names == layers


def test_files_that_are_named_are_there() -> None:
    package = ROOT / "src" / "plankwright"
    for name in re.findall(r"`((?:\w+/)*\w+\.(?:py|toml|md))`", TEXT):
        assert (ROOT / name).exists() or (package / name).exists(), name
