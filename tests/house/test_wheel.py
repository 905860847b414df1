"""House rule of the built wheel: installed in an empty folder, it works from another one."""

import os
import shutil
import subprocess
import sys
import zipfile

import pytest

from house.source import ROOT

USE = """
import sys
from pathlib import Path
import pcbchem
assert Path(pcbchem.__file__).is_relative_to(Path(sys.argv[1])), pcbchem.__file__
from pcbchem import Solution, mix, Foil, Board, Tray, RateParameters, etch
acid = Solution.of(volume=75e-6, T=293.15, HCl=0.10)
peroxide = Solution.of(volume=75e-6, T=293.15, H2O2=0.12)
board = Board(width=0.075, height=0.060, bare=0.6, foil=Foil.ounces(1))
bath = mix(acid, peroxide)
run = etch(bath, board, Tray())
many = etch(bath, board, Tray(), parameters=RateParameters.plausible(20))
print(float(run.time_to_clear), many.band("time_to_clear").middle)
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """Build a wheel from a copy of the source, so that the clone stays clean."""
    source = tmp_path_factory.mktemp("source")
    out = tmp_path_factory.mktemp("wheel")
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    shutil.copytree(
        ROOT / "pcbchem", source / "pcbchem", ignore=shutil.ignore_patterns("__pycache__")
    )
    options = ("--quiet", "--no-deps", "--no-build-isolation", "--no-index")
    run("-m", "pip", "wheel", *options, "--wheel-dir", str(out), str(source), cwd=source)
    (archive,) = out.glob("*.whl")
    return archive


def run(*arguments, cwd, **settings):
    """Run Python with arguments, and some environment; return what it prints."""
    process = subprocess.run(
        [sys.executable, *arguments],
        cwd=cwd,
        capture_output=True,
        text=True,
        timeout=240,
        env={**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1", **settings},
    )
    assert process.returncode == 0, process.stdout + process.stderr
    return process.stdout


def test_law_the_wheel_holds_the_package_and_nothing_else(wheel):
    with zipfile.ZipFile(wheel) as archive:
        inside = {name for name in archive.namelist() if ".dist-info/" not in name}
        licences = [name for name in archive.namelist() if name.endswith("LICENSE")]
    package = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "pcbchem").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert inside == package
    assert licences


def test_law_the_wheel_etches_a_board_from_an_empty_folder(wheel, tmp_path):
    target, elsewhere = tmp_path / "installed", tmp_path / "elsewhere"
    elsewhere.mkdir()
    options = ("--quiet", "--no-deps", "--no-index", "--target", str(target))
    run("-m", "pip", "install", *options, str(wheel), cwd=elsewhere)
    use = ("-W", "error", "-c", USE, str(target))
    times = run(*use, cwd=elsewhere, PYTHONPATH=str(target)).split()
    # not a test of the model: a mild bath clears an ounce in minutes, not in seconds or hours
    assert len(times) == 2
    assert all(60 < float(time) < 900 for time in times)
