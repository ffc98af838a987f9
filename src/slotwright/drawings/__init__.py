"""Drawings: views, dimensions, hole tables and sheets, written as DXF, PDF and SVG."""
