"""A kit in its bay for those who build it: one sheet as SVG, and a sketch for the terminal."""
