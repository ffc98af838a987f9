"""Checks: what is sound, what wants care, what must not go on; each a finding with figure, limit, rule and source."""
