"""Law: what the README states about the model is what the package computes."""

import importlib.util
import pathlib

SPEC = importlib.util.spec_from_file_location("readme", pathlib.Path(__file__).with_name("readme.py"))
readme = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(readme)


def test_readme_holds_the_computed_blocks():
    text = readme.README.read_text(encoding="utf-8")
    assert readme.filled(text) == text, "run: python tests/house/readme.py"


def test_the_miss_is_in_the_readme():
    # the strongest mixture is what people get hurt by: its miss may not drop out of the table unseen
    assert "| undiluted |" in readme.leave_one_out() and "a miss" in readme.leave_one_out().split("undiluted")[1]
