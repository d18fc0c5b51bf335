"""The wheel by itself: what is in it, and the tutorial without the repository."""

import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest
from docs.build import ROOT
from docs.walks import walked

LARGEST_WHEEL_MB = 3.0


def run(*argv: object, cwd: Path | None = None) -> str:
    done = subprocess.run(
        [str(word) for word in argv], cwd=cwd, capture_output=True, encoding="utf-8", check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(
        *(sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation"),
        *("--disable-pip-version-check", "--no-index", "--wheel-dir", folder, ROOT),
    )
    [built] = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An environment with the wheel, which finds everything else beside this one's packages."""
    folder = tmp_path_factory.mktemp("environment")
    venv.create(folder, with_pip=False)
    interpreter = folder / "bin" / "python"
    run(
        *(sys.executable, "-m", "pip", "--python", interpreter, "--disable-pip-version-check"),
        *("install", "--quiet", "--no-deps", "--no-index", wheel),
    )
    [site] = (folder / "lib").glob("python*/site-packages")
    (site / "beside.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return interpreter


def test_what_is_no_module_is_in_the_wheel(wheel: Path) -> None:
    inside = set(zipfile.ZipFile(wheel).namelist())
    package = ROOT / "src" / "plankwright"
    listed = subprocess.run(
        ["git", "ls-files", "src/plankwright"],
        cwd=ROOT,
        capture_output=True,
        encoding="utf-8",
        check=False,
    ).stdout.split()
    wanted = {name.removeprefix("src/") for name in listed if (ROOT / name).exists()} or {
        str(path.relative_to(package.parent)) for path in package.rglob("*.toml")
    }
    assert len(wanted) > 2
    assert wanted <= inside
    assert wheel.stat().st_size < LARGEST_WHEEL_MB * 1e6


def test_the_source_archive_makes_the_same_wheel(wheel: Path, tmp_path: Path) -> None:
    run(sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-d", tmp_path, cwd=ROOT)
    [archive] = tmp_path.glob("*.tar.gz")
    run(
        *(sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation"),
        *("--disable-pip-version-check", "--no-index", "--wheel-dir", tmp_path, archive),
    )
    [again] = tmp_path.glob("*.whl")
    names = [zipfile.ZipFile(path).namelist() for path in (wheel, again)]
    assert names[0] == names[1]
    assert archive.stat().st_size < LARGEST_WHEEL_MB * 1e6


def test_the_tutorial_is_walked_without_the_repository(python: Path, tmp_path: Path) -> None:
    """When the outputs differ: make docs"""
    where = run(python, "-c", "import plankwright; print(plankwright.__file__)", cwd=tmp_path)
    assert Path(where.strip()).is_relative_to(python.parents[1])
    page = (ROOT / "docs" / "tutorial.md").read_text(encoding="utf-8")
    assert walked(page, str(python)) == page


def test_the_shell_completes_commands(python: Path, tmp_path: Path) -> None:
    shown = run(python.parent / "plankwright", "--show-completion", "bash", cwd=tmp_path)
    assert "_PLANKWRIGHT_COMPLETE=complete_bash" in shown
