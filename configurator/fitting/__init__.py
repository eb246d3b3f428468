"""Does every rigid part go into its zone, and how much room is left round it?"""
