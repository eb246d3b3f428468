"""What the customer asks: engine, site, driving, aim, limits and bay, as frozen records."""
