"""The training engine: what to load, how long, what next, and why.

Everything here is pure. No files, network, clock, chance, environment or
logging, and no import of ``bot``. The same input gives the same answer; time
comes in as an aware instant and a zone, or as a date in the athlete's zone.

Start with ``facts`` (what happened), ``athlete`` (what that adds up to),
``target`` (what the engine answers), then ``progression`` and ``planning``.
"""
