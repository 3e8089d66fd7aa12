"""Every text a person sees, and the numbers and dates in it. Nothing is decided here."""
