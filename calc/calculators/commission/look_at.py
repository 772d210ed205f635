"""What to look at first where a reading is too low or too high, by its key."""

from __future__ import annotations

LOW = {
    "rest_volts": "source and its setting; the meter",
    "start_volts": "cable and its joints, the source's size; by somebody licensed",
    "before": "seacock, strainer, air, the way the boost pump turns; the gauge",
    "behind": "air in the filters, cartridges, a vent left shut; the gauge",
    "product": "the gauge of the pressure, air in the feed, hertz; then the membranes",
    "brine": "relief valve and regulating valve, a plunger's valve, hertz",
    "conductivity": "the meter in a known solution; then be glad",
    "drop": "a ring left out: brine runs past the membrane",
    "volts": "cable and its joints, the source; by somebody licensed",
    "amperes": "air in the pump, hertz, the pressure's gauge",
}
LOW_WITHOUT_RELIEF = {"brine": "regulating valve, a plunger's valve, hertz"}
HIGH = {
    "rest_volts": "source and its setting; the meter",
    "start_amperes": "regulating valve open? then the motor's connection; by somebody licensed",
    "before": "a valve half shut behind it, the filters' film of packing; the gauge",
    "behind": "a valve half shut at the pump; the gauge",
    "product": "the gauge of the pressure; warmer or thinner sea than said",
    "brine": "the bucket and the watch; hertz",
    "conductivity": "an hour's run first; then a ring of the product tube; then the membrane",
    "drop": "preservative or a spacer's film in the membranes, brine's way too narrow",
    "volts": "source and its setting; the meter",
    "amperes": "pressure's gauge, the motor's connection, low volts; by somebody licensed",
    "frame": "air round it, the way its fan turns; then its load",
}
