"""The commands, and the one place where errors become messages and exit codes."""
