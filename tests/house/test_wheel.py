"""House rules of the built wheel: it works from an empty folder, and plans with numpy alone."""

import os
import re
import shutil
import subprocess
import sys
import zipfile
from email import message_from_bytes
from importlib.metadata import distribution

import pytest

from house.source import ROOT, python_of, text_of

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


ENOUGH = {"numpy", "filelock"}
"""What a plan in Python needs: the wheel asks for no more, unless an extra is named."""
TRY = """
try:
    {line}
except ModuleNotFoundError as error:
    print(error)
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


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """Install the wheel into an empty folder, without what it asks for."""
    target = tmp_path_factory.mktemp("installed")
    options = ("--quiet", "--no-deps", "--no-index", "--target", str(target))
    run("-m", "pip", "install", *options, str(wheel), cwd=target)
    return target


def test_law_the_wheel_etches_a_board_from_an_empty_folder(installed, tmp_path):
    use = ("-W", "error", "-c", USE, str(installed))
    times = run(*use, cwd=tmp_path, PYTHONPATH=str(installed)).split()
    # not a test of the model: a mild bath clears an ounce in minutes, not in seconds or hours
    assert len(times) == 2
    assert all(60 < float(time) < 900 for time in times)


@pytest.fixture(scope="module")
def run_alone(installed, tmp_path_factory):
    """Return what runs Python where there is nothing but the wheel and what it asks for."""
    folder = tmp_path_factory.mktemp("libraries")
    for library in map(distribution, ENOUGH):
        # a compiled library lies in several folders; what lies above them are its commands
        for name in {file.parts[0] for file in library.files} - {".."}:
            (folder / name).symlink_to(library.locate_file(name))
    path = os.pathsep.join(map(str, (installed, folder)))

    def run_code(code):
        # -S: without the libraries of the Python that runs the tests
        return run("-S", "-W", "error", "-c", code, cwd=folder, PYTHONPATH=path)

    return run_code


def test_law_the_wheel_asks_for_numpy_and_filelock_alone(wheel):
    with zipfile.ZipFile(wheel) as archive:
        (name,) = (name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
        asked_for = message_from_bytes(archive.read(name)).get_all("Requires-Dist")
    always = [line for line in asked_for if "extra ==" not in line]
    assert {re.match(r"[\w-]+", line)[0] for line in always} == ENOUGH


def test_law_the_python_of_the_readme_needs_no_more(run_alone):
    """A plan and the leanest mixture in words; a table says what else it needs."""
    block = python_of(text_of(ROOT / "README.md"))[0]
    said = run_alone(block + TRY.format(line="bath.to_frame()"))
    assert said.startswith("Mix it.") and "What to pour, in this order" in said
    assert said.endswith('pandas is missing. In the folder of pcbchem: pip install ".[lab]"\n')


@pytest.mark.parametrize(
    "line, extra",
    [
        ("import pcbchem.page", "pages"),
        ("import pcbchem.page.picture", "pages"),
        ("import pcbchem.lesson.plan_a_bath", "pages"),
        ("picture_file._open(None, 'PNG')", "pages"),
        ("pcbchem.RateParameters().table()", "lab"),
    ],
)
def test_law_what_lacks_an_extra_says_which(run_alone, line, extra):
    first = "import pcbchem\nfrom pcbchem.bench.artwork import picture_file\n"
    said = run_alone(first + TRY.format(line=line))
    assert re.fullmatch(rf'\w+ is missing\. .*pip install "\.\[{extra}\]"\n', said)
