"""Formulas only: one module per question, each with its source and where it holds.

``short_hold`` how long a load can be held, ``repetition`` how often it can be lifted,
``effort`` what a word or a rating says about what was left.
"""
