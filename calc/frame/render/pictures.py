"""A picture of an answer as a file of its own, which any program for drawings opens."""

from __future__ import annotations

import re

from ..report import Report
from . import lanes, svg

# Black strokes on white, for paper and for files that leave the guide.
INK = """
text{font:12px "Brine Card","Source Sans 3","Noto Sans","Liberation Sans",Arial,sans-serif;fill:#000}
.grid{stroke:#bbb;stroke-width:.6;fill:none}
.axis,.tickline,.outline{stroke:#000;stroke-width:1.4;fill:none}
.curve{stroke:#000;stroke-width:1.8;fill:none}
.limit{stroke:#000;stroke-width:1;stroke-dasharray:6 3;fill:none}
.mark,.fine,.hidden{stroke:#000;stroke-width:.7;fill:none}
.hidden{stroke-dasharray:4 3}
.area,.band{fill:#000;fill-opacity:.07;stroke:none}
.hatchline{stroke:#000;stroke-width:.7}
.fill{fill:#ddd;stroke:#000;stroke-width:1.4}
.hatch,.blocked{stroke:#000;stroke-width:1}
.accent{stroke:#000;stroke-width:2.2;fill:none}
.arrowhead{fill:#000}
.label{fill:#000;stroke:none}
"""


def stand_alone(made: Report, key: str, system: str = "metric") -> str:
    """The chart or drawing of this key as an SVG file, black on white. Raises KeyError."""
    drawn = _drawn(made, key, system)
    head, body = drawn.split(">", 1)
    head = re.sub(r' width="[^"]*"', "", head)  # that of a page
    _, _, width, height = head.partition('viewBox="')[2].partition('"')[0].split()
    ground = f'<rect width="{width}" height="{height}" fill="#fff"/>'
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'{head} xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"'
        f">{body.replace('</desc>', f'</desc><style>{INK}</style>{ground}', 1)}\n"
    )


def _drawn(made: Report, key: str, system: str) -> str:
    prefix = "picture-"
    for chart in made.charts:
        if chart.key == key:
            return svg.chart(chart, system, prefix)
    for drawing in made.drawings:
        if drawing.key == key:
            return svg.drawing(drawing, system, prefix)
    for timeline in made.timelines:
        if timeline.key == key:
            return lanes.timeline(timeline, system, prefix)
    for bars in made.bars:
        if bars.key == key:
            return lanes.bars(bars, system, prefix)
    raise KeyError(f"this answer has no picture called “{key}”")
