"""What can be bought: frozen records of parts, the shelf that holds them, layouts and kits."""
