"""Paper: the drawing as data, its style, and what any sheet has: frame, title block, tables, notes, room."""
