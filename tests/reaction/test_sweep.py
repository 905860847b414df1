"""Very many baths: the same bits whoever computes them, nothing half written, and no recipe.

All are laws: what a lot gives is what `etch` gives of the same baths.
"""

import contextlib
import multiprocessing
import os
import signal
import sys
import warnings
import weakref
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial

import numpy as np
import pandas
import pytest
from helpers.refusals import NAN, assert_refused, cases

from pcbchem import Board, Foil, RangeWarning, RateParameters, Tray, etch
from pcbchem.common.arrays import as_draws
from pcbchem.reaction import sweep as module
from pcbchem.reaction.bath.setup import Start
from pcbchem.reaction.sweep import AHEAD, RESULTS, UNITS, sweep

MANY, FEW = 50_000, 300
BOARD = Board(area=27e-4)
PLAUSIBLE = RateParameters.plausible(20)


def lot_of(count):
    """Draw baths [SI] inside the range that we checked; some clear and some never do."""
    generator = np.random.default_rng(5)
    return {
        "HCl": generator.uniform(100, 3000, count),
        "H2O2": generator.uniform(50, 2500, count),
        "T": generator.uniform(283, 313, count),
        "bath_per_area": generator.uniform(0.005, 0.1, count),
        "CuCl2": generator.uniform(0, 500, count),
    }


LOT = lot_of(FEW)


def start_of(lot):
    """Return the same baths as `etch` takes them."""
    volume = lot["bath_per_area"] * BOARD.area
    return Start(**{name: v for name, v in lot.items() if name != "bath_per_area"}, volume=volume)


def assert_same_bits(table, expected):
    assert list(table) == list(expected)
    for name in expected:
        # equal, and so alike where they are infinite; a NaN is equal to nothing
        assert np.array_equal(table[name], expected[name]), name


@pytest.fixture(scope="module")
def many():
    return lot_of(MANY)


@pytest.fixture(scope="module")
def serial(many):
    """The table of many baths, computed here one chunk after the other."""
    table = sweep(many, BOARD)
    assert 0.01 < np.isinf(table["time_to_clear"]).mean() < 0.99
    return table


@pytest.fixture(scope="module")
def client():
    """Two workers of dask, each a process."""
    from distributed import Client, LocalCluster

    with (
        LocalCluster(
            processes=True, n_workers=2, threads_per_worker=1, dashboard_address=None
        ) as cluster,
        Client(cluster) as client,
    ):
        yield client


def pool(method):
    """Return two processes that start by forking or spawning."""
    return ProcessPoolExecutor(2, mp_context=multiprocessing.get_context(method))


# Where threads run, newer Pythons warn of forking: a pool of few functions that never locks may
@pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")
@pytest.mark.parametrize("kind", ["threads", "fork", "spawn"])
def test_law_threads_and_processes_give_the_same_bits(kind, many, serial):
    if kind not in ("threads", *multiprocessing.get_all_start_methods()):
        pytest.skip(f"this system cannot {kind}")
    with ThreadPoolExecutor(2) if kind == "threads" else pool(kind) as executor:
        assert_same_bits(sweep(many, BOARD, executor=executor), serial)


def test_law_dask_gives_the_same_bits(client, many, serial):
    assert_same_bits(sweep(many, BOARD, executor=client.get_executor()), serial)


def test_law_dask_gives_the_same_bits_though_a_worker_is_killed(client, many, serial):
    killed = []

    def kill(done, total):
        if not killed:
            killed.append(min(client.run(os.getpid).values()))
            os.kill(killed[0], signal.SIGKILL)

    table = sweep(many, BOARD, executor=client.get_executor(), progress=kill)
    assert killed and killed[0] not in client.run(os.getpid).values()
    assert_same_bits(table, serial)


