"""Builds the guide: puts each calculator where a page asks for it, and serves, tests and measures the result."""
