"""The hub's file refuses what would be unsafe, limits each pupil, and never overwrites (laws).

It is run here with a stand-in for the hub, so that it is tried where no hub is installed; a hub
with pupils is driven in tests/browser/test_hub.py.
"""

import json
import os
import runpy
import subprocess
import sys
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest
from traitlets.config import Config

if sys.platform == "win32":
    pytest.skip("the hub is for Linux", allow_module_level=True)

ROOT = Path(__file__).parents[2]
CONFIG = ROOT / ".school" / "jupyterhub_config.py"
WORD = "copper and water"
ROOT_MAY = "--Spawner.args=--allow-root"
GIB = 2**30


class StandIn:
    """In the place of the hub's own spawner: it steps into the pupil's folder."""

    home_dir = ""

    def make_preexec_fn(self, name):
        return lambda: os.chdir(self.home_dir)


@pytest.fixture
def load(monkeypatch, tmp_path):
    """Load the file in an environment; it returns what it sets, and its own names."""
    hub, spawner = ModuleType("jupyterhub"), ModuleType("jupyterhub.spawner")
    spawner.SimpleLocalProcessSpawner = StandIn
    monkeypatch.setitem(sys.modules, "jupyterhub", hub)
    monkeypatch.setitem(sys.modules, "jupyterhub.spawner", spawner)
    proxy = tmp_path / "configurable-http-proxy"
    proxy.write_text("#!/bin/sh\n")
    proxy.chmod(0o755)
    monkeypatch.setattr(sys, "argv", ["jupyterhub", ROOT_MAY])
    monkeypatch.setattr(sys, "prefix", str(tmp_path))
    for name in ("FIRST_PAGE", "PCBCHEM_NO_AMOUNTS"):
        monkeypatch.delenv(name, raising=False)

    def load(**environment):
        usual = {"CLASS_WORD": WORD, "CLASS_FOLDER": tmp_path / "class", "PATH": tmp_path}
        for name, value in {**usual, **environment}.items():
            monkeypatch.setenv(name, str(value))
        config = Config()
        names = runpy.run_path(str(CONFIG), {"get_config": lambda: config})
        return config, SimpleNamespace(**names)

    return load


@pytest.mark.parametrize("word", ["", "copper", "7 signs"])
def test_law_no_hub_without_a_word(load, word, tmp_path):
    with pytest.raises(SystemExit, match=r"CLASS_WORD.* 8 letters"):
        load(CLASS_WORD=word)
    assert not (tmp_path / "class").exists()


def test_law_no_hub_with_a_first_page_that_is_not_there(load):
    with pytest.raises(SystemExit, match=r"no_page\.ipynb.*no such page"):
        load(FIRST_PAGE="no_page.ipynb")


def test_law_no_hub_without_its_proxy(load, tmp_path):
    with pytest.raises(SystemExit, match=r"npm install --prefix \.venv configurable-http-proxy"):
        load(PATH=tmp_path / "nowhere")


@pytest.mark.parametrize("argv", [["jupyterhub"], ["jupyterhub", "--Spawner.args=--debug"]])
def test_law_root_starts_no_hub(load, monkeypatch, argv):
    """For pupils may do what whoever starts it may do."""
    monkeypatch.setattr(sys, "argv", argv)
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    with pytest.raises(SystemExit, match="not as root"):
        load()
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    load()


def test_law_only_this_computer_hears_it_and_only_the_word_opens_it(load):
    config, _ = load()
    assert config.JupyterHub.bind_url == "http://127.0.0.1:8000"
    assert config.JupyterHub.authenticator_class == "shared-password"
    assert config.SharedPasswordAuthenticator == {"user_password": WORD}


def test_law_all_that_it_keeps_lies_outside_of_the_clone(load, tmp_path):
    config, _ = load()
    folder = tmp_path / "class"
    assert folder.stat().st_mode & 0o777 == 0o700
    assert config.JupyterHub.db_url == f"sqlite:///{folder}/hub.sqlite"
    kept = [
        config.JupyterHub.cookie_secret_file,
        config.ConfigurableHTTPProxy.pid_file,
        config.SimpleLocalProcessSpawner.home_dir_template,
    ]
    assert all(Path(place).is_relative_to(folder) for place in kept)
    config, _ = load(CLASS_FOLDER="", HOME=tmp_path / "home")
    assert str(tmp_path / "home" / "pcbchem-class") in config.JupyterHub.db_url


def test_law_a_class_begins_where_its_teacher_says(load):
    assert load()[0].Spawner.default_url == "/doc/tree/04_why_water_slows_it.ipynb"
    config, _ = load(FIRST_PAGE="00_plan_a_bath.ipynb")
    assert config.Spawner.default_url == "/doc/tree/00_plan_a_bath.ipynb"


