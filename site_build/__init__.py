"""Builds the guide: puts each calculator where a page asks for it; serves, tests, measures it."""
