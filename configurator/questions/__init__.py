"""The questions people bring. Start reading here: one call a line."""
