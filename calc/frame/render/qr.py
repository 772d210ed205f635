"""The way back from paper: an address as a QR code (ISO/IEC 18004), drawn by segno."""

from __future__ import annotations

import io

import segno

LONGEST = 1200  # characters; beyond it the modules get too small for a phone's eye on paper


def qr_code(address: str) -> str:
    """An SVG element with the address, or nothing if it is too long to be read from paper."""
    if len(address) > LONGEST:
        return ""
    out = io.BytesIO()
    segno.make(address, error="l", micro=False).save(
        out, kind="svg", xmldecl=False, svgns=True, border=2, omitsize=True, nl=False, svgclass="qr"
    )
    return out.getvalue().decode("utf-8")