def test_a_killed_worker_of_a_pool_is_said_and_leaves_nothing(tmp_path, many):
    with pool("spawn") as executor:
        worker = executor.submit(os.getpid).result()

        def kill(done, total):
            # once: some chunks more may be done before the pool sees it
            with contextlib.suppress(ProcessLookupError):
                os.kill(worker, signal.SIGKILL)

        with pytest.raises(BrokenProcessPool) as caught:
            sweep(
                many, BOARD, executor=executor, progress=kill, chunk=2000, to=tmp_path / "a.parquet"
            )
    assert "a worker died" in caught.value.__notes__[0]
    assert list(tmp_path.iterdir()) == []


def test_law_a_lot_is_one_call_of_etch():
    run = etch(start_of(LOT), BOARD, Tray("shaken"))
    table = sweep(LOT, BOARD, Tray("shaken"))
    for name in (*RESULTS, "stopped_by"):
        assert np.array_equal(table[name], getattr(run, name)), name
    for name in LOT:
        assert np.array_equal(table[name], LOT[name]), name


def test_law_draws_become_the_band_of_etch():
    column = {name: values[:, None] for name, values in LOT.items()}
    run = etch(start_of(column), BOARD, parameters=PLAUSIBLE)
    table = sweep(LOT, BOARD, parameters=PLAUSIBLE)
    for name in RESULTS:
        band = run.band(name)
        for end in ("low", "middle", "high"):
            assert np.array_equal(table[f"{name}_{end}"], getattr(band, end)), (name, end)
    assert np.array_equal(table["never"], run.band("time_to_clear").never)
    assert 0 < table["never"].mean() < 1


def test_law_other_chunks_differ_by_rounding_alone():
    whole, parts = sweep(LOT, BOARD), sweep(LOT, BOARD, chunk=23)
    for name in RESULTS:
        np.testing.assert_allclose(parts[name], whole[name], rtol=1e-9)


@pytest.mark.parametrize(
    "parameters, chunk, steps",
    [(None, 128, [128, 256, 300]), (PLAUSIBLE, 2560, [128, 256, 300]), (PLAUSIBLE, 1, [1, 2, 3])],
)
def test_law_progress_adds_up_with_each_draw_counted_in_a_chunk(parameters, chunk, steps):
    calls = []
    lot = {name: values[: steps[-1]] for name, values in LOT.items()}
    sweep(lot, BOARD, parameters=parameters, chunk=chunk, progress=lambda *call: calls.append(call))
    assert calls == [(done, steps[-1]) for done in steps]


def test_a_number_counts_for_all_and_a_table_keeps_its_index():
    lot = pandas.DataFrame({**LOT, "T": 293.15}).iloc[::3]
    table = sweep(lot, BOARD)
    assert list(table.index) == list(lot.index)
    plain = sweep({**{name: lot[name] for name in LOT}, "T": 293.15}, BOARD)
    assert_same_bits(plain, table)
    assert list(plain.index) == list(range(len(lot)))
    alone = sweep({name: float(values[0]) for name, values in LOT.items()}, BOARD)
    assert len(alone) == 1


class Late(Future):
    """A chunk that runs when its result is asked for."""

    def __init__(self, work):
        super().__init__()
        self.work = work

    def result(self, timeout=None):
        if not self.done():
            self.set_running_or_notify_cancel()
            self.set_result(self.work())
        return super().result(timeout)


class Counting(Executor):
    """Runs chunks late; counts those under way, and the results that somebody still holds."""

    def __init__(self):
        self.submitted, self.most, self.ran, self.cancelled = 0, 0, 0, 0
        self.results = []

    def submit(self, function, /, *arguments):
        self.submitted += 1
        self.most = max(self.most, self.submitted - self.ran)
        future = Late(partial(self.run, function, *arguments))
        future.add_done_callback(self.note)
        return future

    def run(self, function, *arguments):
        self.ran += 1
        result = function(*arguments)
        self.results.append(weakref.ref(result[0]["time_to_clear"]))
        return result

    def note(self, future):
        self.cancelled += future.cancelled()

    @property
    def alive(self):
        return sum(result() is not None for result in self.results)


def test_law_a_few_chunks_are_under_way_at_once():
    executor = Counting()
    assert_same_bits(sweep(LOT, BOARD, executor=executor, chunk=25), sweep(LOT, BOARD, chunk=25))
    assert executor.ran == executor.submitted == 12
    assert executor.most == AHEAD


