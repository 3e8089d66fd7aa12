"""Sending what the outbox holds: order, limits, retries.

``courier`` sends through services that can refuse, within the limits that all processes
share through the store; ``showing`` shows on a screen, which cannot refuse. Both take
messages from the store and mark what became of them, so a crash can repeat an answer but
not lose one.
"""
