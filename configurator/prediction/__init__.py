"""What will this kit do on this drive? Carries parts and brief to the formulas."""
