"""In which order kits are offered, and which of them go on the short list."""