class Stop(Exception):
    pass


def stopping(error, after=0):
    """Return a progress that raises once more baths than these are done."""

    def progress(done, total):
        if done > after:
            raise error

    return progress


@pytest.mark.parametrize("error", [Stop, KeyboardInterrupt])
def test_law_an_error_cancels_what_waits(error):
    executor = Counting()
    with pytest.raises(error):
        sweep(LOT, BOARD, executor=executor, chunk=10, progress=stopping(error, 40))
    assert executor.ran == 5
    assert executor.submitted == executor.ran + executor.cancelled == 5 + AHEAD - 1


def test_law_an_error_in_a_worker_comes_out_and_cancels_the_rest(monkeypatch):
    chunks = []

    def fails_later(lot):
        chunks.append(lot)
        if len(chunks) == 3:
            raise Stop("in a worker")
        return etched(lot)

    etched = module._etched
    monkeypatch.setattr(module, "_etched", fails_later)
    executor = Counting()
    with pytest.raises(Stop, match="in a worker"):
        sweep(LOT, BOARD, executor=executor, chunk=10)
    assert executor.ran == len(chunks) == 3
    assert executor.submitted == executor.ran + executor.cancelled == 2 + AHEAD


@pytest.mark.parametrize("parameters", [None, PLAUSIBLE])
def test_law_a_file_holds_the_table_bit_for_bit(parameters, tmp_path):
    path = tmp_path / "lot.parquet"
    table = sweep(LOT, BOARD, parameters=parameters, chunk=1000)
    assert sweep(LOT, BOARD, parameters=parameters, chunk=1000, to=str(path)) == path
    again = pandas.read_parquet(path)
    assert_same_bits(again, table)
    pandas.testing.assert_frame_equal(again, table)
    assert again.attrs == table.attrs
    assert list(tmp_path.iterdir()) == [path]


def test_law_a_file_is_written_as_it_comes_and_groups_are_not_small(tmp_path, monkeypatch):
    from pyarrow.parquet import ParquetFile

    monkeypatch.setattr(module, "ROW_GROUP", 20)
    executor, held = Counting(), []
    sweep(
        LOT,
        BOARD,
        executor=executor,
        chunk=10,
        progress=lambda done, total: held.append(executor.alive),
        to=tmp_path / "a.parquet",
    )
    with ParquetFile(tmp_path / "a.parquet") as file:
        assert file.num_row_groups == 15
    # a group that is put together and one that is written, of 30 chunks
    assert len(held) == 30 and max(held) <= 5


def disk_is_full(*arguments, **options):
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize(
    "error, progress",
    [(Stop, stopping(Stop, 40)), (KeyboardInterrupt, stopping(KeyboardInterrupt))],
)
def test_law_an_error_leaves_nothing_written(error, progress, tmp_path):
    with pytest.raises(error):
        sweep(LOT, BOARD, chunk=10, progress=progress, to=tmp_path / "a.parquet")
    assert list(tmp_path.iterdir()) == []


def test_law_a_disk_that_gets_full_leaves_nothing_written_and_cancels(tmp_path, monkeypatch):
    monkeypatch.setattr("pyarrow.parquet.ParquetWriter.write_table", disk_is_full)
    monkeypatch.setattr(module, "ROW_GROUP", 10)
    executor = Counting()
    # the error is kept: its frames would otherwise go, and all that waits with them
    with pytest.raises(OSError) as caught:
        sweep(LOT, BOARD, executor=executor, chunk=10, to=tmp_path / "a.parquet")
    assert "No space left" in str(caught.value)
    assert executor.ran == 1 and executor.cancelled == executor.submitted - 1 > 0
    assert list(tmp_path.iterdir()) == []


def test_law_a_disk_that_does_not_get_all_of_it_leaves_nothing_written(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "fsync", disk_is_full)
    with pytest.raises(OSError, match="No space left"):
        sweep(LOT, BOARD, to=tmp_path / "a.parquet")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("comes", ["before", "meanwhile"])
