"""A hub for one class on one computer: a class word, a folder for each pupil, limits that hold.

Linux, Python, Node.js 20 or newer. Start it from the clone, by the line under *For a class* in
README.md. Everybody who knows the class word can run any code as whoever starts the hub, and all
pupils are that one user of the system: start it as a user who owns nothing else. Nothing that a
pupil writes is hidden from the others. It is made for a room, not for the open internet.

It listens on this computer alone. For the class's own network add
`--JupyterHub.bind_url=http://0.0.0.0:8000` to the line; pupils then open http://ADDRESS:8000, with
the address of this computer there (`hostname -I`). What is sent is not encrypted.

- CLASS_WORD: what pupils type as password, 8 letters at least. Names are free: each their own.
- CLASS_FOLDER: what the hub keeps, and the pupils' folders; else `pcbchem-class` in your home.
- FIRST_PAGE: what a pupil sees first; else the page on water, with which a class begins.
- PCBCHEM_NO_AMOUNTS=1: no page shows amounts to pour.
"""

import os
import resource
import shutil
import sys
from pathlib import Path

from jupyterhub.spawner import SimpleLocalProcessSpawner

PAGES = Path(__file__).parents[1] / "notebooks"
FOR_PUPILS = ("LICENSE", "*.ipynb", "reference/*.md")  # not the claims: they tell answers
ADDRESS_SPACE = 3 * 2**30  # of each process of a pupil [bytes]; the planner needs half of it
IDLE = 3600  # after which a server that nobody uses is stopped; its pupil's files stay [s]
START = 300  # longest wait for a server, while thirty of them start on a small computer [s]
SHORTEST_WORD = 8  # the hub takes none that is shorter

class_word = os.environ.get("CLASS_WORD", "")
if len(class_word) < SHORTEST_WORD:
    sys.exit(f"Set CLASS_WORD, the word for the class, of {SHORTEST_WORD} letters at least.")

first_page = os.environ.get("FIRST_PAGE", "04_why_water_slows_it.ipynb")
if not (PAGES / first_page).is_file():
    sys.exit(f"FIRST_PAGE is {first_page}: there is no such page in {PAGES}.")

# beside this Python, where the start line puts it, or wherever the system has it
proxy = shutil.which(
    "configurable-http-proxy",
    path=os.pathsep.join([f"{sys.prefix}/node_modules/.bin", os.environ.get("PATH", os.defpath)]),
)
if proxy is None:
    sys.exit(
        "configurable-http-proxy is missing: npm install --prefix .venv configurable-http-proxy"
    )

if os.geteuid() == 0 and "--Spawner.args=--allow-root" not in sys.argv:
    sys.exit("Start it as an ordinary user, not as root: pupils can do what that user can do.")

folder = Path(os.environ.get("CLASS_FOLDER") or Path.home() / "pcbchem-class").absolute()
folder.mkdir(mode=0o700, parents=True, exist_ok=True)


class LimitedSpawner(SimpleLocalProcessSpawner):
    """Starts a pupil's server in the pupil's folder, its address space limited."""

    # Not by popen_kwargs: they would take the place of the step into the folder, and all pupils
    # would share one. Not by mem_limit: for servers of this kind nobody holds them to it.
    def make_preexec_fn(self, name):
        enter_folder = super().make_preexec_fn(name)

        def prepare():
            enter_folder()
            resource.setrlimit(resource.RLIMIT_AS, (ADDRESS_SPACE, ADDRESS_SPACE))

        return prepare


def lay_pages_out(spawner):
    """Give a pupil the pages that are not in their folder yet; what is there is never changed."""
    for pattern in FOR_PUPILS:
        for page in PAGES.glob(pattern):
            copy = Path(spawner.home_dir, page.relative_to(PAGES))
            if os.path.lexists(copy):
                continue
            copy.parent.mkdir(parents=True, exist_ok=True)
            # named when it is whole: half a page would stay half a page
            part = copy.with_name(f".{copy.name}.part")
            shutil.copyfile(page, part)
            part.rename(copy)


c = get_config()  # noqa: F821

c.JupyterHub.bind_url = "http://127.0.0.1:8000"
c.JupyterHub.db_url = f"sqlite:///{folder}/hub.sqlite"
c.JupyterHub.cookie_secret_file = f"{folder}/cookie_secret"
c.ConfigurableHTTPProxy.pid_file = f"{folder}/proxy.pid"
c.ConfigurableHTTPProxy.command = [proxy]

c.JupyterHub.authenticator_class = "shared-password"
c.SharedPasswordAuthenticator.user_password = class_word
c.Authenticator.allow_all = True  # whoever knows the word

c.JupyterHub.spawner_class = LimitedSpawner
c.SimpleLocalProcessSpawner.home_dir_template = f"{folder}/pupils/{{username}}"
c.Spawner.cmd = [sys.executable, "-m", "jupyterhub.singleuser"]
c.Spawner.pre_spawn_hook = lay_pages_out
c.Spawner.default_url = f"/doc/tree/{first_page}"
c.Spawner.start_timeout = c.Spawner.http_timeout = START
c.Spawner.environment = {
    # with a thread for each core numpy alone takes address space for each of them
    "OPENBLAS_NUM_THREADS": "1",
    # in its labconfig JupyterLab is told to ask no pupil about news
    "JUPYTER_CONFIG_PATH": str(Path(__file__).parent),
}
c.Spawner.env_keep.append("PCBCHEM_NO_AMOUNTS")

c.JupyterHub.services = [
    {
        "name": "idle",
        "command": [sys.executable, "-m", "jupyterhub_idle_culler", f"--timeout={IDLE}"],
    }
]
c.JupyterHub.load_roles = [
    {
        "name": "idle",
        "services": ["idle"],
        "scopes": ["list:users", "read:users:activity", "read:servers", "delete:servers"],
    }
]
