"""The course of one kit through its event as a chart: temperatures over time, in a look of its own."""
