"""Showing messages where nothing can go wrong: on a terminal, or in a replay."""

from collections.abc import Callable
from datetime import datetime

from bot.ports import Parcel, Store

_BATCH = 100


def deliver_now(
    store: Store, adapter: str, show: Callable[[Parcel], None], *, now: datetime
) -> int:
    """Show what waits for that adapter, in order; how many.

    The lease is nil: if the process dies while showing, the next one shows the answer
    again at once instead of waiting.

    Args:
        now: The moment of showing. Aware, UTC.
    """
    shown = 0
    parcels: tuple[Parcel, ...] = ()
    while True:
        with store.work() as work:
            for parcel in parcels:
                work.sent(parcel.id, at=now, message_id=None)
            parcels = work.claim_parcels(adapter, now=now, limit=_BATCH, lease_s=0.0)
        if not parcels:
            return shown
        for parcel in parcels:
            show(parcel)
        shown += len(parcels)
