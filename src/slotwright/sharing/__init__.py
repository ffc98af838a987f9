"""Design files, the workspace they live in, and what is written for them."""
