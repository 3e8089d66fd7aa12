"""Where keys come from: the environment, or a file that only its owner can read.

The file holds one key a line, the newest first. It is read again when it was changed, so that a
process that runs on uses a new key from its next transaction on.
"""

import os
import stat
from pathlib import Path
from threading import Lock

from bot.errors import BadSettings
from bot.seal import Key, Ring, key_from_text, new_key

_PRIVATE = 0o600
_HEAD = (
    "# Keys of weeknight, the newest first: the first one seals, each of them opens. Without them\n"
    "# the database cannot be read. Keep a copy, but never beside a backup of the database.\n"
)


def is_private(found: os.stat_result, *, me: int) -> bool:
    """Whether nobody but its owner, user ``me``, and root can read or change a file.

    A file of root's that we may read although it is not ours was opened to us alone: so does
    systemd with its credentials, whose access list then shows as the group's bits.
    """
    mode = stat.S_IMODE(found.st_mode)
    is_lent = me != 0 and found.st_uid == 0 and found.st_gid == 0
    return not mode & (0o007 if is_lent else 0o077)


class GivenKeys:
    """Keys from a setting: separated by commas or blanks, the newest first."""

    def __init__(self, text: str, *, named: str) -> None:
        """Read them.

        Raises:
            BadSettings: One of them is no key, or there is none.
        """
        keys = [key_from_text(word, named=named) for word in text.replace(",", " ").split()]
        if not keys:
            raise BadSettings(f"{named} is empty; make a key: weeknight key new")
        self.where = named
        self._ring = Ring(keys)

    def ring(self) -> Ring:
        """The keys."""
        return self._ring

    def made(self) -> Ring:
        """The keys."""
        return self._ring

    def add(self, key: Key) -> None:
        """Refused: a program cannot change its settings for the next one."""
        raise BadSettings(
            f"the keys come from {self.where}, which only you can change: put a new one "
            "(weeknight key new) in front of the others, start everything anew with that, "
            "then run this again"
        )


class KeyFile:
    """Keys in a file. Threads may share it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.where = str(path)
        self._lock = Lock()
        self._seen: tuple[int, int, int] | None = None
        self._ring: Ring | None = None

    def ring(self) -> Ring:
        """The keys as the file has them now.

        Raises:
            BadSettings: There is no file, it is no key file, or others can read it.
        """
        with self._lock:
            try:
                self._ring = self._current()
            except BadSettings:
                # A process that runs goes on with the keys it has.
                if self._ring is None:
                    raise
            return self._ring

    def _current(self) -> Ring:
        try:
            found = self.path.stat()
        except OSError as error:
            raise BadSettings(
                f"the key file {self.path} cannot be read: {error.strerror}; bring it back from "
                "where you keep a copy, or set WEEKNIGHT_KEY or WEEKNIGHT_KEY_FILE"
            ) from error
        mark = (found.st_mtime_ns, found.st_ino, found.st_size)
        if self._ring is not None and mark == self._seen:
            return self._ring
        ring = Ring(self._read())
        self._seen = mark
        return ring

    def made(self) -> Ring:
        """The keys; a new one in a new file where there was no file."""
        if not self.path.exists():
            self._make()
        return self.ring()

    def add(self, key: Key) -> None:
        """Put a key in front of the others, in one step that a crash cannot halve."""
        lines = [key.text, *(old.text for old in self._read())]
        new = self._written(lines)
        try:
            new.replace(self.path)
        except OSError as error:
            new.unlink(missing_ok=True)
            raise self._unwritable(error) from error

    def _make(self) -> None:
        try:
            self.path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            raise self._unwritable(error) from error
        new = self._written([new_key().text])
        try:
            # Not replace: another process that was quicker has sealed with its key already.
            os.link(new, self.path)
        except FileExistsError:
            pass
        except OSError as error:
            raise self._unwritable(error) from error
        finally:
            new.unlink(missing_ok=True)

    def _written(self, lines: list[str]) -> Path:
        """A file beside ours that holds these lines, safe on the disk."""
        new = self.path.with_name(f".{self.path.name}.{os.getpid()}.{new_key().id}")
        try:
            file = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, _PRIVATE)
            with os.fdopen(file, "w", encoding="ascii") as writing:
                writing.write(_HEAD + "".join(f"{line}\n" for line in lines))
                writing.flush()
                os.fsync(writing.fileno())
        except OSError as error:
            raise self._unwritable(error) from error
        return new

    def _read(self) -> list[Key]:
        try:
            with self.path.open(encoding="utf-8") as reading:
                self._check(os.fstat(reading.fileno()))
                lines = [line.partition("#")[0].strip() for line in reading]
        except (OSError, UnicodeDecodeError) as error:
            why = getattr(error, "strerror", None) or "it is no text"
            raise BadSettings(f"the key file {self.path} cannot be read: {why}") from error
        keys = [key_from_text(line, named=self.where) for line in lines if line]
        if not keys:
            raise BadSettings(f"the key file {self.path} holds no key")
        return keys

    def _check(self, found: os.stat_result) -> None:
        if not is_private(found, me=os.geteuid()):
            raise BadSettings(
                f"the key file {self.path} can be read by others "
                f"(mode {stat.S_IMODE(found.st_mode):04o}); run: chmod 600 {self.path}"
            )

    def _unwritable(self, error: OSError) -> BadSettings:
        return BadSettings(f"the key file {self.path} cannot be written: {error.strerror}")
