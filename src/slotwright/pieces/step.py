"""STEP files (ISO 10303-21, AP214) of pieces and set-ups: named, coloured, in mm, and the same bytes every time.

Left alone, the kernel stamps a file with the hour, numbers the copies in an assembly through the life of the process,
and lists colours in the order of memory addresses. All three are set in the model before it is written; the written
text is not touched.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from io import BytesIO
from typing import TYPE_CHECKING

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.Message import Message
from OCP.STEPCAFControl import STEPCAFControl_Controller, STEPCAFControl_Writer
from OCP.STEPConstruct import STEPConstruct, STEPConstruct_Styles
from OCP.StepRepr import StepRepr_HArray1OfRepresentationItem, StepRepr_NextAssemblyUsageOccurrence
from OCP.StepVisual import StepVisual_ColourRgb, StepVisual_MechanicalDesignGeometricPresentationRepresentation
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFDoc import XCAFDoc_DocumentTool

from slotwright.errors import SlotwrightError
from slotwright.parts.hardware import Hardware
from slotwright.parts.table import Table
from slotwright.pieces.kernel import solids
from slotwright.pieces.piece import Piece
from slotwright.pieces.solid import Item, Solids

if TYPE_CHECKING:
    from slotwright.fixtures.layout import Layout, Place

Colour = tuple[float, float, float]

TABLE_COLOUR: Colour = (0.58, 0.61, 0.58)
"""A scraped cast-iron table; our own choice, red, green, blue from 0 to 1."""

HARDWARE_COLOUR: Colour = (0.27, 0.28, 0.30)
"""Blackened steel, for every bought item; our own choice."""

_SETTINGS = {
    "write.step.schema": 4,  # AP214 as published: every CAD seat of the last twenty years reads it
    "write.surfacecurve.mode": 0,  # planes, cylinders and cones need no curves in parameter space: half the file
    "write.precision.mode": 0,
    "write.step.assembly": 2,
    "write.stepcaf.subshapes.name": 0,
}


class StepError(SlotwrightError, RuntimeError):
    """The kernel could not write a STEP file."""


def piece_step(piece: Piece, solids: Solids | None = None) -> bytes:
    """Write one piece in its own frame as a STEP file.

    Args:
        piece: what to write; the product bears its name and its material's colour.
        solids: solids built so far in this make, or None to build this one anew.

    Raises:
        StepError: the kernel refused.
        SolidError: the piece has no solid.
    """
    document = _Document(solids)
    document.part(piece)
    return document.written(piece.name)


def assembly_step(layout: Layout, title: str, solids: Solids | None = None) -> bytes:
    """Write a whole set-up in the table frame as a STEP file: table, pieces and hardware.

    Equal items are one part, written once and placed as often as the lay-out has them.

    Args:
        layout: what stands where.
        title: name of the top product.
        solids: solids built so far in this make, or None to build them anew.

    Raises:
        StepError, SolidError: as for a piece.
    """
    document = _Document(solids)
    document.assembly(title)
    document.place(layout.table, None)
    for placed in layout.pieces:
        document.place(placed.piece, placed.place)
    for bought in layout.hardware:
        document.place(bought.item, bought.place)
    return document.written(title)


class _Document:
    """A kernel document of named, coloured parts, each held once."""

    def __init__(self, solids: Solids | None) -> None:
        self._solids = Solids() if solids is None else solids
        self._document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
        self._shapes = XCAFDoc_DocumentTool.ShapeTool_s(self._document.Main())
        self._parts: dict[Item, TDF_Label] = {}
        self._copies: dict[Item, int] = {}
        self._top: TDF_Label | None = None

    def part(self, item: Item) -> TDF_Label:
        """Return the label of an item, adding it when it is new."""
        if item not in self._parts:
            label = self._shapes.AddShape(self._solids[item], False)
            _name(label, _product(item))
            self._parts[item] = label
        return self._parts[item]

    def assembly(self, title: str) -> None:
        """Start the assembly that place() fills."""
        self._top = self._shapes.NewShape()
        _name(self._top, title)

    def place(self, item: Item, place: Place | None) -> None:
        """Put a copy of an item into the assembly; None is the origin."""
        self._copies[item] = self._copies.get(item, 0) + 1
        label = self._shapes.AddComponent(self._top, self.part(item), _location(place))
        _name(label, f"{_product(item)} ({self._copies[item]})")

    def written(self, name: str) -> bytes:
        """Return the document as the bytes of a STEP file."""
        stream = BytesIO()
        with _quiet(), _settings():
            self._shapes.UpdateAssemblies()
            writer = STEPCAFControl_Writer()
            _only_names(writer)
            done = writer.Transfer(self._document)
            if done:
                self._paint(writer)
                _number_copies(writer)
                _fill_header(writer, name)
                done = writer.WriteStream(stream) == IFSelect_ReturnStatus.IFSelect_RetDone
        if not done:
            raise StepError(f"{name}: the CAD kernel could not write the STEP file; check the piece's sizes")
        return stream.getvalue()

    def _paint(self, writer: STEPCAFControl_Writer) -> None:
        """Give every solid its colour, in the order the parts were added."""
        session = writer.ChangeWriter().WS()
        finder, styles = session.TransferWriter().FinderProcess(), STEPConstruct_Styles(session)
        for item in self._parts:
            shape, colour = self._solids[item], StepVisual_ColourRgb()
            colour.Init(_text(""), *_colour(item))
            for solid in solids(shape):
                body = STEPConstruct.FindEntity_s(finder, solid)
                style = styles.AddStyle(body, styles.MakeColorPSA(body, colour, None, None, 0.0), None)
                look = StepVisual_MechanicalDesignGeometricPresentationRepresentation()
                items = StepRepr_HArray1OfRepresentationItem(1, 1, style)
                look.Init(_text(""), items, styles.FindContext(shape))
                styles.Model().AddWithRefs(look)


def _product(item: Item) -> str:
    return item.name if isinstance(item, Piece) else item.title


def _colour(item: Item) -> Colour:
    match item:
        case Piece():
            return item.material.colour
        case Table():
            return TABLE_COLOUR
        case Hardware():
            return HARDWARE_COLOUR


def _name(label: TDF_Label, name: str) -> None:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(_encoded(name)))


def _location(place: Place | None) -> TopLoc_Location:
    """Turn a place into the kernel's, quarter turns exactly."""
    if place is None:
        return TopLoc_Location()
    along = replace(place, x=0.0, y=0.0).to_table(1.0, 0.0)
    frame = gp_Ax3(gp_Pnt(place.x, place.y, place.z), gp_Dir(0.0, 0.0, 1.0), gp_Dir(*along, 0.0))
    move = gp_Trsf()
    move.SetTransformation(frame, gp_Ax3())
    return TopLoc_Location(move)


