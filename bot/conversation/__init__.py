"""The talk: what a reply or a planned moment leads to. About talking, not about training.

Start at ``step``: ``hear`` answers a reply, ``come`` speaks at a planned moment. Both are
pure: they return facts, messages and the talk's new state, which the service saves.
"""
