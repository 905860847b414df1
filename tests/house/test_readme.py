"""Law: what the README states about the model is what the package computes."""

import importlib.util
import pathlib
import re

SPEC = importlib.util.spec_from_file_location(
    "readme", pathlib.Path(__file__).with_name("readme.py")
)
readme = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(readme)


def test_readme_holds_the_computed_blocks():
    text = readme.README.read_text(encoding="utf-8")
    assert readme.filled(text) == text, "run: python tests/house/readme.py"


def test_the_miss_is_in_the_readme():
    # the strongest mixture is what people get hurt by: its miss may not drop out of the table unseen
    assert (
        "| undiluted |" in readme.leave_one_out()
        and "a miss" in readme.leave_one_out().split("undiluted")[1]
    )


def test_the_python_of_the_readme_runs_as_it_stands(tmp_path, monkeypatch, capsys):
    # one block after the other, as a reader pastes them; the search alone is left out, it takes seconds
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(
        r"```python\n(.*?)```", readme.README.read_text(encoding="utf-8"), flags=re.S
    )
    lines = [
        line
        for block in blocks
        for line in block.splitlines()
        if not line.startswith("print(mildest(")
    ]
    exec("\n".join(lines), {})
    said = capsys.readouterr().out
    assert len(blocks) == 3 and "On this bench 8 of 10 plausible baths clear this board in" in said
    assert {path.name for path in tmp_path.iterdir()} == {"offcuts.csv", "bench.json"}
