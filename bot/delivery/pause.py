"""How long to leave a service alone that fails whatever is asked of it."""

import zlib

FAILURES_ALLOWED = 2
"""Failures in a row after which the next send still goes at once: they may be one message's."""

_FIRST_S = 0.5
_LONGEST_S = 15.0


def pause_s(failures: int, *, seed: int) -> float:
    """The pause after so many failures in a row, with no send that went well between. [s]

    Nothing for the first two, then from half a second doubling to 15 s; between half and all
    of it is used, by the seed, so that processes that failed together do not come back together.

    Args:
        failures: In a row, >= 0.
        seed: Whose failure was the last.
    """
    beyond = failures - FAILURES_ALLOWED
    if beyond <= 0:
        return 0.0
    whole_s = min(_FIRST_S * 2.0 ** min(beyond - 1, 10), _LONGEST_S)
    share = zlib.crc32(f"{seed}:{failures}".encode()) / 2**32
    return float(whole_s * (1 + share) / 2)
