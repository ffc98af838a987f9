"""Drawings of every shape the feature model knows: edges, sections and dimensions straight from the features."""
