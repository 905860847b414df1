"""A page written as a file to read never takes the place of a file that is there (law)."""

import subprocess
import sys
from pathlib import Path

PAGE = Path(__file__).parents[3] / "notebooks" / "04_why_water_slows_it.ipynb"


def test_law_a_file_that_is_there_is_left_alone(tmp_path):
    mine = tmp_path / f"{PAGE.stem}.html"
    mine.write_text("my own notes", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pcbchem.page.export", str(PAGE)],
        cwd=tmp_path,
        text=True,
        capture_output=True,
        timeout=120,
    )
    assert (
        done.returncode != 0 and f"{mine.name} is there already: move it away first" in done.stderr
    )
    assert mine.read_text(encoding="utf-8") == "my own notes" and list(tmp_path.iterdir()) == [mine]
