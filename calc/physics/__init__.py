"""Textbook relations, one field a file: SI floats in, SI floats out, a source in every docstring."""
