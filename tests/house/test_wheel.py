"""The built wheel, installed in an empty folder and used from another one: what a user gets is what is tested."""

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

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
    source, out = tmp_path_factory.mktemp("source"), tmp_path_factory.mktemp("wheel")
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    shutil.copytree(
        ROOT / "pcbchem", source / "pcbchem", ignore=shutil.ignore_patterns("__pycache__")
    )
    run(
        [
            sys.executable,
            "-m",
            "pip",
            "wheel",
            "--quiet",
            "--no-deps",
            "--no-build-isolation",
            "--no-index",
            "--wheel-dir",
            str(out),
            str(source),
        ],
        cwd=source,
    )
    (built,) = out.glob("*.whl")
    return built


def run(command, cwd, **settings):
    done = subprocess.run(
        command,
        cwd=cwd,
        capture_output=True,
        text=True,
        timeout=240,
        env={**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1", **settings},
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_law_the_wheel_holds_every_file_of_the_package_and_nothing_else(wheel):
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
    run(
        [
            sys.executable,
            "-m",
            "pip",
            "install",
            "--quiet",
            "--no-deps",
            "--no-index",
            "--target",
            str(target),
            str(wheel),
        ],
        cwd=elsewhere,
    )
    single, middle = map(
        float,
        run(
            [sys.executable, "-W", "error", "-c", USE, str(target)],
            cwd=elsewhere,
            PYTHONPATH=str(target),
        ).split(),
    )
    # not a test of the model: a mild bath clears an ounce in minutes, not in seconds or hours
    assert 60 < single < 900 and 60 < middle < 900