def test_law_a_file_that_is_there_is_never_overwritten(comes, tmp_path):
    path = tmp_path / "a.parquet"

    def put(done=0, total=0):
        path.write_text("my notes", encoding="utf-8")

    if comes == "before":
        put()
    progress = stopping(AssertionError("it ran")) if comes == "before" else put
    with pytest.raises(FileExistsError, match=r"to = .*a\.parquet.* is already there"):
        sweep(LOT, BOARD, progress=progress, to=path)
    assert path.read_text(encoding="utf-8") == "my notes"
    assert list(tmp_path.iterdir()) == [path]


def test_law_a_link_to_nowhere_is_there_too(tmp_path):
    link = tmp_path / "a.parquet"
    try:
        link.symlink_to(tmp_path / "nowhere.parquet")
    except OSError:
        pytest.skip("this system makes no links")
    with pytest.raises(FileExistsError, match="to = "):
        sweep(LOT, BOARD, executor=Never(), to=link)
    assert list(tmp_path.iterdir()) == [link]


def test_law_a_folder_that_is_not_there_is_said_before_anything_runs(tmp_path):
    progress = stopping(AssertionError("it ran"))
    with pytest.raises(FileNotFoundError, match=r"to = .*none is not a folder"):
        sweep(LOT, BOARD, progress=progress, to=tmp_path / "none" / "a.parquet")


def test_law_a_folder_that_changes_meanwhile_changes_nothing(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "other").mkdir()
    path = sweep(LOT, BOARD, progress=lambda *call: os.chdir(tmp_path / "other"), to="a.parquet")
    assert path == tmp_path / "a.parquet" and path.is_file()


HOT = {**LOT, "T": np.where(np.arange(FEW) % 100 == 50, 340 + np.arange(FEW) / 100, 293.15)}
"""One bath in each hundred is warmer than we checked, the last one the warmest."""


@pytest.mark.parametrize("to", [None, "a.parquet"])
def test_law_the_warnings_of_workers_are_heard_once_in_the_words_of_etch(to, tmp_path):
    with warnings.catch_warnings(record=True) as expected:
        warnings.simplefilter("always")
        etch(start_of(HOT), BOARD)
    path = None if to is None else tmp_path / to
    with pool("spawn") as executor, warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        sweep(HOT, BOARD, executor=executor, chunk=100, to=path)
    assert [str(warning.message) for warning in caught] == [str(expected[0].message)]
    assert caught[0].category is RangeWarning
    assert caught[0].filename == __file__


def test_law_where_a_warning_is_an_error_there_is_no_file(tmp_path):
    with pytest.raises(RangeWarning, match=r"342\.5 K"):
        sweep(HOT, BOARD, chunk=100, to=tmp_path / "a.parquet")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("parameters", [None, PLAUSIBLE])
def test_law_a_lot_is_no_recipe(parameters):
    table = sweep(LOT, BOARD, parameters=parameters)
    assert {"volume", "mass", "verdict", "parts"}.isdisjoint(table)
    assert set(table) - {"stopped_by"} == set(table.attrs["units"]) <= set(UNITS)
    assert not {"m³", "L", "mL", "kg", "g"} & set(table.attrs["units"].values())
    assert "no recipe, no volumes, no verdict" in table.attrs["note"]


@pytest.mark.parametrize("name", ["pandas", "pyarrow"])
def test_what_lacks_the_extra_says_which_before_anything_runs(name, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, name, None)
    to = None if name == "pandas" else tmp_path / "a.parquet"
    progress = stopping(AssertionError("it ran"))
    words = rf'{name} is missing\. .*: pip install "\.\[sweep\]"'
    with pytest.raises(ModuleNotFoundError, match=words):
        sweep(LOT, BOARD, progress=progress, to=to)
    assert list(tmp_path.iterdir()) == []


class Never(Executor):
    """Nothing may be run."""

    def submit(self, function, /, *arguments):
        raise AssertionError("it ran")


def refused(lot=LOT, board=BOARD, **more):
    """Return a call that must be refused before anything runs."""
    return partial(sweep, lot, board, **{"executor": Never(), **more})