def test_law_pupils_get_the_switch_for_amounts_and_not_the_word(load):
    config, _ = load(PCBCHEM_NO_AMOUNTS="1")
    kept = config.Spawner.env_keep.get_value(["PATH"])
    assert kept == ["PATH", "PCBCHEM_NO_AMOUNTS"]
    assert WORD not in config.Spawner.environment.values()


def test_law_each_pupil_s_numpy_keeps_to_one_thread(load):
    """More of them take address space each: under the limit pages would not run."""
    assert load()[0].Spawner.environment["OPENBLAS_NUM_THREADS"] == "1"


def test_law_no_pupil_is_asked_about_news(load):
    """By the file that JupyterLab reads; that it obeys is tried in the browser."""
    config, _ = load()
    folder = Path(config.Spawner.environment["JUPYTER_CONFIG_PATH"])
    (file,) = folder.glob("labconfig/*.json")
    (settings,) = json.loads(file.read_text(encoding="utf-8")).values()
    assert settings == {"fetchNews": "false", "checkForUpdates": False}


def test_law_idle_servers_are_stopped(load):
    (service,) = load()[0].JupyterHub.services
    (role,) = load()[0].JupyterHub.load_roles
    assert service["command"][1:3] == ["-m", "jupyterhub_idle_culler"]
    assert role["services"] == [service["name"]] and "delete:servers" in role["scopes"]


# runs what a pupil's server begins with, then asks for memory: too much, and enough
PUPIL = f"""
import os, resource, runpy, sys
from types import ModuleType
from traitlets.config import Config
class StandIn:
    def make_preexec_fn(self, name):
        return lambda: os.chdir(sys.argv[1])
sys.modules["jupyterhub"] = ModuleType("jupyterhub")
sys.modules["jupyterhub.spawner"] = spawner = ModuleType("jupyterhub.spawner")
spawner.SimpleLocalProcessSpawner = StandIn
sys.argv.append({ROOT_MAY!r})
names = runpy.run_path({str(CONFIG)!r}, {{"get_config": Config}})
names["LimitedSpawner"]().make_preexec_fn("ana")()
print(os.getcwd(), resource.getrlimit(resource.RLIMIT_AS))
enough = bytearray(2 * {GIB})
try:
    bytearray(8 * {GIB})
except MemoryError:
    print("MemoryError")
"""


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux holds a process to its limit")
def test_law_a_pupil_starts_in_their_folder_with_a_limit_that_holds(load, tmp_path):
    load()  # its environment is that of the process
    home = tmp_path / "ana"
    home.mkdir()
    process = subprocess.run(
        [sys.executable, "-c", PUPIL, str(home)], capture_output=True, text=True, timeout=60
    )
    assert process.stdout.splitlines() == [f"{home} {(3 * GIB, 3 * GIB)}", "MemoryError"], (
        process.stderr
    )


def test_law_a_pupil_gets_all_pages_and_keeps_what_they_wrote(load, tmp_path):
    config, names = load()
    home = tmp_path / "ana"
    pages = {page.name for page in (ROOT / "notebooks").glob("*.ipynb")}
    config.Spawner.pre_spawn_hook(SimpleNamespace(home_dir=str(home)))
    assert {page.name for page in home.glob("*.ipynb")} == pages
    assert (home / "LICENSE").is_file() and (home / "reference" / "cautions.md").is_file()
    assert not list(home.rglob("claims")) and not list(home.rglob("*.part"))
    first, second, *_ = sorted(pages)
    (home / first).write_text("mine")
    (home / second).unlink()
    names.lay_pages_out(SimpleNamespace(home_dir=str(home)))
    assert (home / first).read_text() == "mine"
    assert (home / second).read_bytes() == (ROOT / "notebooks" / second).read_bytes()


def test_law_half_a_page_is_no_page(load, monkeypatch, tmp_path):
    """A disk that is full, or a hub that is stopped: next time the page is whole."""
    _, names = load()
    home = tmp_path / "ana"

    def stop(source, target):
        Path(target).write_text("half")
        raise OSError("disk full")

    with monkeypatch.context() as patch:
        patch.setattr(names.shutil, "copyfile", stop)
        with pytest.raises(OSError, match="disk full"):
            names.lay_pages_out(SimpleNamespace(home_dir=str(home)))
    names.lay_pages_out(SimpleNamespace(home_dir=str(home)))
    copies = [copy for copy in home.rglob("*") if copy.is_file()]
    assert home / "LICENSE" in copies
    for copy in copies:
        assert copy.read_bytes() == (ROOT / "notebooks" / copy.relative_to(home)).read_bytes()
