"""Answers as terminal text and as JSON, from one set of display facts."""
