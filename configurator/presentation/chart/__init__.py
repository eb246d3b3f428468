"""The course of one kit through its drive as a chart: temperatures over time, in a look of its own."""
