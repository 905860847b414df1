"""Law: a page opened in JupyterLab runs to its end and shows nothing that went wrong."""

import nbformat
import pytest

from .hands import complaints, no_errors, not_run, run_all

PAGES = ["00_plan_a_bath.ipynb"]


@pytest.mark.parametrize("name", PAGES)
def test_law_a_page_runs_to_its_end_without_an_error(opened, name):
    page = opened(name)
    run_all(page)
    no_errors(page)


def test_law_what_goes_wrong_is_seen(opened, server):
    """The checks of the test above, on a page that goes wrong in every way; what is hidden or empty is no alert."""
    shown = "import IPython\nIPython.display.HTML('<p role=alert>red</p><p role=alert hidden>no</p><p role=alert></p>')"
    sources = [shown, "import sys; print('odd', file=sys.stderr)", "raise ValueError('bad')", "1 + 1"]
    python = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    planted = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(source) for source in sources], metadata=python)
    nbformat.write(planted, server.pages / "planted.ipynb")
    page = opened("planted.ipynb")
    run_all(page)
    assert [said.strip() for said in complaints(page)] == ["alert: red", "error: ValueError: bad", "stderr: odd"]
    assert len(not_run(page)) == 1, "the cell after the error"
    page.evaluate("() => setTimeout(() => { throw Error('broken') })")
    page.wait_for_function("() => window.failures.length")
    assert "broken" in complaints(page)[-1]
    with pytest.raises(AssertionError):
        no_errors(page)
