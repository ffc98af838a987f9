"""The same demo as a CAD-library user would script it: chained holes, the library's exporters, the default PDF backend.

Holes are cut one after another, views come from hidden-line projection, the DXF file is drawn with ezdxf and turned
into a PDF by ezdxf's Matplotlib backend. It writes the same files for one bar and one table plan, with less on them.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import cadquery as cq
import ezdxf.filemanagement
import matplotlib as mpl
from ezdxf.addons.drawing import matplotlib as backend

IN = 25.4
LENGTH, WIDTH, THICK = 17 * IN, 1.5 * IN, 0.75 * IN
TABLE_HOLES = [9.5 * IN, 12 * IN, 14.5 * IN]
TAPPED = [1 * IN, 2.5 * IN, 4 * IN, 5.5 * IN]
STATIONS = [15 * IN, 27 * IN]
SLOTS = [2 * IN, 4.5 * IN, 7 * IN]


def bar() -> cq.Workplane:
    """The bar, each hole a cut of its own."""
    body = cq.Workplane().box(LENGTH, WIDTH, THICK, centered=False).faces("<Z or >Z").edges().chamfer(IN / 32)
    for xs, diameter in ((TABLE_HOLES, 9 / 16 * IN), (TAPPED, 27 / 64 * IN)):
        for x in xs:
            body = body.faces(">Z").workplane(origin=(0, 0, THICK)).moveTo(x, WIDTH / 2).hole(diameter)
    return body


def set_up(body: cq.Workplane) -> cq.Assembly:
    """Table, bars, T-nuts, studs, washers and nuts."""
    table = cq.Workplane().box(42 * IN, 9 * IN, 3 * IN, centered=False).translate((0, 0, -3 * IN))
    for y in SLOTS:
        for width, top, depth in ((5 / 8, 0.0, 0.56), (35 / 32, 0.56, 0.47)):
            slot = cq.Workplane().box(42 * IN, width * IN, depth * IN, centered=(False, True, False))
            table = table.cut(slot.translate((0, y, -(top + depth) * IN)))
    whole = cq.Assembly(name="set-up").add(table, name="table", color=cq.Color(0.6, 0.6, 0.6))
    nut = (
        cq.Workplane()
        .box(1.03 * IN, 1.03 * IN, 0.42 * IN)
        .faces(">Z")
        .workplane()
        .rect(1.03 * IN, 0.605 * IN)
        .extrude(0.42 * IN)
    )
    nut = nut.faces(">Z").workplane().hole(IN / 2)
    stud = cq.Workplane().circle(IN / 4).extrude(2.5 * IN)
    washer = cq.Workplane().circle(0.625 * IN).circle(0.53 * IN / 2).extrude(0.1 * IN)
    hexagon = cq.Workplane().polygon(6, 0.866 * IN).circle(IN / 4).extrude(0.448 * IN)
    dark = cq.Color(0.3, 0.3, 0.3)
    for bar_number, x in enumerate(STATIONS):
        place = cq.Location((x + WIDTH / 2, -7.5 * IN, 0), (0, 0, 1), 90)
        whole.add(body, name=f"bar{bar_number}", loc=place, color=cq.Color(0.7, 0.7, 0.75))
        for slot_number, y in enumerate(SLOTS):
            for name, part, z in (
                ("nut", nut, -0.8),
                ("stud", stud, -1.0),
                ("washer", washer, 0.75),
                ("hex", hexagon, 0.85),
            ):
                whole.add(
                    part,
                    name=f"{name}{bar_number}{slot_number}",
                    loc=cq.Location((x, y, z * IN)),
                    color=dark,
                )
    return whole


def drawing(
    path: Path, rectangles: list[tuple[float, float, float, float]], circles: list[tuple[float, float, float]]
) -> None:
    """A drawing with outlines, holes and dimensions, and its PDF."""
    document = ezdxf.filemanagement.new("R2018", setup=True)
    space = document.modelspace()
    for x, y, w, h in rectangles:
        space.add_lwpolyline([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], close=True)
    for x, y, r in circles:
        space.add_circle((x, y), r)
        space.add_linear_dim(base=(x, -3), p1=(0, 0), p2=(x, y)).render()
    document.saveas(path)
    backend.qsave(space, str(path.with_suffix(".pdf")))


def main(folder: Path) -> None:
    """Write everything into a folder."""
    mpl.use("pdf")
    body = bar()
    cq.exporters.export(body, str(folder / "plain.step"))
    set_up(body).export(str(folder / "plain-set-up.step"))
    for name, direction in (("plan", (0, 0, 1)), ("front", (0, -1, 0)), ("end", (1, 0, 0))):
        options = {"projectionDir": direction, "showHidden": True}
        cq.exporters.export(body, str(folder / f"plain-{name}.svg"), opt=options)
    holes = [(x / IN, 0.75, 9 / 32) for x in TABLE_HOLES] + [(x / IN, 0.75, 27 / 128) for x in TAPPED]
    drawing(folder / "plain.dxf", [(0, 0, 17, 1.5), (0, -3, 17, 0.75)], holes)
    slots = [(0.0, y / IN - 5 / 16, 42.0, 5 / 8) for y in SLOTS]
    plan = [(x / IN, y / IN, 9 / 32) for x in STATIONS for y in SLOTS]
    drawing(
        folder / "plain-set-up.dxf", [(0, 0, 42, 9), *slots, *((x / IN - 0.75, -7.5, 1.5, 17) for x in STATIONS)], plan
    )
    with (folder / "plain.csv").open("w", newline="") as stream:
        csv.writer(stream).writerows(holes)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
