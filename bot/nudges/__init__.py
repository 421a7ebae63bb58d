"""When to speak up, and what is worth saying."""
