"""Refusals shared by the physics: each is a ValueError whose text is a plain sentence."""

from __future__ import annotations

import math


def positive(value: float, name: str) -> float:
    """`value` if it is finite and above zero. Raises ValueError otherwise."""
    if not (value > 0 and math.isfinite(value)):
        raise ValueError(f"{name} must be more than zero")
    return value


def not_negative(value: float, name: str) -> float:
    """`value` if it is finite and not below zero. Raises ValueError otherwise."""
    if not (value >= 0 and math.isfinite(value)):
        raise ValueError(f"{name} must not be negative")
    return value


def fraction(value: float, name: str) -> float:
    """`value` if it lies from 0 to 1. Raises ValueError otherwise."""
    if not 0 <= value <= 1:
        raise ValueError(f"{name} must lie between 0 and 100 %")
    return value


def efficiency(value: float, name: str) -> float:
    """`value` if it lies above 0 and up to 1. Raises ValueError otherwise."""
    if not 0 < value <= 1:
        raise ValueError(f"{name} must be above 0 and at most 100 %")
    return value
