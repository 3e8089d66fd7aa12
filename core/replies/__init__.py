"""The reader: what a reply means.

``read(text, context)`` gives acts or a misread, never an error.
"""
