"""How long to wait before trying again."""

import math
import zlib

_FIRST_S = 1.0
_LONGEST_S = 60.0


def backoff_s(attempts: int, *, seed: int) -> float:
    """The wait after so many tries in a row. [s], in (0, 60]

    Doubles from 1 s to 60 s; between half and all of it is used, by the seed, so that many
    who failed together do not come back together.

    Args:
        attempts: Tries that failed before this one, >= 0.
        seed: Whose wait it is.
    """
    whole_s = min(math.ldexp(_FIRST_S, min(attempts, 10)), _LONGEST_S)
    share = zlib.crc32(f"{seed}:{attempts}".encode()) / 2**32
    return whole_s * (1 + share) / 2
