"""Choices that both equipment records and the boat sheet offer."""

CHEMISTRIES = {
    "flooded": "lead-acid, flooded",
    "agm": "lead-acid, AGM",
    "gel": "lead-acid, gel",
    "lifepo4": "lithium iron phosphate (LiFePO4)",
}
FUELS = {"diesel": "diesel", "petrol": "petrol (gasoline)"}
STARTS = {
    "direct": "straight on the line",
    "soft": "through a soft starter or an inverter drive",
}
