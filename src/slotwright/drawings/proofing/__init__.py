"""Judge a finished sheet: what stands on it, what is near what, what may not meet."""
