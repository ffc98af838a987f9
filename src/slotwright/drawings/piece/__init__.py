"""The drawing of a piece: piece_sheet.py is the recipe."""
