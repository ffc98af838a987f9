"""Records: what may stand in a file, said once; reading, schema and starter text follow from it."""
