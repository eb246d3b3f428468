"""Do two ends go together, through what, and do the ratings hold?"""
