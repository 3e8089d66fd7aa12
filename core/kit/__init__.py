"""What loads exist: plates, pins, bands and the bar.

``inventory`` is what an athlete owns, ``loads`` what its plates make on a pin or a
belt, ``help`` what bands and a belt make of a body on a bar.
"""
