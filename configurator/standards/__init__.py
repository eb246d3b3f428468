"""Threads, bores and hose classes by standard, as data with source and standing."""
