"""What an operator's tools may ask a running program: is it alive, is it ready, how is it doing.

``server`` answers over HTTP on an address of its own; ``metrics`` counts; ``fresh`` keeps
slow questions from being asked too often. Nothing of a person is in any answer.
"""
