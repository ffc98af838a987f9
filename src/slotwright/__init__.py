"""Work-holding pieces for T-slot tables: from a small text file to solids, drawings, hole tables and checks."""

__version__ = "0.1.0"
