"""Writers: a drawing to the bytes of its DXF, PDF and SVG files."""
