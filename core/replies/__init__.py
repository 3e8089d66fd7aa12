"""The reader: what a reply means.

``read(text, context)`` gives acts or a misread, never an error. A reply's way:
``normal`` (one form of each sign) - ``cut`` (clauses of tokens, ``vocabulary``) -
``grammar``, ``parse_table`` and
``builder`` (``reply.lark``) - ``meaning`` (acts, inside ``bounds``), or
``suggestion`` (what would have been understood). ``contract`` writes a reading as JSON.
"""

from core.replies.reader import acts_of, clauses, read

__all__ = ["acts_of", "clauses", "read"]
