"""The calculation package of Brinebook: what a watermaker asks of a boat, in pure Python."""

__version__ = "0.1.0"
