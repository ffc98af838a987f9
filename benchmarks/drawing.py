"""A drawing from the features against one by hidden-line projection, and how its time grows with the number of holes.

The other way is what a script with the same libraries would do: project the solid by the kernel's exact hidden-line
algorithm into the same three views, put the edges into a DXF document, and let the drawing library's default PDF
backend print it. It gets the solid ready-made, writes no figures, table or title block and no SVG: all in its favour.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import log

import cadquery as cq
import ezdxf
import matplotlib
import matplotlib.figure
from ezdxf.addons.drawing.frontend import Frontend
from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
from ezdxf.addons.drawing.properties import RenderContext
from OCP.BRepLib import BRepLib
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

from benchmarks.timing import Claim, shortest_in_turn
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.drawings.writers.pdf import pdf_bytes
from slotwright.drawings.writers.svg import svg_bytes
from slotwright.parts.materials import material
from slotwright.parts.threads import thread
from slotwright.pieces.cadquery_solid import cadquery_solid
from slotwright.pieces.features import Counterbore, Hole
from slotwright.pieces.piece import Bar, Piece

matplotlib.use("Agg")
PITCH, WIDTH, THICKNESS = 20.0, 50.0, 25.0  # mm
COUNTS = (64, 128, 256, 512)
DATA = SheetData(title="Guide rails for a paddle gear", content_id="0123456789")
VIEWS = {  # looking direction and the view's X, in the piece frame
    "plan": ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    "front": ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
    "end": ((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
}


def claims() -> Iterator[Claim]:
    """Measure and yield the claims about drawings."""
    piece = bar(64)
    body = cadquery_solid(piece)
    ours, other = shortest_in_turn([partial(drawn, piece), partial(projected, body)], runs=3)
    note = f"DXF, PDF and SVG {ours * 1e3:.0f} ms against {other * 1e3:.0f} ms for DXF and PDF"
    yield Claim("drawing of a 64-hole bar / hidden-line projection and default PDF", ours / other, 0.25, note=note)
    times = shortest_in_turn([partial(drawn, bar(count)) for count in COUNTS], runs=3)
    note = ", ".join(f"{count}: {t * 1e3:.0f} ms" for count, t in zip(COUNTS, times, strict=True))
    yield Claim("growth exponent of a drawing, 64 to 512 holes", log(times[-1] / times[0]) / log(8.0), 1.2, note=note)


def bar(count: int) -> Piece:
    """A bar with so many holes of four sorts in two rows."""
    m8 = thread("M8")
    sorts = (
        Hole(x=0.0, y=0.0, diameter=9.0),
        Hole(x=0.0, y=0.0, diameter=9.0, counterbore=Counterbore(diameter=15.0, depth=9.0)),
        Hole(x=0.0, y=0.0, diameter=m8.tap_drill, thread=m8, depth=18.0, thread_depth=14.0),
        Hole(x=0.0, y=0.0, diameter=8.0, depth=12.0),
    )
    holes = tuple(replace(sorts[n % 4], x=PITCH * (n // 2 + 1), y=15.0 + 20.0 * (n % 2)) for n in range(count))
    blank = Bar(length=PITCH * (count // 2 + 1), width=WIDTH, thickness=THICKNESS)
    return Piece(name="rail", title="Rail", blank=blank, holes=holes, material=material("steel"), stock="50 x 25 flat")


def drawn(piece: Piece) -> int:
    """Compose the sheets and write DXF, PDF and SVG; return the bytes written."""
    look = style("iso", "mm")
    drawing = piece_drawing(piece, DATA, look)
    pictures = [svg_bytes(drawing, look, number) for number in range(len(drawing.sheets))]
    return sum(map(len, [dxf_bytes(drawing, look), pdf_bytes(drawing, look), *pictures]))


def projected(body: cq.Shape) -> int:
    """Project the three views by the kernel, and write DXF and PDF by the drawing library; return the bytes."""
    document = ezdxf.new("R2018")  # type: ignore[attr-defined]  # public, but not marked as exported
    document.layers.add("hidden", linetype="CONTINUOUS")
    model = document.modelspace()
    for number, (toward, right) in enumerate(VIEWS.values()):
        for layer, edges in _projection(body, toward, right).items():
            for edge in edges:
                points = [edge.positionAt(n / 8.0) for n in range(9)] if edge.geomType() != "LINE" else [
                    edge.startPoint(), edge.endPoint()]  # fmt: skip
                places = [(p.x, p.y - number * 3.0 * WIDTH) for p in points]
                model.add_lwpolyline(places, dxfattribs={"layer": layer})
    text = io.StringIO()
    document.write(text)
    return len(text.getvalue()) + _default_pdf(document)


def _projection(
    body: cq.Shape, toward: tuple[float, float, float], right: tuple[float, float, float]
) -> dict[str, list[cq.Edge]]:
    """Visible and hidden edges of a view, in its plane."""
    algorithm = HLRBRep_Algo()
    algorithm.Add(body.wrapped)
    algorithm.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(), gp_Dir(*toward), gp_Dir(*right))))
    algorithm.Update()
    algorithm.Hide()
    shapes = HLRBRep_HLRToShape(algorithm)
    found: dict[str, list[cq.Edge]] = {"0": [], "hidden": []}
    for layer, compounds in (
        ("0", (shapes.VCompound(), shapes.OutLineVCompound())),
        ("hidden", (shapes.HCompound(), shapes.OutLineHCompound())),
    ):
        for compound in compounds:
            if compound is not None and not compound.IsNull():
                BRepLib.BuildCurves3d_s(compound)
                found[layer] += cq.Shape.cast(compound).Edges()
    return found


def _default_pdf(document: ezdxf.document.Drawing) -> int:
    """Print model space by the library's matplotlib backend."""
    figure = matplotlib.figure.Figure()
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    Frontend(RenderContext(document), MatplotlibBackend(axes)).draw_layout(document.modelspace())
    stream = io.BytesIO()
    figure.savefig(stream, format="pdf")
    return len(stream.getvalue())


if __name__ == "__main__":
    for claim in claims():
        print(claim.row(), flush=True)
