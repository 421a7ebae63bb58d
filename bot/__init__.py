"""Tubtally: a chat assistant for hands-on STEM bins."""
