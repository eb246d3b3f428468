"""Formulas: numbers in, numbers out, SI; scalars and numpy arrays alike."""
