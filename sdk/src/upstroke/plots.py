"""Plots of answers."""
