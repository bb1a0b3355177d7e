"""A small catalogue as text, to be spoilt line by line."""

from typing import Final

GOOD: Final = """\
name = "small"
title = "A small catalogue"
invented = true
notice = "Invented for a test."

[[drives]]
id = "handle"
name = "Handle"
sku = "H-1"
handle_ratio = 6
handle_efficiency = 0.9
upstroke_share = 0.5

[[rods]]
id = "thin"
name = "Thin rod"
material = "stainless_steel"
diameter = { value = 0.375, unit = "in" }
piece_length = { value = 10, unit = "ft" }

[[drop_pipes]]
id = "plastic"
name = "Plastic pipe"
material = "pvc"
inside_diameter = { value = 1.278, unit = "in" }
outside_diameter = { value = 1.66, unit = "in" }

[[kits]]
id = "hookup"
name = "Hookup"
check_valve = true
gauge = false
parts = [{ sku = "K-1", name = "Check valve", quantity = 2, price = { amount = 28, currency = "USD" } }]

[[cylinders]]
id = "middle"
name = "Middle cylinder"
sku = "C-1"
kind = "lift"
bore = { value = 1.5, unit = "in" }
stroke = { value = 7, unit = "in" }
rated_lift = { value = 200, unit = "ft" }
outside_diameter = { value = 54, unit = "mm" }
volumetric_efficiency = 0.92
seal_drag = { value = 50, unit = "N" }
drive = "handle"
rod = "thin"
drop_pipe = "plastic"
weep_hole = { diameter = { value = 1.6, unit = "mm" }, depth_below_outlet = { value = 4, unit = "ft" } }
kits = ["hookup"]
price = { amount = 520, currency = "USD" }
lead_time_days = 7
"""


def spoilt(old: str, new: str) -> str:
    """The good catalogue with its first ``old`` replaced."""
    assert old in GOOD
    return GOOD.replace(old, new, 1)
