"""The drawing of a set-up: setup_sheet.py is the recipe."""