# The kernel's own settings


def _only_names(writer: STEPCAFControl_Writer) -> None:
    """Names are the only attributes the kernel may write of its own accord."""
    writer.SetNameMode(True)
    others = (writer.SetColorMode, writer.SetLayerMode, writer.SetPropsMode, writer.SetDimTolMode)
    for switch in (*others, writer.SetMaterialMode, writer.SetSHUOMode):
        switch(False)


def _number_copies(writer: STEPCAFControl_Writer) -> None:
    """Number the placed copies from 1 in each file."""
    model = writer.ChangeWriter().Model()
    copies = 0
    for number in range(1, model.NbEntities() + 1):
        entity = model.Value(number)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            copies += 1
            entity.SetId(_text(str(copies)))


def _fill_header(writer: STEPCAFControl_Writer, name: str) -> None:
    """Say what the file is, and neither when, where nor by whom it was written."""
    header = APIHeaderSection_MakeHeader(writer.ChangeWriter().Model())
    header.SetName(_text(name))
    header.SetOriginatingSystem(_text("Slotwright"))
    for blank in (header.SetTimeStamp, header.SetAuthorisation):
        blank(_text(""))
    for first in (header.SetAuthorValue, header.SetOrganizationValue):
        first(1, _text(""))


def _text(text: str) -> TCollection_HAsciiString:
    return TCollection_HAsciiString(_encoded(text))


def _encoded(text: str) -> str:
    """Write what is not ASCII as ISO 10303-21 has it: hexadecimal between control directives, UTF-16 or UTF-32.

    Characters that control a terminal become spaces; the kernel would write them as a line's end.
    """
    plain = "".join(c if c >= " " else " " for c in text)
    plain = re.sub("[\x7f-\uffff]+", lambda run: f"\\X2\\{run[0].encode('utf-16-be').hex().upper()}\\X0\\", plain)
    return re.sub("[^\x00-\x7f]+", lambda run: f"\\X4\\{run[0].encode('utf-32-be').hex().upper()}\\X0\\", plain)


@contextmanager
def _settings() -> Iterator[None]:
    """Set what the kernel keeps for the whole process, and put it back as it was."""
    STEPCAFControl_Controller.Init_s()
    numbers = {key: Interface_Static.IVal_s(key) for key in _SETTINGS}
    units = {key: Interface_Static.CVal_s(key) for key in ("xstep.cascade.unit", "write.step.unit")}
    try:
        for key, value in _SETTINGS.items():
            Interface_Static.SetIVal_s(key, value)
        for key in units:
            Interface_Static.SetCVal_s(key, "MM")
        yield
    finally:
        for key, value in numbers.items():
            Interface_Static.SetIVal_s(key, value)
        for key, unit in units.items():
            Interface_Static.SetCVal_s(key, unit)


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep the kernel's messages off the terminal."""
    messenger = Message.DefaultMessenger_s()
    printers = list(messenger.Printers())
    for printer in printers:
        messenger.RemovePrinter(printer)
    try:
        yield
    finally:
        for printer in printers:
            messenger.AddPrinter(printer)