def without(name):
    return {other: values for other, values in LOT.items() if other != name}


def bad(name, value, place=FEW - 1):
    """Return the lot with one value changed."""
    column = LOT[name].copy()
    column[place] = value
    return {**LOT, name: column}


WIDE = Board(area=[27e-4, 30e-4])
SEVERAL = RateParameters(rate_factor=[1.0, 1.1])
TWIN = pandas.DataFrame({**LOT, "CuCl": 0.0}).rename(columns={"CuCl": "T"})


@cases(
    [
        ("no table", refused([1, 2]), ("baths = [1, 2]", "a table, or a dict")),
        ("no baths", refused({name: [] for name in LOT}), ("baths of no baths",)),
        ("volume", refused({**LOT, "volume": 1e-4}), ("'volume' is not known", "bath_per_area")),
        ("a number for a name", refused({**LOT, 3: 1.0}), ("column 3 is not known", "HCl")),
        ("missing", refused(without("T")), ("column 'T' is missing", "HCl, H2O2, T, bath")),
        ("twice", refused(TWIN), ("column 'T' is twice",)),
        ("words", refused({**LOT, "T": ["warm"] * FEW}), ("T = ", "is not a number")),
        ("draws", refused({**LOT, "T": as_draws([1.0, 2.0])}), ("T of draws", "parameters")),
        ("two axes", refused({**LOT, "T": [[293.0]]}), ("T of shape (1, 1)", "one value")),
        ("lengths", refused({**LOT, "T": [293.0] * 3}), ("T of 3 values", f"{FEW} as HCl")),
        ("negative", refused(bad("HCl", -1.0)), ("HCl = -1", "0 to 20000 mol/m³")),
        ("NaN", refused(bad("T", NAN)), ("T = nan", "K")),
        ("hardly any", refused(bad("bath_per_area", 1e-5)), ("bath_per_area = 1e-05", "0.00013")),
        (
            "does not cover its tray",
            refused(bad("bath_per_area", 5e-4), tray=Tray(open_area=0.03)),
            ("bath_per_area = 0.0005", "m³/m²"),
        ),
        ("a lake", refused(bad("bath_per_area", 11.0)), ("bath_per_area = 11", "to 10 m³/m²")),
        ("last chunk", refused(bad("T", 500.0), chunk=10), ("T = 500", "250 to 400 K")),
        ("no board", refused(board=27e-4), ("board = 0.0027", "it must be a Board")),
        ("boards", refused(board=WIDE), ("board: an array in it",)),
        ("foils", refused(board=Board(area=1e-3, foil=Foil([0.1, 0.3]))), ("board: an array",)),
        ("no tray", refused(tray="shaken"), ("tray = 'shaken'", "it must be a Tray")),
        ("trays", refused(tray=Tray(T_air=[290.0, 300.0])), ("tray: an array in it",)),
        ("a small tray", refused(tray=Tray(open_area=1e-3)), ("board area", "0.001 m²")),
        ("no parameters", refused(parameters=200), ("parameters = 200", "RateParameters")),
        ("parameters", refused(parameters=SEVERAL), ("parameters: an array in it",)),
        ("no executor", refused(executor=2), ("executor = 2", "it must be a Executor")),
        ("no function", refused(progress=True), ("progress = True", "function")),
        ("chunk", refused(chunk=0), ("chunk = 0", "1 to 1000000")),
        ("half a bath", refused(chunk=1.5), ("chunk = 1.5", "whole number")),
        ("suffix", refused(to="lot.csv"), ("to = 'lot.csv'", ".parquet")),
        ("no path", refused(to=3), ("to = 3", ".parquet")),
    ]
)
def test_law_all_is_checked_before_anything_runs(call, words):
    assert_refused(call, words)


def test_law_the_least_bath_that_is_allowed_runs():
    for tray in (Tray(), Tray(open_area=0.03)):
        with pytest.raises(ValueError) as caught:
            sweep({**LOT, "bath_per_area": 0.0}, BOARD, tray)
        least = caught.value.low
        assert len(sweep({**LOT, "bath_per_area": least}, BOARD, tray)) == FEW
