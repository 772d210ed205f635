"""Textbook relations, one field a file: SI floats in and out, a source in every docstring."""
