"""The file of a log on the disk: read whole, locked, and added to at its end.

What is in the file already is never written again. Rows go to its end in one piece or not at all,
whoever else writes, and whenever a program is stopped.
"""

from __future__ import annotations

import contextlib
import errno
import os
import pathlib
from collections.abc import Iterator

from filelock import FileLock, Timeout

MOST_BYTES = 2_000_000
"""Longest log [bytes]."""
LOCK_WAIT = 30.0
"""How long to wait for another program that is adding rows [s]."""
LOCK_POLL = 0.01
"""How often to look whether it is done [s]."""


def read_bytes(file: pathlib.Path) -> bytes:
    """Read a file, up to just over `MOST_BYTES`, or raise ValueError saying why not."""
    if not os.path.lexists(file):
        raise ValueError("there is no such file")
    if not file.is_file():
        raise ValueError("is not a file")
    try:
        with open(file, "rb") as stream:
            return stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise ValueError(f"cannot be read: {error.strerror}") from None


@contextlib.contextmanager
def lock(file: pathlib.Path) -> Iterator[None]:
    """Keep other writers out of a log, also one that is yet to be made.

    The lock of offcuts.csv is an empty hidden file beside it, .offcuts.csv.lock.

    Parameters
    ----------
    file : Path
        The log.

    Raises
    ------
    ValueError
        It is no file.
    OSError
        No such folder, nothing may be made in it, or another program keeps the log locked for
        longer than `LOCK_WAIT`: names the log.
    """
    # Through every link to it the log has one lock
    log = pathlib.Path(os.path.realpath(file))
    if log.exists() and not log.is_file():
        raise ValueError("is not a file")
    if not log.parent.is_dir():  # the library would make the folder
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(file))

    # Beside the log, and not in a folder for temporary files: programs with different such folders,
    # other users and computers that share the log all see the lock. The log itself cannot be the
    # lock: in Windows nobody could then read it, and some versions of the library empty what they
    # lock. The library takes the lock file away where that is safe. We never do: a program that
    # still waited for it, and one that made it anew, would both think they are alone.
    lock_file = log.with_name(f".{log.name}.lock")
    # FileLock and not SoftFileLock: the system frees it when a program is killed. It holds nothing:
    # whoever may write the log may lock it, so everybody may write it.
    file_lock = FileLock(lock_file, timeout=LOCK_WAIT, mode=0o666)
    try:
        file_lock.acquire(poll_interval=LOCK_POLL)
    except Timeout:
        raise TimeoutError(
            errno.EAGAIN, "another program keeps the log locked, nothing was written", str(file)
        ) from None
    except NotImplementedError:  # said by some versions of the library
        raise OSError(
            errno.ENOSYS, "this file system has no locks, nothing was written", str(file)
        ) from None
    except OSError as error:
        raise OSError(
            error.errno,
            f"the log cannot be locked by a file {lock_file.name} beside it, "
            f"nothing was written: {error.strerror}",
            str(file),
        ) from None
    try:
        yield
    finally:
        file_lock.release()


@contextlib.contextmanager
def open_to_append(file: pathlib.Path) -> Iterator[int]:
    """Open a file for reading and for adding to its end, made where there is none, as a handle."""
    # In this mode the system itself puts every piece behind what is there, whoever else writes
    mode = os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0)
    handle = os.open(file, mode, 0o666)
    try:
        yield handle
    finally:
        os.close(handle)


def read_handle(handle: int) -> bytes:
    """Read all that an open file holds, up to just over `MOST_BYTES`."""
    os.lseek(handle, 0, os.SEEK_SET)
    with open(handle, "rb", closefd=False) as stream:
        return stream.read(MOST_BYTES + 1)


def add_bytes(handle: int, data: bytes) -> None:
    """Write to the end of an open file, in one piece and to the disk, or take it back."""
    size = os.fstat(handle).st_size
    try:
        if os.write(handle, data) != len(data):
            raise OSError(errno.ENOSPC, "no room for all of it, nothing was written")
        os.fsync(handle)
    except BaseException:
        with contextlib.suppress(OSError):
            os.ftruncate(handle, size)
        raise


def is_still_there(handle: int, file: pathlib.Path) -> bool:
    """Tell whether an open file is still the one of that name: an editor that saves replaces it."""
    try:
        return os.path.samestat(os.fstat(handle), os.stat(file))
    except FileNotFoundError:
        return False
