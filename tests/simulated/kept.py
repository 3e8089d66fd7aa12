"""Outcomes kept in a file as they come, so that a run that is stopped is not lost."""

import pickle
from pathlib import Path

from tests.simulated.crowd import Outcome


class Kept:
    """A file of outcomes of one seed, the seed first; nothing where there is no file.

    It must come from the same code: an outcome does not say by which it was made.
    """

    def __init__(self, path: Path | None, *, seed: int) -> None:
        self.path, self.seed = path, seed

    def before(self) -> list[Outcome]:
        """What an earlier run has finished; a last one that was cut off is taken out.

        Raises:
            ValueError: The file is of another seed.
        """
        found: list[Outcome] = []
        if self.path is None or not self.path.exists():
            return found
        with self.path.open("r+b") as file:
            seed = pickle.load(file)
            if seed != self.seed:
                raise ValueError(f"{self.path} is of seed {seed}, not {self.seed}")
            whole = file.tell()
            try:
                while True:
                    found.append(pickle.load(file))
                    whole = file.tell()
            except (EOFError, pickle.UnpicklingError):
                file.truncate(whole)
        return found

    def add(self, outcome: Outcome) -> None:
        """Keep one more."""
        if self.path is None:
            return
        is_new = not self.path.exists()
        with self.path.open("ab") as file:
            if is_new:
                pickle.dump(self.seed, file)
            pickle.dump(outcome, file)
