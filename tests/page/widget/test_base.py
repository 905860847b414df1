"""A widget brings its script and style along, and all to operate gets its own keys (laws)."""

import re

import pytest

from pcbchem.page import Check, PageEnd, Prediction
from pcbchem.page.picture import Drawing, figure
from pcbchem.page.widget import base, panel
from pcbchem.page.widget.base import FOLDER, error_words
from pcbchem.page.widget.controls import PanelWords, Slider
from pcbchem.page.widget.panel import Panel

SCRIPTS = sorted(FOLDER.glob("*.js"))
STYLES = sorted(FOLDER.glob("*.css"))
CLASS = re.compile(r"\.([a-z][\w-]*)")


def some_panel():
    control = Slider("x", "X", "m", 0, 1, 1, 0)
    return Panel(
        "Base",
        [control],
        lambda narrow: Drawing(figure(1.0, 1.0)),
        lambda drawing, x: PanelWords("a", "b"),
    )


@pytest.fixture(params=["panel", "prediction", "check", "end"])
def widget(request, monkeypatch):
    monkeypatch.setattr(panel, "PANELS", {})
    if request.param == "panel":
        return some_panel()
    if request.param == "prediction":
        return Prediction("base", "?", {"a": "one", "b": "two"})
    if request.param == "end":
        return PageEnd()
    return Check(lambda seed: [])


def test_law_look_and_script_are_there(widget):
    """The shared ones first, each file once; its own module exports what shows it."""
    script, style = widget._esm, widget._css
    assert script.startswith((FOLDER / "shared.js").read_text(encoding="utf-8"))
    assert style.startswith((FOLDER / "shared.css").read_text(encoding="utf-8"))
    assert script.count("export default") == script.count("function make(") == 1
    own = ".pcbchem-panel" if isinstance(widget, Panel) else ".pcbchem-quiz"
    assert own in style


def test_law_every_file_is_used():
    names = {name for kind in (Panel, Prediction, Check) for name in kind.scripts + kind.styles}
    assert names == {path.name for path in SCRIPTS + STYLES}


def test_law_files_are_read_when_a_widget_is_made(tmp_path, monkeypatch):
    monkeypatch.setattr(panel, "PANELS", {})
    monkeypatch.setattr(base, "FOLDER", tmp_path)
    for name in Panel.scripts + Panel.styles:
        (tmp_path / name).write_text(f"/* {name} */", encoding="utf-8")
    made = some_panel()
    assert made._esm == "\n".join(f"/* {name} */" for name in Panel.scripts)
    assert made._css == "/* shared.css */\n/* panel.css */"


def test_law_every_class_of_ours_has_our_name():
    """In styles and in scripts: no page of JupyterLab means the same by it."""
    for path in STYLES:
        text = re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
        selectors = re.sub(r"\{[^{}]*\}", "", text)
        classes = set(CLASS.findall(selectors))
        assert classes and all(name.startswith("pcbchem-") for name in classes), path.name
    for path in SCRIPTS:
        text = path.read_text(encoding="utf-8")
        for names in re.findall(r"class: [\"`]([^\"`]*)[\"`]", text):
            assert all(name.startswith(("pcbchem-", "$")) for name in names.split()), names


def test_law_all_to_operate_keeps_its_keys():
    """JupyterLab takes the keys of an input, button or summary that lacks them on itself."""
    text = "".join(path.read_text(encoding="utf-8") for path in SCRIPTS)
    made = re.findall(r'make\(\s*"(?:input|button|select|summary)"', text)
    with_keys = re.findall(
        r'make\(\s*"(?:input|button|select|summary)",\s*(?:KEYS|\{\s*\.\.\.KEYS)', text
    )
    assert len(made) == len(with_keys) == 13


@pytest.mark.parametrize(
    "error, words",
    [(RuntimeError("planted"), "RuntimeError: planted\n"), (KeyError("a"), "KeyError: 'a'\n")],
)
def test_law_an_error_says_its_kind_and_words(error, words):
    assert error_words(error) == words


def test_law_what_has_no_still_form_says_so():
    with pytest.raises(NotImplementedError):
        base.PageWidget.still_forms(None)
