"""What Wiring asks."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import but
from ...sheet import BoatSheet as boat


class Asks(sheet.Wiring, first=("unit", "wiring_rules", "dc_run", "ac_run", "dc_size", "ac_size")):
    dc_run = but(boat.dc_run, group="", open=True)
    dc_size = but(boat.dc_size, group="", open=True)
    wiring_rules = but(boat.wiring_rules, open=True)
    ac_run = but(boat.ac_run, open=True)
    ac_size = but(boat.ac_size, open=True)
    inverter = but(boat.inverter, open=False)
    bank = but(boat.bank, open=False)
    bank_chemistry = but(boat.bank_chemistry, open=False)
    bank_capacity = but(boat.bank_capacity, open=False)
