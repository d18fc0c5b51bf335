"""The README shows what really happens: its transcript, its drawing and its examples."""

import re
from pathlib import Path

import pytest
from docs.build import COMMANDS, DRAWING, README, ROOT, TRANSCRIPT, run_commands

TEXT = README.read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", TEXT, re.S | re.M)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    folder = tmp_path_factory.mktemp("demo")
    return run_commands(folder), folder / "plankwright-demo"


def test_the_transcript_is_what_the_commands_print(demo: tuple[str, Path]) -> None:
    """When it is not: make docs"""
    assert TRANSCRIPT.findall(TEXT) == [demo[0]]
    assert all(f"$ {command}\n" in demo[0] for command in COMMANDS)


def test_the_drawing_is_the_demo_room_s(demo: tuple[str, Path]) -> None:
    """When it is not: make docs"""
    assert DRAWING.read_bytes() == (demo[1] / "plan.svg").read_bytes()


def test_the_examples_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    [job], [code] = blocks("toml"), blocks("python")
    (tmp_path / "den.toml").write_text(job, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    exec(compile(code, "README.md", "exec"), {})
    assert re.fullmatch(r"\d+ boards, at least \d+; \d+ packs\n", capsys.readouterr().out)
    names = {path.name for path in (tmp_path / "den").iterdir()}
    assert names == {"plan.json", "plan.svg", "cuts.csv"}


def test_the_first_screen_names_the_job_the_drawing_and_the_two_commands() -> None:
    order = ["You lay a floating", "docs/demo_room.svg", "make demo", "make test", "$ plankwright"]
    places = [TEXT.index(words) for words in order]
    assert places == sorted(places)


@pytest.mark.parametrize("name", ["README.md", "CONTRIBUTING.md", "GLOSSARY.md", "CHANGELOG.md"])
def test_links_lead_somewhere(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    links = [link for link in re.findall(r"\]\(([^)#]+)[^)]*\)", text) if "://" not in link]
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_every_target_of_the_makefile_that_is_named_is_there() -> None:
    targets = set(re.findall(r"^(\w+):", (ROOT / "Makefile").read_text(), re.M))
    for name in ("README.md", "CONTRIBUTING.md"):
        named = set(re.findall(r"\bmake (\w+)\b(?=[`\s])", "".join(_code(name))))
        assert named <= targets


def _code(name: str) -> list[str]:
    """What stands in code spans and blocks."""
    return re.findall(r"```.*?```|`[^`]+`", (ROOT / name).read_text(encoding="utf-8"), re.S)
