"""Say a dimension in the tags of a DXF file (R2018); pure text, without any library."""

from __future__ import annotations

from math import radians

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Dimension, DimensionKind, Line, Point
from slotwright.drawings.paper.style import Style
from slotwright.drawings.writers.entities import DIGITS, Space, Tag, at_point, entity, written


def dimension_text(dimension: Dimension, space: Space, *, block: str, dimension_style: str, usual_places: int) -> str:
    """Return the DIMENSION entity.

    Args:
        dimension: its points in the coordinates that `space` takes to the file.
        space: where it stands.
        block: name of the block that shows it.
        dimension_style: name of its dimension style.
        usual_places: decimals that the dimension style writes.
    """
    type_tag, first, further = _definition(dimension, [space.point(point) for point in dimension.points])
    tags: list[Tag] = [(100, "AcDbDimension"), (280, 0), (2, block), *at_point(10, first)]
    tags += [*at_point(11, space.point(dimension.text_at)), (70, type_tag), (71, 5)]
    tags += [(42, _measured(dimension, space.unit)), (1, _override(dimension))]
    turn = _turn_of_text(dimension, space.style)
    if turn is not None:
        tags.append((53, turn))
    tags += [(3, dimension_style), *further]
    if dimension.places != usual_places:
        variable = 179 if dimension.kind is DimensionKind.ANGLE else 271
        tags += [(1001, "ACAD"), (1000, "DSTYLE"), (1002, "{"), (1070, variable), (1070, dimension.places), (1002, "}")]
    return entity("DIMENSION", Line.DIMENSION, space, tags)


def _measured(dimension: Dimension, unit: float) -> float:
    """Return the value as the file keeps it: in its unit, angles in radians (the latter from memory)."""
    if dimension.kind is DimensionKind.ANGLE:
        return round(radians(dimension.value), 12)
    return round(dimension.value / unit, DIGITS)


def _override(dimension: Dimension) -> str:
    """Return the text in DXF's notation; signs that a program adds by itself are left out before a bare value."""
    own = {DimensionKind.DIAMETER: "⌀<>", DimensionKind.RADIUS: "R<>", DimensionKind.ANGLE: "<>°"}.get(dimension.kind)
    return "<>" if dimension.text == own else written(lettering.safe(dimension.text))


def _definition(dimension: Dimension, points: list[Point]) -> tuple[int, Point, list[Tag]]:
    """Return the type, the first definition point and the tags of the kind."""
    placed = 32 | 128  # its block belongs to it alone; its text stands where we put it
    match dimension.kind:
        case DimensionKind.LINEAR:
            first, second, through = points
            feet: list[Tag] = [(100, "AcDbAlignedDimension"), *at_point(13, first), *at_point(14, second)]
            return placed, through, [*feet, (50, dimension.direction), (100, "AcDbRotatedDimension")]
        case DimensionKind.ORDINATE_X | DimensionKind.ORDINATE_Y:
            origin, feature, end = points
            along = 64 if dimension.kind is DimensionKind.ORDINATE_X else 0
            return (
                placed | along | 6,
                origin,
                [(100, "AcDbOrdinateDimension"), *at_point(13, feature), *at_point(14, end)],
            )
        case DimensionKind.DIAMETER:
            centre, near = points
            far = (round(2.0 * centre[0] - near[0], DIGITS) + 0.0, round(2.0 * centre[1] - near[1], DIGITS) + 0.0)
            return placed | 3, far, [(100, "AcDbDiametricDimension"), *at_point(15, near), (40, 0.0)]
        case DimensionKind.RADIUS:
            centre, near = points
            return placed | 4, centre, [(100, "AcDbRadialDimension"), *at_point(15, near), (40, 0.0)]
        case DimensionKind.ANGLE:
            vertex, first, second, through = points
            legs: list[Tag] = [*at_point(13, first), *at_point(14, second), *at_point(15, vertex)]
            return placed | 5, through, [(100, "AcDb3PointAngularDimension"), *legs]


def _turn_of_text(dimension: Dimension, style: Style) -> float | None:
    """Return the text's direction where it is not the one a program chooses by itself."""
    usual = 0.0
    if dimension.kind is DimensionKind.LINEAR and style.text_above:
        usual = (dimension.direction + 90.0 - 1e-9) % 180.0 - 90.0 + 1e-9  # read from below or from the right
    elif dimension.kind is DimensionKind.ORDINATE_X:
        usual = 90.0
    return None if abs(dimension.text_angle - usual) < 1e-6 else round(dimension.text_angle, DIGITS)
