"""What the README states about the model is what the package computes."""

import importlib.util
import pathlib

from pcbchem.matter import tables

SPEC = importlib.util.spec_from_file_location("readme", pathlib.Path(__file__).with_name("readme.py"))
readme = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(readme)
LINES = {row["fact"]: row for row in tables.read("leave_one_out")}


def band(fact):
    return [float(LINES[fact][name]) for name in ("low", "middle", "high")]


def test_readme_holds_the_computed_blocks():
    text = readme.README.read_text(encoding="utf-8")
    assert readme.filled(text) == text, "run: python tests/house/readme.py"


def test_what_the_readme_reads_from_the_table_is_true():
    low, middle, high = band("undiluted")
    assert low > 1.5 * 2 and middle > 3 * 2 and high > 6 * 2
    low, middle, high = band("3 : 1 : 1")
    assert middle < 60 < high < 180
    low, middle, high = band("weak, 2.5 %")
    assert middle == min(middle, 20 * 60 * 1.05) and high > 20 * 60
    low, middle, high = band("strong film")
    assert low < 3.5 and high > 4.0 and 3.5 < middle < 4.2
    low, middle, high = band("weak film")
    assert low < 0.35 and high > 0.40
    low, middle, high = band("ratio of the films")
    assert 8.8 < low < 11.4 and 11.0 < middle < 12.5
