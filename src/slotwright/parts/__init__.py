"""What exists: standards tables, machine tables, hardware, stock and materials."""
