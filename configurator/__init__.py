"""Kitwright: complete liquid charge-air cooling kits that join, hold, fit and cool."""

__version__ = "0.1.0"
