"""No saved, printed or exported planner holds amounts, whatever was entered into it (laws).

Whoever reads such a page has other bottles by then.
"""

import re
from types import SimpleNamespace

import nbclient
import nbformat
import pytest
from helpers.amounts import amounts, told_in
from helpers.page_run import like_a_new_kernel, outputs_of, run_cell
from helpers.workshop import POUR
from nbconvert import HTMLExporter

from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.page.export.export import as_html
from pcbchem.page.export.kept import copy_widgets
from pcbchem.page.school import NO_AMOUNTS
from pcbchem.page.widget import base
from pcbchem.page.widget.panel import BLANK, PANELS

CHANGED = {"total": 331, "water_parts": 1}
"""What a reader enters: by hand, a third of it is 110 mL, measured."""
MAKE = """from pcbchem.lesson.plan_a_bath import planner
bath = planner()
bath"""
CHANGE = f"""bath.redraw(**{CHANGED})
bath"""
PRINT = "print(bath); print([bath])"


@pytest.fixture
def panel():
    """A planner as its page drives it: the messages that it sends are kept."""
    widget = planner.planner()
    sent = []
    widget.send = lambda content, buffers=None: sent.append((content, buffers))
    widget.set_state({"values": widget.values | CHANGED, "asked": widget.asked + 1})
    yield widget, sent
    PANELS.pop(widget.title)


def page_of(folder, *sources):
    """Write a page of some cells of code, and return where."""
    python = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    cells = [nbformat.v4.new_markdown_cell("# A bath")]
    # folded, as on the page: a copy leaves their code out
    folded = {"jupyter": {"source_hidden": True}}
    cells += [nbformat.v4.new_code_cell(source, metadata=folded) for source in sources]
    path = folder / "bath.ipynb"
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=python), path)
    return path


@pytest.fixture(scope="module")
def saved(tmp_path_factory):
    """A page whose planner was shown, changed, shown again and printed, as it is saved."""
    path = page_of(tmp_path_factory.mktemp("page"), MAKE, CHANGE, PRINT)
    page = nbformat.read(path, as_version=4)
    nbclient.NotebookClient(page, timeout=300).execute()
    return page


def without_bytes(text):
    return re.sub(r"base64,[A-Za-z0-9+/=]+", "", text)


def test_the_changed_planner_has_amounts(panel):
    """So the laws below see what they should."""
    widget, sent = panel
    assert widget.failure is None and widget.values["total"] == 331
    assert "110 mL" in widget.head and POUR.search(widget.head)
    answer, buffers = sent[-1][0]["answer"], sent[-1][1]
    assert answer["head"] == widget.head and answer["row"]["total"] == 331
    assert buffers[0].startswith(b"\x89PNG"), "its page is told, by a message"


def test_law_the_state_of_a_changed_planner_tells_nothing(panel):
    widget, _ = panel
    state = widget.get_state()
    for name in BLANK:
        assert state[name] == BLANK[name], name
    told, _ = told_in({"planner": {"state": state}})
    assert amounts(told) == []
    one = widget.get_state("head") | widget.get_state(["png", "row", "file"])
    assert one == {"head": "", "png": b"", "row": None, "file": ""}


def test_law_no_update_of_the_state_tells_anything(panel):
    """What is put into the model is what a page saves."""
    widget, _ = panel
    for name in BLANK:
        assert not widget._should_send_property(name, getattr(widget, name)), name


def test_law_rows_and_works_are_told_and_not_kept(panel):
    widget, sent = panel
    before = widget.get_state()
    widget._heard(widget, {"beside": [widget.row], "number": "1"}, [])
    shown = sent[-1][0]
    assert "(mL)" in shown["csv"] and shown["lost"] == []
    widget._heard(widget, {"press": "card", "number": "2"}, [])
    assert sent[-1][0]["page"] and widget.failure is None
    assert widget.get_state() == before


def test_law_printed_it_says_where_amounts_are(panel):
    widget, _ = panel
    for text in (repr(widget), str(widget), str([widget])):
        assert planner.ON_PAPER in text and amounts(text) == []
    assert widget.on_paper == planner.ON_PAPER and "card" in planner.ON_PAPER


@pytest.mark.parametrize("copied", [False, True])
def test_law_what_stands_in_a_cell_s_output_has_no_amount(panel, copied, monkeypatch):
    widget, _ = panel
    if copied:
        monkeypatch.setattr(base, "copied_as", lambda each: each.still_forms())
    bundle = widget._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    assert ("text/html" in data) == copied
    assert amounts(without_bytes(str(data))) == []
    if copied:
        assert planner.SCHOOL in data["text/html"] and "110" not in without_bytes(str(data))


def test_law_a_page_saved_with_its_widgets_has_no_amount(saved):
    (states,) = saved.metadata["widgets"].values()
    told, bytes_of = told_in(states["state"])
    assert planner.ON_PAPER in told and amounts(told) == [] and bytes_of == []
    kept = [model["state"] for model in states["state"].values()]
    assert any(state.get("values", {}).get("total") == 331 for state in kept), "it was changed"


def test_law_no_output_of_a_saved_page_has_an_amount(saved):
    outputs = [cell.outputs for cell in saved.cells if cell.cell_type == "code"]
    assert all(outputs) and planner.ON_PAPER in str(outputs[-1])
    assert amounts(without_bytes(str(outputs))) == []


def test_law_nbconvert_of_a_changed_planner_has_no_amount(saved):
    text, _ = HTMLExporter(template_name="lab").from_notebook_node(saved)
    body = text[text.index("<body") :]
    shown = re.sub(r"<script.*?</script>|<style.*?</style>", "", body, flags=re.S)
    assert "A bath" in shown and amounts(without_bytes(shown)) == []
    states = re.findall(r"<script[^>]*widget-state[^>]*>(.*?)</script>", body, flags=re.S)
    assert len(states) == 1 and "In all" not in states[0] and "110 mL" not in states[0]


@pytest.mark.parametrize("live", [False, True])
def test_law_an_exported_copy_of_a_changed_planner_has_no_amount(tmp_path, live, monkeypatch):
    """A class's plan of the workshop's bath stands there, and says so.

    Its cell runs in this process: that a kernel does the same is in tests/page/export.
    """
    monkeypatch.setenv(NO_AMOUNTS, "0")
    monkeypatch.setattr(base, "copied_as", None)
    path = page_of(tmp_path, f"{MAKE}\n{CHANGE}")
    page = nbformat.read(path, as_version=4)
    *_, cell = page.cells
    with like_a_new_kernel():
        copy_widgets(live)
        value, printed = run_cell(cell.source, {})
        cell.outputs = outputs_of(SimpleNamespace(value=value, printed=printed))
    nbformat.write(page, path)
    html = as_html(path, {}, live=live)
    text = re.sub(r"<script.*?</script>|<style.*?</style>", "", html, flags=re.S)
    assert planner.SCHOOL in text and "331" not in without_bytes(text)
    body = without_bytes(text[text.index("<body") :])
    assert amounts(body) == []
