"""Quantities: typed text to exact length, pressure, force, temperature, torque, angle or percent, and back.

Importing this room loads neither pint nor any other package; see `units` for when pint is used.
"""

from cornerwalk.quantity.errors import EmptyText, IncompleteText, QuantityError, templates
from cornerwalk.quantity.formats import (
    format_temperature,
    format_uncertain,
    uncertain_decimals,
)
from cornerwalk.quantity.graduation import (
    MILLIMETER,
    SIXTEENTH_INCH,
    Graduation,
    format_height,
    nearest_mark,
    read_graduation,
    sign_and_magnitude,
)
from cornerwalk.quantity.lengths import (
    LARGEST_HEIGHT,
    LARGEST_LENGTH,
    BareUnit,
    read_altitude,
    read_height,
    read_length,
    read_signed_length,
)
from cornerwalk.quantity.readers import (
    read_angle,
    read_force,
    read_hours,
    read_percent,
    read_pressure,
    read_rate,
    read_temperature,
    read_temperature_step,
    read_torque,
    read_volume,
)
from cornerwalk.quantity.units import convert
from cornerwalk.quantity.values import (
    Angle,
    Force,
    Length,
    Number,
    Pressure,
    Temperature,
    Torque,
    UnitSystem,
    to_fraction,
)

__all__ = [
    "LARGEST_HEIGHT",
    "LARGEST_LENGTH",
    "MILLIMETER",
    "SIXTEENTH_INCH",
    "Angle",
    "BareUnit",
    "EmptyText",
    "Force",
    "Graduation",
    "IncompleteText",
    "Length",
    "Number",
    "Pressure",
    "QuantityError",
    "Temperature",
    "Torque",
    "UnitSystem",
    "convert",
    "format_height",
    "format_temperature",
    "format_uncertain",
    "nearest_mark",
    "read_altitude",
    "read_angle",
    "read_force",
    "read_graduation",
    "read_height",
    "read_hours",
    "read_length",
    "read_percent",
    "read_pressure",
    "read_rate",
    "read_signed_length",
    "read_temperature",
    "read_temperature_step",
    "read_torque",
    "read_volume",
    "sign_and_magnitude",
    "templates",
    "to_fraction",
    "uncertain_decimals",
]
