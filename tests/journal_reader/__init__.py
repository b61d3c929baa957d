"""The journal read by hardware-notes/journal-format.md alone, with nothing but the standard library."""
