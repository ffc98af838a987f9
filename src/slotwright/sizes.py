"""Sizes as people write them, to plain numbers and back.

Inside the program a length is a float in mm, an angle in degrees, a mass in kg, a force in N, a torque in N.m, a stress
in MPa. This is the one place where units are converted, and the grammar here is small on purpose: a text is matched
against it and never evaluated.

    31-13/16 in   31 13/16"   1/2"   .500 in   3' 6-1/2"   12.7 mm   45 deg   23 deg 41'   84 lb   -20 degC   140 degF
    M12   M10x1.25   1/2-13 UNC   #10-24   25 H7   5/8 slot
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from slotwright.errors import SizeError, printing

if TYPE_CHECKING:
    import pint

LONGEST_TEXT = 64
FINEST_FRACTION = 64
MM_PER_INCH = 25.4

# Exact by definition: the international yard and pound (1959), and standard gravity 9.80665 m/s2 (CGPM 1901).
_DEFINITIONS = """
millimetre = [length] = mm
centimetre = 10 * millimetre = cm
metre = 1000 * millimetre = m
inch = 25.4 * millimetre = in
foot = 12 * inch = ft
degree = [angle] = deg
arc_minute = degree / 60
kilogram = [mass] = kg
gram = kilogram / 1000 = g
tonne = 1000 * kilogram = t
pound = 0.45359237 * kilogram = lb
ounce = pound / 16 = oz
newton = [force] = N
kilonewton = 1000 * newton = kN
pound_force = 4.4482216152605 * newton = lbf
newton_metre = newton * metre = Nm
pound_force_foot = pound_force * foot = lbf_ft
pound_force_inch = pound_force * inch = lbf_in
megapascal = newton / millimetre ** 2 = MPa
gigapascal = 1000 * megapascal = GPa
psi = pound_force / inch ** 2
ksi = 1000 * psi
"""

# What people write after the number, to the name above. Anything else is refused.
_SPELLINGS: dict[str, dict[str, str]] = {
    "length": {
        "mm": "mm", "cm": "cm", "m": "m", "in": "in", "inch": "in", "inches": "in", '"': "in", "ft": "ft",
        "foot": "ft", "feet": "ft", "'": "ft",
    },
    "angle": {"deg": "deg", "degree": "deg", "degrees": "deg", "°": "deg"},
    "mass": {"kg": "kg", "g": "g", "t": "t", "lb": "lb", "lbs": "lb", "oz": "oz"},
    "force": {"N": "N", "kN": "kN", "lbf": "lbf"},
    "torque": {"N.m": "Nm", "Nm": "Nm", "N m": "Nm", "lbf.ft": "lbf_ft", "lbf ft": "lbf_ft", "lbf.in": "lbf_in",
               "lbf in": "lbf_in"},
    "stress": {"MPa": "MPa", "N/mm2": "MPa", "GPa": "GPa", "psi": "psi", "ksi": "ksi"},
}  # fmt: skip
BASE_UNIT = {"length": "mm", "angle": "deg", "mass": "kg", "force": "N", "torque": "Nm", "stress": "MPa"}
_EXAMPLE = {
    "length": '"12.7 mm", "31-13/16 in" or ".500 in"',
    "angle": '"45 deg" or "23 deg 41\'"',
    "mass": '"38 kg" or "84 lb"',
    "force": '"8000 N", "8 kN" or "1800 lbf"',
    "torque": '"88 N.m" or "65 lbf.ft"',
    "stress": '"640 MPa" or "92 ksi"',
}

_DIGITS = r"[0-9]{1,9}"
_WHOLE_AND_FRACTION = re.compile(rf"(?:({_DIGITS})[ -])?({_DIGITS})/([0-9]{{1,4}})", re.ASCII)
_DECIMAL = re.compile(rf"{_DIGITS}(?:\.[0-9]{{0,9}})?|\.[0-9]{{1,9}}", re.ASCII)
_QUANTITY = re.compile(r"(?P<sign>-?)(?P<number>[0-9][0-9 ./-]*|\.[0-9]+)\s*(?P<unit>\D.*)?", re.ASCII)
_POWER = re.compile(r"[eE][+-]?[0-9]", re.ASCII)
_FEET_AND_INCHES = re.compile(rf"(?P<sign>-?)(?P<feet>{_DIGITS}) ?(?:'|ft) ?(?P<inches>[0-9.].*?) ?(?:\"|in)", re.ASCII)
_DEGREES_AND_MINUTES = re.compile(rf"(?P<sign>-?)(?P<deg>{_DIGITS}) ?(?:°|deg) ?(?P<minutes>[0-9]{{1,2}}) ?(?:'|min)")
_TEMPERATURE = re.compile(
    rf"(?P<sign>-?)(?P<number>{_DIGITS}(?:\.[0-9]{{1,9}})?)\s*(?:deg|°)\s?(?P<scale>[CF])", re.ASCII
)
_THREAD_LIKE = re.compile(r"#?\d{1,2}(?:-\d{1,2}/\d{1,2}|/\d{1,2})?-\d{1,2}(?: ?UN[A-Z]*)?", re.ASCII | re.IGNORECASE)


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint  # kept out of start-up: it takes longer to load than everything else a help text needs

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    for line in _DEFINITIONS.strip().splitlines():
        registry.define(line)
    return registry


@cache
def _factor(unit: str, base: str) -> Fraction:
    """Exact number of base units in one unit."""
    return Fraction(_registry().Quantity(Fraction(1), unit).to(base).magnitude)


def length(text: str) -> float:
    """Read a length, mm. Errors: SizeError when the text is not a length with a unit."""
    return _quantity(text, "length")


def angle(text: str) -> float:
    """Read an angle, degrees; degrees with minutes are taken too. Errors: SizeError."""
    return _quantity(text, "angle")


def mass(text: str) -> float:
    """Read a mass, kg. Errors: SizeError."""
    return _quantity(text, "mass")


def temperature(text: str) -> float:
    """Read a temperature, degrees Celsius: "-20 degC", "140 degF". Errors: SizeError."""
    match = _TEMPERATURE.fullmatch(_cleaned(text, "temperature"))
    if match is None:
        raise SizeError(shown(text), "is no temperature", 'write it like "60 degC" or "140 degF"')
    degrees = Fraction(match["number"]) * (-1 if match["sign"] else 1)
    return float(degrees if match["scale"] == "C" else (degrees - 32) * Fraction(5, 9))


def force(text: str) -> float:
    """Read a force, N. Errors: SizeError."""
    return _quantity(text, "force")


def torque(text: str) -> float:
    """Read a torque, N.m. Errors: SizeError."""
    return _quantity(text, "torque")


def stress(text: str) -> float:
    """Read a stress or pressure, MPa. Errors: SizeError."""
    return _quantity(text, "stress")


def pattern(sort: str) -> str:
    """Return a regular expression that every length, angle, mass, force, torque or stress matches; for editors.

    In the common part of ECMA-262 and Python, as JSON Schema has it. What it takes may still be refused when it is
    read: a third of an inch, or 61 minutes.
    """
    number = r"([0-9]{1,9}([ -][0-9]{1,9}/[0-9]{1,4}|/[0-9]{1,4}|\.[0-9]{0,9})?|\.[0-9]{1,9})"
    units = "|".join(unit.replace(".", r"\.") for unit in sorted(_SPELLINGS[sort], key=len, reverse=True))
    forms = [rf"{number}\s*({units})"]
    if sort == "length":
        forms.append(rf"[0-9]{{1,9}} ?('|ft) ?{number} ?(\"|in)")
    if sort == "angle":
        forms.append(r"[0-9]{1,9} ?(°|deg) ?[0-9]{1,2} ?('|min)")
    return rf"^\s*-?({'|'.join(forms)})\s*$"


def _quantity(text: str, sort: str) -> float:
    clean = _cleaned(text, sort)
    pair = _pair(clean, sort)
    if pair is not None:
        return float(pair)
    match = _QUANTITY.fullmatch(clean)
    if match is None:
        raise SizeError(shown(text), f"is no {sort}", f"write it like {_EXAMPLE[sort]}")
    unit = (match["unit"] or "").strip()
    if not unit:
        if sort == "length" and _THREAD_LIKE.fullmatch(clean) and not _WHOLE_AND_FRACTION.fullmatch(clean):
            raise SizeError(shown(text), "is a thread, not a length", "give the unit of a length, such as in or mm")
        raise SizeError(shown(text), f"has no unit, so it is no {sort}", f"write it like {_EXAMPLE[sort]}")
    if _POWER.match(unit):
        raise SizeError(shown(text), "is written with a power of ten, which no rule shows", "write the number in full")
    if unit not in _SPELLINGS[sort]:
        units = ", ".join(_SPELLINGS[sort])
        raise SizeError(shown(text), f"has a unit that is none of a {sort}", f"use one of: {units}")
    name = _SPELLINGS[sort][unit]
    number = _number(match["number"].strip(), fractions=name in ("in", "ft"), text=text)
    value = number * _factor(name, BASE_UNIT[sort])
    return float(-value if match["sign"] else value)


def _pair(clean: str, sort: str) -> Fraction | None:
    """Feet with inches, or degrees with minutes."""
    if sort == "length" and (match := _FEET_AND_INCHES.fullmatch(clean)):
        inches = _number(match["inches"], fractions=True, text=clean)
        value = Fraction(match["feet"]) * _factor("ft", "mm") + inches * _factor("in", "mm")
    elif sort == "angle" and (match := _DEGREES_AND_MINUTES.fullmatch(clean)):
        if int(match["minutes"]) >= 60:
            raise SizeError(shown(clean), "has 60 minutes or more", "carry them over into degrees")
        value = Fraction(match["deg"]) + Fraction(match["minutes"]) * _factor("arc_minute", "deg")
    else:
        return None
    return -value if match["sign"] else value


def _number(written: str, *, fractions: bool, text: str) -> Fraction:
    """Read a decimal, a fraction or a mixed number; `31-13/16` is thirty-one and thirteen sixteenths."""
    if _DECIMAL.fullmatch(written):
        return Fraction(written.rstrip("."))
    match = _WHOLE_AND_FRACTION.fullmatch(written)
    if match is None:
        raise SizeError(shown(text), "has no number we can read", "write a decimal (12.7) or a fraction (31-13/16)")
    if not fractions:
        raise SizeError(shown(text), "is a fraction of a unit that goes by decimals", "write it as a decimal")
    whole, top, bottom = int(match[1] or 0), int(match[2]), int(match[3])
    if bottom not in (2, 4, 8, 16, 32, 64):
        raise SizeError(shown(text), "has a denominator that no rule is divided by",
                        "use halves to 64ths, or a decimal")  # fmt: skip
    if match[1] is not None and top >= bottom:
        raise SizeError(shown(text), "has a fraction of one or more after a whole number", "carry it over")
    return whole + Fraction(top, bottom)


def _cleaned(text: str, sort: str) -> str:
    """Refuse what no size looks like, cheaply and before anything is matched."""
    if len(text) > LONGEST_TEXT:
        raise SizeError(shown(text), f"is longer than {LONGEST_TEXT} characters", f"write a {sort}")
    clean = text.strip()
    if not clean.isascii() and not clean.replace("°", "").isascii():
        raise SizeError(shown(text), "has characters that are not plain ASCII",
                        "use 0 to 9, '-' for minus, '/' in fractions, ' and \" for feet and inches")  # fmt: skip
    if "," in clean:
        raise SizeError(shown(text), "has a comma", "write the decimal point, 12.7, and no thousands separator")
    return clean


def shown(text: str) -> str:
    """Shorten a text for a message and make every character in it printable."""
    return printing(text if len(text) <= 40 else f"{text[:24]}... ({len(text)} characters)")


# Names of threads, fits and slots


@dataclass(frozen=True, slots=True)
class FitName:
    """A nominal size with tolerance classes, such as 25 H7 or 25 H7/g6.

    Attributes:
        nominal: mm.
        hole: class of the hole, such as "H7", or "".
        shaft: class of the shaft, such as "g6", or "".
    """

    nominal: float
    hole: str
    shaft: str


_METRIC_THREAD = re.compile(
    rf"M ?({_DIGITS}(?:\.[0-9]{{1,2}})?)(?: ?[xX] ?([0-9]{{1,2}}(?:\.[0-9]{{1,3}})?))?", re.ASCII
)
_INCH_THREAD = re.compile(
    r"(#[0-9]{1,2}|[0-9](?:-[0-9]{1,2}/[0-9]{1,2})?|[0-9]{1,2}/[0-9]{1,2}) ?- ?([0-9]{1,2})(?: ?(UNC|UNF|UNEF|UN))?",
    re.ASCII | re.IGNORECASE,
)
_FIT = re.compile(
    r"([0-9]{1,4}(?:\.[0-9]{1,6})?) ?(?:mm )?([A-Z]{1,2}[0-9]{1,2})?(?:/? ?([a-z]{1,2}[0-9]{1,2}))?", re.ASCII
)
_SLOT = re.compile(r"(.+?) ?slot", re.ASCII)


def thread_name(text: str) -> str:
    """Bring a thread's name to its usual form: "M12", "M10x1.25", "1/2-13 UNC" or "1/2-13".

    Only the form is judged here; whether such a thread is listed, parts.threads says. Errors: SizeError.
    """
    clean = _cleaned(text, "thread")
    if match := _METRIC_THREAD.fullmatch(clean):
        size, pitch = _short(match[1]), match[2]
        return f"M{size}x{_short(pitch)}" if pitch else f"M{size}"
    if match := _INCH_THREAD.fullmatch(clean):
        return f"{match[1]}-{match[2]} {match[3].upper()}" if match[3] else f"{match[1]}-{match[2]}"
    raise SizeError(shown(text), "is no thread", 'write it like "M12", "M10x1.25", "1/2-13 UNC" or "#10-24 UNC"')


def _short(number: str) -> str:
    whole, _, rest = number.partition(".")
    rest = rest.rstrip("0")
    return f"{int(whole)}.{rest}" if rest else str(int(whole))


def fit_name(text: str) -> FitName:
    """Read a nominal size in mm with ISO 286 classes: "25 H7", "25 g6", "25 H7/g6". Errors: SizeError."""
    match = _FIT.fullmatch(_cleaned(text, "fit"))
    if match is None or not (match[2] or match[3]):
        raise SizeError(shown(text), "is no size with a tolerance class", 'write it like "25 H7" or "25 H7/g6"')
    return FitName(float(match[1]), match[2] or "", match[3] or "")


def slot_width(text: str) -> float:
    """Read the width of a T-slot, mm: a length, or its trade name "5/8 slot" (inches) or "14 slot" (mm).

    Errors: SizeError.
    """
    match = _SLOT.fullmatch(_cleaned(text, "slot width"))
    if match is None:
        return length(text)
    if "/" in match[1] or '"' in match[1] or "in" in match[1]:
        return length(match[1] if not match[1][-1].isdigit() else f"{match[1]} in")
    return length(match[1] if not match[1][-1].isdigit() else f"{match[1]} mm")


# And back, for people


@dataclass(frozen=True, slots=True)
class Rounded:
    """A number written to a step, with what the rounding changed.

    Attributes:
        text: the written size, without unit.
        error: written value less true value, mm.
    """

    text: str
    error: float

    @property
    def exact(self) -> bool:
        """Whether the text says the very value (to a millionth of a mm)."""
        return abs(self.error) < 1e-6


def fraction(mm: float, finest: int = FINEST_FRACTION) -> Rounded:
    """Write a length in inches as a mixed number to the nearest 1/finest inch, ties to even: 808.0375 -> 31-13/16."""
    true = Fraction(mm) / _factor("in", "mm")
    nearest = Fraction(round(true * finest), finest)
    whole, rest = divmod(abs(nearest), 1)
    sign = "-" if nearest < 0 else ""
    shown_parts = [str(part) for part in (whole, rest) if part] or ["0"]
    return Rounded(sign + "-".join(shown_parts), float((nearest - true) * _factor("in", "mm")))


def decimals(value: float, places: int) -> str:
    """Write a number to at most so many decimals, without trailing zeros and never as -0; halves go away from zero."""
    scaled = Fraction(repr(value)) * 10**places
    units = int(abs(scaled) + Fraction(1, 2))
    whole, rest = divmod(units, 10**places)
    tail = f"{rest:0{places}d}".rstrip("0") if places else ""
    sign = "-" if value < 0 and units else ""
    return f"{sign}{whole}.{tail}" if tail else f"{sign}{whole}"


def in_unit(value: float, base: str, unit: str) -> float:
    """Convert from the program's base unit ("mm", "kg", "N", "Nm", "MPa") to another of the same sort."""
    return float(Fraction(value) * _factor(base, unit))


_CUSTOMARY = {
    "mm": ("in", 4),
    "kg": ("lb", 1),
    "N": ("lbf", 0),
    "Nm": ("lbf_ft", 1),
    "MPa": ("ksi", 1),
    "deg": ("deg", 2),
}
_METRIC_PLACES = {"mm": 3, "kg": 2, "N": 0, "Nm": 1, "MPa": 1, "deg": 2}
_SHOWN_UNIT = {"lbf_ft": "lbf.ft", "Nm": "N.m"}


def say(value: float, base: str, unit: str) -> str:
    """Write a figure with its unit for a person who works in unit ("mm" or "in"); base "" is a plain number."""
    if base == "degC":
        return f"{decimals(value * 1.8 + 32.0, 1)} degF" if unit == "in" else f"{decimals(value, 1)} degC"
    if base not in _METRIC_PLACES:
        return f"{decimals(value, 3)} {base}".strip()
    if unit == "in":
        wanted, places = _CUSTOMARY[base]
        value = in_unit(value, base, wanted)
    else:
        wanted, places = base, _METRIC_PLACES[base]
    return f"{decimals(value, places)} {_SHOWN_UNIT.get(wanted, wanted)}"
